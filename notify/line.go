package notify

import (
	"net/http"
	"strconv"
	"strings"
	"time"
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

// RetryAfter is how long a peer wants to be left alone: seconds or an HTTP date
// (RFC 9110 section 10.2.3), up to most. A number that no peer can mean is none.
func RetryAfter(text string, now time.Time, most time.Duration) (wait time.Duration) {
	text = strings.TrimSpace(text)
	if n, err := strconv.ParseUint(text, 10, 31); err == nil {
		wait = time.Duration(n) * time.Second
	} else if t, err := http.ParseTime(text); err == nil {
		wait = t.Sub(now)
	}
	return min(max(wait, 0), most)
}
