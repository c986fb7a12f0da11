// Package email is in charge of mail both ways: envelopes out by SMTP, and
// what people write back in by IMAP.
//
// It never decides what is said or what a reply means, and it never trusts a
// From line by itself: a reply is heard only from a listed address that holds
// the token of the mail it answers. Mail that a machine wrote is neither heard
// nor answered.
//
// Invariants: an envelope rendered twice is the same to the byte; a mail whose
// end was written but not acknowledged is unknown, never failed; the place in
// the mailbox moves only together with what was read there; no body, password
// or whole address reaches a log or an error.
package email

import (
	"net/mail"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"stubbled/notify"
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
// shortened, one line, brief.
func told(words string) string {
	return notify.Brief(anAddress.ReplaceAllStringFunc(notify.OneLine(words), Short))
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
