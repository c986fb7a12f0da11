package email

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var (
	oldKey = []byte("the key of last year, 2025, long")
	newKey = []byte("the key of this year, 2026, long")
)

func tokensWith(t *testing.T, keys ...[]byte) *Tokens {
	t.Helper()
	k, err := NewTokens("Farm@Example.org", keys...)
	must(t, err)
	return k
}

func TestTokensBindAnswerAndAddress(t *testing.T) {
	k := tokensWith(t, newKey)
	reply := k.ReplyTo("o-17", "ana@example.org")
	for _, c := range []struct {
		name, s, address string
		ok               bool
	}{
		{"the address as we wrote it", reply, "ana@example.org", true},
		{"its case lost on the way", strings.ToUpper(reply), "ANA@example.org", true},
		{"the Message-ID", "<" + k.MessageID("o-17", "ana@example.org") + ">", "ana@example.org", true},
		{"another person's address", reply, "luis@example.org", false},
		{"another ID", strings.Replace(reply, "o-17", "o-18", 1), "ana@example.org", false},
		{"no token", "farm@example.org", "ana@example.org", false},
		{"a mac cut short", "farm+r.o-17.aaaa@example.org", "ana@example.org", false},
		{"a mac of nothing", "farm+r.o-17.@example.org", "ana@example.org", false},
		{"no address at all", "", "ana@example.org", false},
	} {
		id, ok := k.Open(c.s, c.address)
		if ok != c.ok || ok && id != "o-17" {
			t.Errorf("%s: got %q %t", c.name, id, ok)
		}
	}
}

func TestKeysAreChangedWithoutLosingAnswers(t *testing.T) {
	before, during, after := tokensWith(t, oldKey), tokensWith(t, newKey, oldKey), tokensWith(t, newKey)
	if _, ok := during.Open(before.ReplyTo("o-1", "ana@example.org"), "ana@example.org"); !ok {
		t.Error("an old token is no good while both keys are")
	}
	if _, ok := after.Open(during.ReplyTo("o-1", "ana@example.org"), "ana@example.org"); !ok {
		t.Error("the first key did not sign")
	}
	if _, ok := after.Open(before.ReplyTo("o-1", "ana@example.org"), "ana@example.org"); ok {
		t.Error("a dropped key still opens")
	}
}

func TestAnIDComesBackAndNoFlippedBitDoes(t *testing.T) {
	k := tokensWith(t, newKey, oldKey)
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.StringMatching(`[a-z0-9_-]{1,60}`).Draw(t, "id")
		for _, s := range []string{k.MessageID(id, "ana@example.org"), k.ReplyTo(id, "ana@example.org")} {
			local, _, _ := strings.Cut(s, "@")
			if s == "farm@example.org" { // too long for a local part
				continue
			}
			if strings.Contains(s, "+") && len(local) > 64 {
				t.Fatalf("local part of %d octets", len(local))
			}
			if got, ok := k.Open(s, "ana@example.org"); !ok || got != id {
				t.Fatalf("%q opens to %q %t, want %q", s, got, ok, id)
			}
			i := len(local) - 1 - rapid.IntRange(0, 15).Draw(t, "place")
			flipped := s[:i] + other(s[i]) + s[i+1:]
			if _, ok := k.Open(flipped, "ana@example.org"); ok {
				t.Fatalf("%q opens, made from %q", flipped, s)
			}
		}
	})
}

// other is another letter of base32.
func other(b byte) string {
	if b == 'a' {
		return "b"
	}
	return "a"
}

func TestKeysThatAreNone(t *testing.T) {
	if _, err := NewTokens("farm@example.org"); err == nil {
		t.Error("no key passes")
	}
	if _, err := NewTokens("farm@example.org", []byte("short")); err == nil {
		t.Error("a short key passes")
	}
	if _, err := NewTokens("farm", newKey); err == nil {
		t.Error("a mailbox that is none passes")
	}
}

func TestShortenedAddresses(t *testing.T) {
	for in, want := range map[string]string{
		"ana@example.org": "a***@example.org", "ñandú@example.org": "ñ***@example.org", "nobody": "***", "": "***",
	} {
		if got := Short(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
	if got := told("550 <ana@example.org>: no\r\nBcc: luis@example.org"); got != "550 <a***@example.org>: no Bcc: l***@example.org" {
		t.Errorf("got %q", got)
	}
}
