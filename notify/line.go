package notify

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"stubbled/scheduler/spell"
)

// OneLine makes text fit for one line of a header or a log: every control
// character, whatever it was meant to smuggle in, is a space.
func OneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// Brief is the one line that we repeat of a peer's words.
func Brief(words string) string { return spell.Clip(OneLine(words), 200) }
