package signature

import (
	"cmp"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"
)

// Layout says how a sender that signs a time stamp together with the body
// does it. The zero values are the commonest way: a header 't=<unix>,v1=<hex>'
// over '<t>.<body>'.
type Layout struct {
	Header string // of the signature
	// Stamp is a header of its own for the time stamp; empty: the signature's
	// header holds fields such as t=..., v1=...
	Stamp string
	// Nonce is a header that is part of what is signed; empty: none.
	Nonce      string
	StampField string // "t"
	SignField  string // "v1"
	// Signed is what is signed: {timestamp}, {body}, {nonce}, {method} and
	// {url} stand for what they name. "{timestamp}.{body}".
	Signed   string
	Encoding string // hex or base64; hex
}

// overBody checks such signatures, by HMAC-SHA256 or Ed25519.
type overBody struct {
	l    Layout
	keys []key
}

// HMACOverBody takes the secrets of HMAC-SHA256; several while they are changed.
func HMACOverBody(l Layout, secrets ...[]byte) (Scheme, error) {
	s := &overBody{l: l}
	for _, secret := range secrets {
		if len(secret) > 0 {
			s.keys = append(s.keys, secretKey(sha256.New, secret))
		}
	}
	if len(s.keys) == 0 || len(s.keys) < len(secrets) {
		return nil, errors.New("the webhook has no secret")
	}
	return s, s.l.complete()
}

// Ed25519OverBody takes the sender's public keys in base64.
func Ed25519OverBody(l Layout, keys ...string) (Scheme, error) {
	s := &overBody{l: l}
	for _, text := range keys {
		k, err := publicKey(strings.TrimSpace(text), "32 octets")
		if err != nil {
			return nil, err
		}
		s.keys = append(s.keys, k)
	}
	if len(s.keys) == 0 {
		return nil, errors.New("the webhook has no public key")
	}
	return s, s.l.complete()
}

func (l *Layout) complete() error {
	l.StampField = cmp.Or(l.StampField, "t")
	l.SignField = cmp.Or(l.SignField, "v1")
	l.Signed = cmp.Or(l.Signed, "{timestamp}.{body}")
	switch {
	case l.Header == "":
		return errors.New("the webhook's signature needs the name of its header")
	case strings.Count(l.Signed, "{body}") != 1 || !strings.Contains(l.Signed, "{timestamp}"):
		return fmt.Errorf("the webhook's signed text is %q: it must name {timestamp}, and {body} once", l.Signed)
	case l.Nonce == "" && strings.Contains(l.Signed, "{nonce}"):
		return errors.New("the webhook signs a nonce, but the nonce's header is not named")
	case l.Encoding != "" && l.Encoding != "hex" && l.Encoding != "base64":
		return fmt.Errorf("the webhook's signature is in %q: want hex or base64", l.Encoding)
	}
	return nil
}

// Verify accepts a fresh request where any listed signature fits.
func (s *overBody) Verify(r Request, now time.Time) (string, error) {
	stamp, texts, err := s.l.read(r)
	if err != nil {
		return "", err
	}
	if err := fresh(stamp, now); err != nil {
		return "", err
	}
	nonce := ""
	if s.l.Nonce != "" {
		if nonce, err = one(r.Header, s.l.Nonce); err != nil {
			return "", err
		}
	}
	var got [][]byte
	for _, text := range texts {
		if raw, err := s.l.decode(text); err == nil {
			got = append(got, raw)
		}
	}
	if !anyFits(s.keys, s.l.data(r, stamp, nonce), got...) {
		return "", ErrWrong
	}
	return stamp + "|" + texts[0], nil
}

// read finds the stamp and the signatures in the headers.
func (l Layout) read(r Request) (stamp string, signatures []string, err error) {
	value, err := one(r.Header, l.Header)
	if err != nil {
		return "", nil, err
	}
	if l.Stamp != "" {
		stamp, err = one(r.Header, l.Stamp)
		return stamp, []string{value}, err
	}
	parts, err := listed(value, ",")
	if err != nil {
		return "", nil, err
	}
	for _, part := range parts {
		name, v, _ := strings.Cut(strings.TrimSpace(part), "=")
		switch {
		case name == l.StampField && stamp != "":
			return "", nil, fmt.Errorf("%w: two time stamps", ErrUnclear)
		case name == l.StampField:
			stamp = v
		case name == l.SignField:
			signatures = append(signatures, v)
		}
	}
	if stamp == "" || len(signatures) == 0 {
		return "", nil, fmt.Errorf("%w: the header %s lacks %s= or %s=", ErrMissing, l.Header, l.StampField, l.SignField)
	}
	return stamp, signatures, nil
}

func (l Layout) decode(text string) ([]byte, error) {
	if l.Encoding == "base64" {
		return base64.StdEncoding.Strict().DecodeString(text)
	}
	if strings.ToLower(text) != text {
		return nil, hex.InvalidByteError('A')
	}
	return hex.DecodeString(text)
}

// data is what was signed; the body is put in last, so that nothing in it is
// taken for one of the names.
func (l Layout) data(r Request, stamp, nonce string) []byte {
	before, after, _ := strings.Cut(l.Signed, "{body}")
	names := strings.NewReplacer("{timestamp}", stamp, "{nonce}", nonce, "{method}", r.Method, "{url}", r.full())
	out := append([]byte(names.Replace(before)), r.Body...)
	return append(out, names.Replace(after)...)
}
