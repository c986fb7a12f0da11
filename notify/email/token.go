package email

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base32"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
)

// Tokens bind a reply to the mail that it answers. A token says that whoever
// holds it has seen the mail with this ID that we wrote to this address; it
// stands in our Reply-To and in our Message-ID.
//
// It is `r.<id>.<mac>`: the mac is the first 80 bits of HMAC-SHA256 in lower
// case base32, because local parts lose their case on the way, and an ID is
// made of a-z, 0-9, - and _. How long a token is good for is up to whoever keeps
// the mail that it names.
type Tokens struct {
	local, domain string
	keys          [][]byte
}

const macBytes = 10

var lower32 = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// NewTokens makes tokens for the mailbox that replies go to. The first key
// signs, all keys are good: to change keys, put the new one first and drop the
// old one when the last mail that it signed no longer matters. A key has at
// least 16 bytes.
func NewTokens(mailbox string, keys ...[]byte) (*Tokens, error) {
	a := bare(mailbox)
	if a == "" {
		return nil, fmt.Errorf("reply address %q: want a mail address such as farm@example.org", mailbox)
	}
	if len(keys) == 0 {
		return nil, errors.New("reply tokens: no key; put at least 16 random bytes in the key file")
	}
	t := &Tokens{}
	for i, k := range keys {
		if len(k) < 16 {
			return nil, fmt.Errorf("reply tokens: key %d has %d bytes; want at least 16 random ones", i+1, len(k))
		}
		t.keys = append(t.keys, append([]byte(nil), k...))
	}
	at := strings.LastIndexByte(a, '@')
	t.local, t.domain = a[:at], a[at+1:]
	return t, nil
}

// ReplyTo is the address to answer the mail with this ID to this address. It
// is the bare mailbox where the ID is too long for a local part of 64 octets;
// then the Message-ID alone carries the token.
func (t *Tokens) ReplyTo(id, address string) string {
	local := t.local + "+" + t.token(id, address)
	if len(local) > 64 { // RFC 5321 4.5.3.1.1
		local = t.local
	}
	return local + "@" + t.domain
}

// MessageID is the Message-ID, without brackets, of the mail with this ID to
// this address.
func (t *Tokens) MessageID(id, address string) string {
	return t.token(id, address) + "@" + t.domain
}

// Open finds the token in an address or Message-ID and returns the ID it
// speaks of, where it was made for a mail to this address.
func (t *Tokens) Open(s, address string) (id string, ok bool) {
	id, mac, ok := cutToken(s)
	if !ok {
		return "", false
	}
	good := false
	for _, k := range t.keys { // all of them, whichever fits: the time taken says nothing
		good = hmac.Equal(mac, mac10(k, id, address)) || good
	}
	if !good {
		return "", false
	}
	return id, true
}

// openAny opens the first token in these places that was made for the address.
func (t *Tokens) openAny(places []string, address string) (id string, ok bool) {
	for _, p := range places {
		if id, ok = t.Open(p, address); ok {
			return id, true
		}
	}
	return "", false
}

// own reports whether the address is our mailbox, with or without a token.
func (t *Tokens) own(address string) bool {
	at := strings.LastIndexByte(address, '@')
	if at < 0 || !strings.EqualFold(address[at+1:], t.domain) {
		return false
	}
	local, _, _ := strings.Cut(strings.ToLower(address[:at]), "+")
	want, _, _ := strings.Cut(t.local, "+")
	return local == want
}

func (t *Tokens) token(id, address string) string {
	return "r." + id + "." + lower32.EncodeToString(mac10(t.keys[0], id, address))
}

// cutToken takes `r.<id>.<mac>` from local+TOKEN@domain or TOKEN@domain.
func cutToken(s string) (id string, mac []byte, ok bool) {
	s = strings.ToLower(strings.Trim(strings.TrimSpace(s), "<>"))
	at := strings.LastIndexByte(s, '@')
	if at < 0 {
		return "", nil, false
	}
	s = s[:at]
	f := strings.Split(s[strings.LastIndexByte(s, '+')+1:], ".")
	if len(f) != 3 || f[0] != "r" || f[1] == "" {
		return "", nil, false
	}
	mac, err := lower32.DecodeString(f[2])
	return f[1], mac, err == nil && len(mac) == macBytes
}

// mac10 covers each value with its length, so that no two pairs read the same.
func mac10(key []byte, id, address string) []byte {
	h := hmac.New(sha256.New, key)
	for _, s := range []string{"reply", id, strings.ToLower(address)} {
		var n [4]byte
		binary.BigEndian.PutUint32(n[:], uint32(len(s)))
		h.Write(n[:])
		h.Write([]byte(s))
	}
	return h.Sum(nil)[:macBytes]
}
