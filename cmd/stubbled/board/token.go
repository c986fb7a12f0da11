package board

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"sync"
	"time"
)

// tokens are those of the form, each good once. Showing a page keeps nothing: a
// token proves itself, and only those used are remembered.
type tokens struct {
	key  [32]byte
	mu   sync.Mutex
	used map[string]time.Time
}

// tokenFor is how long a page may lie open before its form is too old.
const tokenFor = 12 * time.Hour

func newTokens() *tokens {
	t := &tokens{used: map[string]time.Time{}}
	_, _ = rand.Read(t.key[:]) // never fails
	return t
}

// size is the moment and the chance of a token, before its proof.
const size = 8 + 16

func (t *tokens) fresh(now time.Time) string {
	b := make([]byte, size, size+sha256.Size)
	binary.BigEndian.PutUint64(b, uint64(now.Unix()))
	_, _ = rand.Read(b[8:])
	return base64.RawURLEncoding.EncodeToString(append(b, t.proof(b)...))
}

func (t *tokens) proof(b []byte) []byte {
	mac := hmac.New(sha256.New, t.key[:])
	mac.Write(b)
	return mac.Sum(nil)
}

// take reports whether a token is ours, fresh and not used; it is used now.
func (t *tokens) take(token string, now time.Time) bool {
	b, err := base64.RawURLEncoding.DecodeString(token)
	if err != nil || len(b) != size+sha256.Size || !hmac.Equal(b[size:], t.proof(b[:size])) {
		return false
	}
	made := time.Unix(int64(binary.BigEndian.Uint64(b)), 0)
	if age := now.Sub(made); age < -time.Minute || age > tokenFor {
		return false
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	for old, at := range t.used {
		if now.Sub(at) > tokenFor {
			delete(t.used, old)
		}
	}
	name := string(b[:size])
	if _, twice := t.used[name]; twice {
		return false
	}
	t.used[name] = made
	return true
}

// pace bounds how much is typed.
type pace struct {
	mu   sync.Mutex
	last []time.Time
}

// mostTyped is how many texts a minute the board takes.
const mostTyped = 20

func (p *pace) allows(now time.Time) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	for len(p.last) > 0 && now.Sub(p.last[0]) > time.Minute {
		p.last = p.last[1:]
	}
	if len(p.last) >= mostTyped {
		return false
	}
	p.last = append(p.last, now)
	return true
}
