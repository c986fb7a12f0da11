// Package signature is in charge of one question: did the one who knows the
// secret send this request, just now? It knows the published ways of signing
// webhooks.
//
// It is pure: the request's bytes and the time are passed in. It compares in
// constant time, and no error of it holds a signature, a body or a secret.
package signature

import (
	"crypto/ed25519"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"hash"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// A Request is what was received, before anything in it is believed.
type Request struct {
	Method string
	URL    string // as the sender calls it: configured, never from the Host header
	Query  string // raw, as received
	Header http.Header
	Body   []byte // as received
}

// full is the address with its query.
func (r Request) full() string {
	if r.Query == "" {
		return r.URL
	}
	return r.URL + "?" + r.Query
}

// A Scheme checks requests.
type Scheme interface {
	// Verify says what is wrong with a request. A repetition within the Tolerance is
	// not: whoever takes it knows it by what it brings.
	Verify(r Request, now time.Time) error
}

// What is wrong with a request.
var (
	ErrMissing = errors.New("the request is not signed")
	ErrStale   = errors.New("the request is too old, or this machine's clock is wrong")
	ErrWrong   = errors.New("the signature does not fit: it is forged, or the secret is wrong")
	ErrUnclear = errors.New("the request can be read in two ways")
)

// Tolerance is how far a sender's clock may be from ours.
const Tolerance = 5 * time.Minute

// fresh reads a stamp in unix seconds.
func fresh(stamp string, now time.Time) error {
	seconds, err := strconv.ParseInt(stamp, 10, 64)
	if err != nil || seconds < 0 || seconds > 1<<40 {
		return fmt.Errorf("%w: its time stamp is no number of seconds", ErrMissing)
	}
	if now.Sub(time.Unix(seconds, 0)).Abs() > Tolerance {
		return ErrStale
	}
	return nil
}

// one gives the only value of a header.
func one(h http.Header, name string) (string, error) {
	values := h.Values(name)
	switch {
	case len(values) == 0 || values[0] == "":
		return "", fmt.Errorf("%w: the header %s is missing", ErrMissing, name)
	case len(values) > 1:
		return "", fmt.Errorf("%w: the header %s comes %d times", ErrUnclear, name, len(values))
	}
	return values[0], nil
}

// A key tells whether a signature is its own, in constant time.
type key func(data, signature []byte) bool

func secretKey(h func() hash.Hash, secret []byte) key {
	return func(data, signature []byte) bool {
		mac := hmac.New(h, secret)
		mac.Write(data)
		return hmac.Equal(mac.Sum(nil), signature)
	}
}

// publicKey reads an Ed25519 key in base64.
func publicKey(text, want string) (key, error) {
	raw, err := base64.StdEncoding.DecodeString(text)
	if err != nil || len(raw) != ed25519.PublicKeySize {
		return nil, fmt.Errorf("the webhook's public key is not %s in base64: copy it again, whole", want)
	}
	return func(data, signature []byte) bool {
		return len(signature) == ed25519.SignatureSize && ed25519.Verify(raw, data, signature)
	}, nil
}

// anyFits tries each signature with each key.
func anyFits(keys []key, data []byte, signatures ...[]byte) bool {
	ok := false
	for _, k := range keys {
		for _, s := range signatures {
			ok = k(data, s) || ok
		}
	}
	return ok
}

// maxListed bounds the signatures that one request may list.
const maxListed = 16

func listed(s, separator string) ([]string, error) {
	parts := strings.Split(s, separator)
	if len(parts) > maxListed {
		return nil, fmt.Errorf("%w: it lists more than %d signatures", ErrUnclear, maxListed)
	}
	return parts, nil
}

// standardWebhooks is the Standard Webhooks specification, versions v1
// (HMAC-SHA256) and v1a (Ed25519): the headers webhook-id, webhook-timestamp
// and webhook-signature over id.timestamp.body.
type standardWebhooks struct {
	keys map[string][]key // by the version of a signature
}

// StandardWebhooks reads secrets (whsec_... or plain base64) and public keys
// (whpk_...); several while they are being changed.
func StandardWebhooks(secrets ...string) (Scheme, error) {
	s := &standardWebhooks{keys: map[string][]key{}}
	for _, text := range secrets {
		text = strings.TrimSpace(text)
		if text, ok := strings.CutPrefix(text, "whpk_"); ok {
			k, err := publicKey(text, "whpk_ and 32 octets")
			if err != nil {
				return nil, err
			}
			s.keys["v1a"] = append(s.keys["v1a"], k)
			continue
		}
		if strings.HasPrefix(text, "whsk_") {
			return nil, errors.New("that is the sender's own private key (whsk_): it must be made anew; ours begins with whsec_ or whpk_")
		}
		raw, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(text, "whsec_"))
		if err != nil || len(raw) < 16 {
			return nil, errors.New("the webhook's secret is not whsec_ and at least 16 octets in base64: copy it again, whole")
		}
		s.keys["v1"] = append(s.keys["v1"], secretKey(sha256.New, raw))
	}
	if len(s.keys) == 0 {
		return nil, errors.New("the webhook has no secret")
	}
	return s, nil
}

// Verify accepts a request where any listed signature fits any of the keys.
func (s *standardWebhooks) Verify(r Request, now time.Time) error {
	var said [3]string
	for i, name := range []string{"webhook-id", "webhook-timestamp", "webhook-signature"} {
		var err error
		if said[i], err = one(r.Header, name); err != nil {
			return err
		}
	}
	id, stamp, list := said[0], said[1], said[2]
	if len(id) > 256 || strings.Contains(id, ".") {
		return fmt.Errorf("%w: its id holds a dot or is too long", ErrUnclear)
	}
	if err := fresh(stamp, now); err != nil {
		return err
	}
	signatures, err := listed(list, " ")
	if err != nil {
		return err
	}
	data := append([]byte(id+"."+stamp+"."), r.Body...)
	ok := false
	for _, one := range signatures {
		version, text, _ := strings.Cut(one, ",")
		if raw, err := base64.StdEncoding.Strict().DecodeString(text); err == nil {
			ok = anyFits(s.keys[version], data, raw) || ok
		}
	}
	if !ok {
		return ErrWrong
	}
	return nil
}
