package values

import (
	"fmt"
	"strings"

	"stubbled/scheduler/spell"
)

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
