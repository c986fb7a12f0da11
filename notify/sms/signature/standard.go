package signature

import (
	"crypto/ed25519"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"
	"time"
)

// Standard is the Standard Webhooks specification, versions v1 (HMAC-SHA256)
// and v1a (Ed25519): the headers webhook-id, webhook-timestamp and
// webhook-signature over id.timestamp.body.
type Standard struct {
	secrets [][]byte
	keys    []ed25519.PublicKey
}

// NewStandard reads secrets (whsec_... or plain base64) and public keys
// (whpk_...); several while they are being changed.
func NewStandard(secrets ...string) (*Standard, error) {
	s := &Standard{}
	for _, text := range secrets {
		text = strings.TrimSpace(text)
		if key, ok := strings.CutPrefix(text, "whpk_"); ok {
			raw, err := base64.StdEncoding.DecodeString(key)
			if err != nil || len(raw) != ed25519.PublicKeySize {
				return nil, errors.New("the webhook's public key is not whpk_ and 32 octets in base64: copy it again, whole")
			}
			s.keys = append(s.keys, raw)
			continue
		}
		if strings.HasPrefix(text, "whsk_") {
			return nil, errors.New("that is the sender's own private key (whsk_): it must be made anew; ours begins with whsec_ or whpk_")
		}
		raw, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(text, "whsec_"))
		if err != nil || len(raw) < 16 {
			return nil, errors.New("the webhook's secret is not whsec_ and at least 16 octets in base64: copy it again, whole")
		}
		s.secrets = append(s.secrets, raw)
	}
	if len(s.secrets)+len(s.keys) == 0 {
		return nil, errors.New("the webhook has no secret")
	}
	return s, nil
}

// Verify accepts a request where any listed signature fits any of the keys.
func (s *Standard) Verify(r Request, now time.Time) (string, error) {
	id, err := one(r.Header, "webhook-id")
	if err != nil {
		return "", err
	}
	stamp, err := one(r.Header, "webhook-timestamp")
	if err != nil {
		return "", err
	}
	list, err := one(r.Header, "webhook-signature")
	if err != nil {
		return "", err
	}
	if len(id) > 256 || strings.Contains(id, ".") {
		return "", fmt.Errorf("%w: its id holds a dot or is too long", ErrUnclear)
	}
	if err := fresh(stamp, Tolerance, now); err != nil {
		return "", err
	}
	signatures, err := listed(list, " ")
	if err != nil {
		return "", err
	}
	if !s.fits(append([]byte(id+"."+stamp+"."), r.Body...), signatures) {
		return "", ErrWrong
	}
	return id, nil
}

func (s *Standard) fits(data []byte, signatures []string) bool {
	ok := false
	for _, one := range signatures {
		version, text, _ := strings.Cut(one, ",")
		raw, err := base64.StdEncoding.Strict().DecodeString(text)
		if err != nil {
			continue
		}
		switch version {
		case "v1":
			for _, secret := range s.secrets {
				mac := hmac.New(sha256.New, secret)
				mac.Write(data)
				ok = hmac.Equal(mac.Sum(nil), raw) || ok
			}
		case "v1a":
			for _, key := range s.keys {
				ok = len(raw) == ed25519.SignatureSize && ed25519.Verify(key, data, raw) || ok
			}
		}
	}
	return ok
}
