package email

import (
	"strings"
	"unicode"
	"unicode/utf8"

	// Teaches the reader the character sets of mail.
	_ "github.com/emersion/go-message/charset"
	"golang.org/x/text/encoding/charmap"
)

// utf8Text makes text of bytes whose character set was unknown or a lie:
// what is UTF-8 is taken so, anything else as Windows-1252, of which Latin-1
// is a part (common practice among mail readers).
func utf8Text(b []byte) string {
	if utf8.Valid(b) {
		return string(b)
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(b)
	if err != nil {
		return strings.ToValidUTF8(string(b), "?")
	}
	return string(out)
}

// tidy leaves letters, line ends and spaces: no control characters, no marks
// that turn or hide what stands beside them.
func tidy(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\r', r == '\u2028', r == '\u2029', r == '\v', r == '\f':
			return '\n'
		case r == '\u00ad' || unicode.Is(unicode.Cf, r):
			return -1
		case unicode.IsControl(r) && r != '\t':
			return -1
		case unicode.IsSpace(r), r == '\u2800':
			return ' '
		}
		return r
	}, s)
}
