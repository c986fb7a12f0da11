package signature

import (
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"
	"time"
)

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
func (s *standardWebhooks) Verify(r Request, now time.Time) (string, error) {
	var said [3]string
	for i, name := range []string{"webhook-id", "webhook-timestamp", "webhook-signature"} {
		var err error
		if said[i], err = one(r.Header, name); err != nil {
			return "", err
		}
	}
	id, stamp, list := said[0], said[1], said[2]
	if len(id) > 256 || strings.Contains(id, ".") {
		return "", fmt.Errorf("%w: its id holds a dot or is too long", ErrUnclear)
	}
	if err := fresh(stamp, now); err != nil {
		return "", err
	}
	signatures, err := listed(list, " ")
	if err != nil {
		return "", err
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
		return "", ErrWrong
	}
	return id, nil
}
