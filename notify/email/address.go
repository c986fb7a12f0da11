package email

import (
	"net/mail"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Short is an address as it may stand in a log: a***@example.org.
func Short(address string) string {
	local, domain, ok := strings.Cut(address, "@")
	if !ok || local == "" {
		return "***"
	}
	r, _ := utf8.DecodeRuneInString(local)
	return string(r) + "***@" + domain
}

var anAddress = regexp.MustCompile(`[^\s<>"(),:;@\[\]]+@[^\s<>"(),:;@\[\]]+`)

// told makes a server's words fit for a person and a log: addresses
// shortened, one line, at most 200 bytes.
func told(words string) string {
	words = anAddress.ReplaceAllStringFunc(oneLine(words), Short)
	if len(words) > 200 {
		words = strings.ToValidUTF8(words[:200], "") + "..."
	}
	return words
}

// oneLine makes text fit for one header line: every control character,
// whatever it was meant to smuggle in, is a space.
func oneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// bare returns the address in lower case without a name, or "" where it is
// none that we could write to.
func bare(address string) string {
	a, err := mail.ParseAddress(address)
	if err != nil || a.Name != "" || len(a.Address) > 254 || strings.IndexFunc(a.Address, unicode.IsControl) >= 0 {
		return ""
	}
	return strings.ToLower(a.Address)
}

var anID = regexp.MustCompile(`^[!-;=?-~]+@[!-;=?-~]+$`)

// bareID returns a Message-ID without brackets, or "" where it is none.
func bareID(id string) string {
	id = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(id), "<"), ">")
	if len(id) > 500 || !anID.MatchString(id) {
		return ""
	}
	return id
}
