package spell

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestTheSlipsBetweenTwoWordsAreCounted(t *testing.T) {
	for _, c := range []struct {
		name, a, b string
		want       int
	}{
		{"the same word", "switchgrass", "switchgrass", 0},
		{"a letter dropped", "swichgrass", "switchgrass", 1},
		{"a letter doubled", "gammagrass", "gamagrass", 1},
		{"a wrong letter", "timithy", "timothy", 1},
		{"two neighbours swapped", "bleustem", "bluestem", 1},
		{"a letter swapped and another dropped", "bleustm", "bluestem", 2},
		{"nothing at all beside a short word", "", "egg", 3},
		{"two times nothing", "", "", 0},
		{"an accented letter is one letter", "jabali", "jabal\u00ed", 1},
		{"case is a difference", "Teff", "teff", 1},
		// Published worked examples.
		{"three changes: kitten and sitting (from memory)", "kitten", "sitting", 3},
		{"a letter between two that are swapped: 3, where the unrestricted distance is 2 (str-distance, DamerauLevenshtein)", "ca", "abc", 3},
		{"the same the other way round: 3, where the unrestricted distance is 2 (strsim, damerau_levenshtein)", "ab", "bca", 3},
		// The limits.
		{"three letters longer is near enough to look", "grass", "grasshay", 3},
		{"four letters longer is no slip", "grass", "grasshays", Far},
		{"a word of 64 letters is looked at", strings.Repeat("a", 64), strings.Repeat("a", 63), 1},
		{"a word of 65 letters is not, not even beside itself", strings.Repeat("a", 65), strings.Repeat("a", 65), Far},
		{"a length is counted in letters, not bytes", strings.Repeat("\u00e9", 64), strings.Repeat("\u00e9", 64), 0},
	} {
		if got := Distance(c.a, c.b); got != c.want {
			t.Errorf("%s: %q to %q is %d, want %d", c.name, c.a, c.b, got, c.want)
		}
		if got := Distance(c.b, c.a); got != c.want {
			t.Errorf("%s, the other way: %q to %q is %d, want %d", c.name, c.b, c.a, got, c.want)
		}
	}
}

// plain is the textbook recursion, without rows and bounds.
func plain(x, y []rune) int {
	if len(x) == 0 || len(y) == 0 {
		return len(x) + len(y)
	}
	cost := 1
	if x[0] == y[0] {
		cost = 0
	}
	d := min(plain(x[1:], y)+1, plain(x, y[1:])+1, plain(x[1:], y[1:])+cost)
	if len(x) > 1 && len(y) > 1 && x[0] == y[1] && x[1] == y[0] {
		d = min(d, plain(x[2:], y[2:])+1)
	}
	return d
}

func TestTheCountIsThatOfThePlainRecursion(t *testing.T) {
	word := rapid.StringMatching(`[ab\x{00e9}]{0,5}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		x, y := []rune(a), []rune(b)
		want := plain(x, y)
		if len(x)-len(y) > 3 || len(y)-len(x) > 3 {
			want = Far
		}
		if got := Distance(a, b); got != want {
			t.Fatalf("%q to %q is %d, want %d", a, b, got, want)
		}
	})
}
