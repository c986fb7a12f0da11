package email

import (
	"bytes"
	"errors"
	"io"
	"mime"
	netmail "net/mail"
	"strings"
	"time"

	"github.com/emersion/go-message"
	"github.com/emersion/go-message/mail"

	"stubbled/notify"
)

// Bounds on what is read of one mail. They are assumptions, far above what a
// person types into a reply.
const (
	maxHeader = 64 << 10
	maxMail   = 256 << 10
	maxTyped  = 4 << 10
	maxDepth  = 10
	maxParts  = 100
	maxPlaces = 60 // addresses and IDs searched for a token
)

// A letter is a mail that came in, read.
type letter struct {
	entity  *message.Entity
	from    string // lower case; empty where there is not exactly one
	subject string
	id      string // Message-ID without brackets; may be empty
	date    time.Time
	// places are the addresses and Message-IDs in which a token of ours may
	// stand.
	places []string
	typed  string  // what the person typed, quote and signature cut
	bounce *bounce // set where it is a report on the delivery of a mail
}

var errNoMail = errors.New("not a mail: no header")

// broken reports whether an error ends the reading of a mail or part; what is
// only in an unknown character set or encoding is read as it stands.
func broken(err error) bool {
	return err != nil && !message.IsUnknownCharset(err) && !message.IsUnknownEncoding(err)
}

// readHead reads the head of a mail. Trouble in a single field leaves that
// field empty.
func readHead(raw []byte) (*letter, error) {
	e, err := message.ReadWithOptions(bytes.NewReader(raw), &message.ReadOptions{MaxHeaderBytes: maxHeader})
	if e == nil || broken(err) {
		return nil, errors.Join(errNoMail, err)
	}
	h := mail.Header{Header: e.Header}
	l := &letter{entity: e, from: onlyAddress(h, "From"), id: bareID(h.Get("Message-Id")), places: places(h)}
	if l.subject, err = h.Subject(); err != nil {
		l.subject = h.Get("Subject")
	}
	l.subject = notify.OneLine(l.subject)
	if l.date, err = netmail.ParseDate(notify.OneLine(h.Get("Date"))); err != nil {
		l.date = time.Time{}
	}
	return l, nil
}

// readLetter reads a mail, or as much of it as there is.
func readLetter(raw []byte) (*letter, error) {
	l, err := readHead(raw)
	if err != nil {
		return nil, err
	}
	if kind, params, _ := l.entity.Header.ContentType(); strings.EqualFold(kind, "multipart/report") &&
		strings.EqualFold(params["report-type"], "delivery-status") {
		l.bounce = readBounce(l.entity)
		return l, nil
	}
	var b bodies
	b.read(l.entity, 0)
	l.typed = typed(strings.Join(b.texts, "\n"))
	if l.typed == "" {
		for i, page := range b.pages {
			b.pages[i] = htmlText(page)
		}
		l.typed = typed(strings.Join(b.pages, "\n"))
	}
	if before, _, prefixed := strings.Cut(l.subject, ":"); l.typed == "" && !(prefixed && len(before) <= 4) { // not Re: what we wrote
		l.typed = typed(l.subject) // `stop` written where the subject goes
	}
	return l, nil
}

// addresses parses fields of addresses; a name in a character set that nobody
// knows does not spoil the address beside it.
var addresses = netmail.AddressParser{WordDecoder: &mime.WordDecoder{
	CharsetReader: func(charset string, r io.Reader) (io.Reader, error) {
		if decoded, err := message.CharsetReader(charset, r); err == nil {
			return decoded, nil
		}
		return r, nil
	},
}}

// onlyAddress is the one address in a field, or "" where there are none,
// several, or the field stands twice.
func onlyAddress(h mail.Header, field string) string {
	if len(h.Values(field)) != 1 {
		return ""
	}
	list, err := addresses.ParseList(h.Get(field))
	if err != nil || len(list) != 1 {
		return ""
	}
	return bare(list[0].Address)
}

// places gathers where a token may stand: the addresses it was delivered to,
// and the Message-IDs it refers to.
func places(h mail.Header) []string {
	var out []string
	for _, f := range []string{"Delivered-To", "X-Original-To", "X-Delivered-To", "Envelope-To", "X-Envelope-To", "To", "Cc"} {
		for _, v := range h.Values(f) {
			out = append(out, words(v)...)
		}
	}
	for _, f := range []string{"In-Reply-To", "References"} {
		for _, v := range h.Values(f) {
			w := words(v)
			out = append(out, w[max(0, len(w)-20):]...) // of a long thread the newest, which stand last
		}
	}
	return out[:min(len(out), maxPlaces)]
}

// words splits a field at whatever cannot be in an address or ID, and keeps
// what may hold a token.
func words(field string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(field, func(r rune) bool { return strings.ContainsRune(" \t\r\n,;<>\"()", r) }) {
		if _, _, ok := cutToken(w); ok {
			out = append(out, w)
		}
	}
	return out
}
