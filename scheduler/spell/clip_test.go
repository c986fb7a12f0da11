package spell

import (
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestWhatIsQuotedBackIsKeptShort(t *testing.T) {
	for _, c := range []struct {
		name, text, want string
		runes            int
	}{
		{"short enough", "creek", "creek", 5},
		{"one too many", "creeks", "cr...", 5},
		{"letters count, not bytes", "Peña Río", "Pe...", 5},
		{"as long as allowed in letters", "Peñas", "Peñas", 5},
		{"no room but for stops", "creek", "...", 3},
		{"less room than stops take", "creek", "..", 2},
		{"no room", "creek", "", 0},
		{"nothing", "", "", 0},
	} {
		if got := Clip(c.text, c.runes); got != c.want {
			t.Errorf("%s: %q in %d is %q, want %q", c.name, c.text, c.runes, got, c.want)
		}
	}
}

func TestNothingIsClippedInTheMiddleOfALetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, runes := rapid.String().Draw(t, "text"), rapid.IntRange(0, 12).Draw(t, "runes")
		got := Clip(text, runes)
		if n := utf8.RuneCountInString(got); n > runes || utf8.ValidString(text) && !utf8.ValidString(got) {
			t.Fatalf("%q in %d is %q, %d letters", text, runes, got, n)
		}
		if utf8.RuneCountInString(text) <= runes && got != text {
			t.Fatalf("%q fits in %d and became %q", text, runes, got)
		}
	})
}
