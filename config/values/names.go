package values

import (
	"fmt"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"stubbled/notify/gsm"
	"stubbled/notify/language"
	"stubbled/scheduler/spell"
)

// The longest names that leave room for the rest of a one-segment text, in
// GSM septets.
const (
	LongestName  = 20
	LongestAlias = 12
)

// Septets counts what a name takes in a text. Letters with marks that a text
// cannot carry count as their plain letter; a letter that has none is an error.
func Septets(name string) (int, error) {
	n := 0
	for _, r := range norm.NFC.String(name) {
		plain := string(plainLetter(r))
		if !gsm.Has(plain) {
			return 0, fmt.Errorf("%q holds %q, which a text message cannot carry; use plain letters", Clip(name), r)
		}
		n += gsm.Septets(plain)
	}
	return n, nil
}

// plainLetter is the letter itself, or the same without its marks where a text
// cannot carry those.
func plainLetter(r rune) rune {
	switch r {
	case '‘', '’', '´', '`':
		return '\''
	case '“', '”':
		return '"'
	case '–', '—':
		return '-'
	}
	if !gsm.Has(string(r)) {
		r, _ = utf8.DecodeRuneInString(norm.NFD.String(string(r)))
	}
	return r
}

// Fold is the form in which names are compared: no case, no marks, no spaces
// or punctuation. North 40, north40 and NORTH-40 are one.
func Fold(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, norm.NFKD.String(name))
}

// Words of the languages that people text in, folded: commands, which a paddock
// that answered to one could not be told from, those that a paddock's name
// follows, and animals in general, which only a herd may be called.
var (
	Commands     = reserved("command")
	TakesPaddock = reserved("before a name")
	Stock        = reserved("animals")
	// numbers are words that read as a height.
	numbers = sync.OnceValue(func() map[string]int { return language.Counted(language.All()) })
)

func reserved(what string) func() map[string]bool {
	return sync.OnceValue(func() map[string]bool {
		set := map[string]bool{}
		for _, w := range language.ReservedWords(what) {
			set[Fold(w)] = true
		}
		return set
	})
}

// Heard is the form in which a texted name is told from another: fold, with
// numbers in words as digits, no zeros in front of digits, and & as and.
// Pasture Three is Pasture 3, and 9 Oaks is Nine Oaks.
func Heard(name string) string {
	var b strings.Builder
	tens := 0
	flush := func() {
		if tens > 0 {
			b.WriteString(strconv.Itoa(tens))
		}
		tens = 0
	}
	for _, w := range wordsOf(name) {
		switch n, IsNumber := numbers()[w]; {
		case IsNumber && tens > 0 && n > 0 && n < 10:
			tens += n
			flush()
		case IsNumber && n >= 20:
			flush()
			tens = n
		case IsNumber:
			flush()
			b.WriteString(strconv.Itoa(n))
		default:
			flush()
			if digits := strings.TrimLeft(w, "0"); w[0] <= '9' && digits != "" {
				w = digits
			}
			b.WriteString(w)
		}
	}
	flush()
	return b.String()
}

var joiners = strings.NewReplacer("&", " and ", "+", " and ", "'", "", "’", "")

// wordsOf parts a name into folded runs of letters and of digits.
func wordsOf(name string) []string {
	var out []string
	last := ' '
	for _, r := range norm.NFKD.String(joiners.Replace(name)) {
		kind := ' '
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case unicode.IsLetter(r):
			kind = 'a'
		case unicode.IsDigit(r):
			kind = '0'
		}
		switch {
		case kind == ' ':
		case kind == last:
			out[len(out)-1] += string(unicode.ToLower(r))
		default:
			out = append(out, string(unicode.ToLower(r)))
		}
		last = kind
	}
	return out
}

// IsNumber reports whether a folded name is digits alone.
func IsNumber(folded string) bool {
	return folded != "" && strings.Trim(folded, "0123456789") == ""
}

// Nearest is the known word closest to a misspelt one: within two slips of the
// finger (one for short words), or one holding the other. Empty where none is.
func Nearest(word string, known []string) string {
	best, found := spell.Far, ""
	w := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(word), "-", "_"))
	for _, k := range known {
		n := strings.ReplaceAll(strings.ToLower(k), "-", "_")
		d := spell.Distance(w, n)
		switch {
		case d <= 1, d == 2 && len(n) > 4, d == 3 && len(n) > 9:
		case len(w) > 2 && len(n) > 2 && (strings.Contains(w, n) || strings.Contains(n, w)):
			d += 10
		default:
			continue
		}
		if d < best {
			best, found = d, k
		}
	}
	return found
}

// OrNearest is `; did you mean "x"?`, or the whole list where nothing is near.
func OrNearest(word string, known []string) string {
	if k := Nearest(word, known); k != "" {
		return DidYouMean(k)
	}
	if len(known) == 0 {
		return ""
	}
	return "; known are " + strings.Join(known, ", ")
}

// OrOneOf is OrNearest without the list of everything known.
func OrOneOf(word string, known []string) string { return DidYouMean(Nearest(word, known)) }

// DidYouMean suggests a word; nothing where there is none.
func DidYouMean(word string) string {
	if word == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", word)
}
