package signature

import (
	"crypto/hmac"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"maps"
	"mime"
	"net/url"
	"slices"
	"strings"
	"time"
)

// overURL signs the full URL as the sender calls it, and behind it each
// parameter of a form, sorted by name: name and value with nothing between.
// A body that is no form is bound by its SHA-256 in hex, which some parameter of
// the query holds.
//
// It has no time stamp: a repetition is known by the message's own id alone.
type overURL struct {
	header string
	key    key
}

// HMACOverURL takes the key, the signature's header, and the hash: sha1 (the
// usual one) or sha256. The hash is never taken from the request.
func HMACOverURL(key []byte, header, hashName string) (Scheme, error) {
	h, ok := map[string]func() hash.Hash{"": sha1.New, "sha1": sha1.New, "sha256": sha256.New}[hashName]
	if !ok {
		return nil, fmt.Errorf("the webhook's hash is %q: want sha1 or sha256", hashName)
	}
	if len(key) == 0 || header == "" {
		return nil, errors.New("the webhook's signature needs a secret and the name of its header")
	}
	return &overURL{header, secretKey(h, key)}, nil
}

// Verify tries the URL with and without the port that its scheme implies,
// since senders do not agree on it.
func (p *overURL) Verify(r Request, _ time.Time) error {
	text, err := one(r.Header, p.header)
	if err != nil {
		return err
	}
	got, err := base64.StdEncoding.Strict().DecodeString(text)
	if err != nil {
		return ErrWrong
	}
	parameters, err := p.parameters(r)
	if err != nil {
		return err
	}
	ok := false
	for _, u := range withAndWithoutPort(r.full()) {
		ok = p.key([]byte(u+parameters), got) || ok
	}
	if !ok {
		return ErrWrong
	}
	return nil
}

// parameters is what stands behind the URL.
func (p *overURL) parameters(r Request) (string, error) {
	if kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); kind != "application/x-www-form-urlencoded" {
		return "", bodyHash(r)
	}
	form, err := url.ParseQuery(string(r.Body))
	if err != nil {
		return "", fmt.Errorf("%w: its form is broken", ErrUnclear)
	}
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(form)) {
		if len(form[name]) > 1 {
			return "", fmt.Errorf("%w: a parameter comes twice", ErrUnclear)
		}
		b.WriteString(name + form[name][0])
	}
	return b.String(), nil
}

// bodyHash looks in the query, which is signed, for the hash of a body.
func bodyHash(r Request) error {
	query, err := url.ParseQuery(r.Query)
	if err != nil {
		return fmt.Errorf("%w: its query is broken", ErrUnclear)
	}
	sum := sha256.Sum256(r.Body)
	found := fmt.Errorf("%w: its body is no form, and no parameter of its URL holds a SHA-256", ErrMissing)
	for _, values := range query {
		for _, v := range values {
			if hash, err := hex.DecodeString(v); err != nil || len(hash) != len(sum) {
				continue
			} else if hmac.Equal(sum[:], hash) {
				return nil
			}
			found = ErrWrong
		}
	}
	return found
}

// withAndWithoutPort gives a URL as it is, and with its scheme's own port
// added or taken off.
func withAndWithoutPort(full string) []string {
	u, err := url.Parse(full)
	if err != nil {
		return []string{full}
	}
	port := map[string]string{"https": ":443", "http": ":80"}[u.Scheme]
	other := u.Host + port
	if u.Port() != "" {
		other = strings.TrimSuffix(u.Host, port)
	}
	return []string{full, strings.Replace(full, "//"+u.Host, "//"+other, 1)}
}
