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

	"stubbled/notify/terms"
)

// overBody checks signatures over a time stamp and the body, by HMAC-SHA256 or
// Ed25519.
type overBody struct {
	l    terms.Layout
	keys []key
}

// HMACOverBody takes the secrets of HMAC-SHA256; several while they are changed.
func HMACOverBody(l terms.Layout, secrets ...[]byte) (Scheme, error) {
	s := &overBody{l: l}
	for _, secret := range secrets {
		if len(secret) > 0 {
			s.keys = append(s.keys, secretKey(sha256.New, secret))
		}
	}
	if len(s.keys) == 0 || len(s.keys) < len(secrets) {
		return nil, errors.New("the webhook has no secret")
	}
	return s.complete(), nil
}

// Ed25519OverBody takes the sender's public keys in base64.
func Ed25519OverBody(l terms.Layout, keys ...string) (Scheme, error) {
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
	return s.complete(), nil
}

// complete fills in what the farm file may leave out.
func (s *overBody) complete() Scheme {
	s.l.StampField = cmp.Or(s.l.StampField, "t")
	s.l.SignField = cmp.Or(s.l.SignField, "v1")
	s.l.Signed = cmp.Or(s.l.Signed, "{timestamp}.{body}")
	return s
}

// Verify accepts a fresh request where any listed signature fits.
func (s *overBody) Verify(r Request, now time.Time) error {
	stamp, texts, err := s.read(r)
	if err != nil {
		return err
	}
	if err := fresh(stamp, now); err != nil {
		return err
	}
	nonce := ""
	if s.l.Nonce != "" {
		if nonce, err = one(r.Header, s.l.Nonce); err != nil {
			return err
		}
	}
	var got [][]byte
	for _, text := range texts {
		if raw, err := s.decode(text); err == nil {
			got = append(got, raw)
		}
	}
	if !anyFits(s.keys, s.data(r, stamp, nonce), got...) {
		return ErrWrong
	}
	return nil
}

// read finds the stamp and the signatures in the headers.
func (s *overBody) read(r Request) (stamp string, signatures []string, err error) {
	value, err := one(r.Header, s.l.Header)
	if err != nil {
		return "", nil, err
	}
	if s.l.Stamp != "" {
		stamp, err = one(r.Header, s.l.Stamp)
		return stamp, []string{value}, err
	}
	parts, err := listed(value, ",")
	if err != nil {
		return "", nil, err
	}
	for _, part := range parts {
		switch name, v, _ := strings.Cut(strings.TrimSpace(part), "="); {
		case name == s.l.StampField && stamp != "":
			return "", nil, fmt.Errorf("%w: two time stamps", ErrUnclear)
		case name == s.l.StampField:
			stamp = v
		case name == s.l.SignField:
			signatures = append(signatures, v)
		}
	}
	if stamp == "" || len(signatures) == 0 {
		return "", nil, fmt.Errorf("%w: the header %s lacks %s= or %s=", ErrMissing, s.l.Header, s.l.StampField, s.l.SignField)
	}
	return stamp, signatures, nil
}

func (s *overBody) decode(text string) ([]byte, error) {
	if s.l.Encoding == "base64" {
		return base64.StdEncoding.Strict().DecodeString(text)
	}
	if strings.ToLower(text) != text {
		return nil, hex.InvalidByteError('A')
	}
	return hex.DecodeString(text)
}

// data is what was signed; the body is put in last, so that nothing in it is
// taken for one of the names.
func (s *overBody) data(r Request, stamp, nonce string) []byte {
	before, after, _ := strings.Cut(s.l.Signed, "{body}")
	names := strings.NewReplacer("{timestamp}", stamp, "{nonce}", nonce, "{method}", r.Method, "{url}", r.full())
	out := append([]byte(names.Replace(before)), r.Body...)
	return append(out, names.Replace(after)...)
}
