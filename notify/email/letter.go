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
	header  message.Header
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

// readHeader reads the head of a mail. Trouble in a single field leaves that
// field empty.
func readHeader(raw []byte) (*letter, *message.Entity, error) {
	e, err := message.ReadWithOptions(bytes.NewReader(raw), &message.ReadOptions{MaxHeaderBytes: maxHeader})
	if e == nil || err != nil && !message.IsUnknownCharset(err) && !message.IsUnknownEncoding(err) {
		return nil, nil, errors.Join(errNoMail, err)
	}
	h := mail.Header{Header: e.Header}
	l := &letter{header: e.Header}
	l.from = onlyAddress(h, "From")
	l.id = bareID(h.Get("Message-Id"))
	l.subject, err = h.Subject()
	if err != nil {
		l.subject = h.Get("Subject")
	}
	l.subject = notify.OneLine(l.subject)
	if l.date, err = netmail.ParseDate(notify.OneLine(h.Get("Date"))); err != nil {
		l.date = time.Time{}
	}
	l.places = places(h)
	return l, e, nil
}

// readLetter reads a mail, or as much of it as there is.
func readLetter(raw []byte) (*letter, error) {
	l, e, err := readHeader(raw)
	if err != nil {
		return nil, err
	}
	if kind, params, _ := e.Header.ContentType(); strings.EqualFold(kind, "multipart/report") &&
		strings.EqualFold(params["report-type"], "delivery-status") {
		l.bounce = readBounce(e)
		return l, nil
	}
	var b bodies
	b.read(e, 0)
	l.typed = typed(b.plain())
	if l.typed == "" {
		l.typed = typed(b.fromHTML())
	}
	if l.typed == "" && !isAnswer(l.subject) {
		l.typed = typed(l.subject) // `stop` written where the subject goes
	}
	return l, nil
}

// isAnswer reports whether a subject is the one that we gave.
func isAnswer(subject string) bool {
	before, _, ok := strings.Cut(subject, ":")
	return ok && len(before) <= 4
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
	fields := h.FieldsByKey(field)
	n := 0
	for fields.Next() {
		n++
	}
	if n != 1 {
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
		for fields := h.FieldsByKey(f); fields.Next(); {
			out = append(out, words(fields.Value())...)
		}
	}
	for _, f := range []string{"In-Reply-To", "References"} {
		for fields := h.FieldsByKey(f); fields.Next(); {
			w := words(fields.Value())
			if len(w) > 20 { // a long thread: the newest stand last
				w = w[len(w)-20:]
			}
			out = append(out, w...)
		}
	}
	return out[:min(len(out), maxPlaces)]
}

// words splits a field at whatever cannot be in an address or ID, and keeps
// what may hold a token.
func words(field string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(field, func(r rune) bool { return strings.ContainsRune(" \t\r\n,;<>\"()", r) }) {
		if _, _, _, ok := cutToken(w); ok {
			out = append(out, w)
		}
	}
	return out
}

// bodies are the readable parts of a mail.
type bodies struct {
	texts, htmls []string
	parts, size  int
}

// read takes the text parts of an entity and of what is inside it. A part
// that is broken off or not understood is left at that: what was read before
// stands.
func (b *bodies) read(e *message.Entity, depth int) {
	if depth > maxDepth {
		return
	}
	if mr := e.MultipartReader(); mr != nil {
		for b.parts < maxParts {
			p, err := mr.NextPart()
			if p == nil || err != nil && !message.IsUnknownCharset(err) && !message.IsUnknownEncoding(err) {
				return
			}
			b.parts++
			b.read(p, depth+1)
		}
		return
	}
	kind, params, err := e.Header.ContentType()
	if err != nil && !strings.Contains(kind, "/") { // RFC 2045 section 5.2
		kind = "text/plain"
	}
	disposition, _, _ := e.Header.ContentDisposition()
	if strings.EqualFold(disposition, "attachment") || b.size >= maxMail {
		return
	}
	switch strings.ToLower(kind) {
	case "text/plain":
		text := b.text(e)
		if strings.EqualFold(params["format"], "flowed") {
			text = unflow(text, strings.EqualFold(params["delsp"], "yes"))
		}
		b.texts = append(b.texts, text)
	case "text/html":
		b.htmls = append(b.htmls, b.text(e))
	}
}

func (b *bodies) text(e *message.Entity) string {
	raw, _ := io.ReadAll(io.LimitReader(e.Body, int64(maxMail-b.size))) // what was read before an error is good
	b.size += len(raw)
	return tidy(utf8Text(raw))
}

func (b *bodies) plain() string { return strings.Join(b.texts, "\n") }

func (b *bodies) fromHTML() string {
	out := make([]string, len(b.htmls))
	for i, h := range b.htmls {
		out[i] = htmlText(h)
	}
	return strings.Join(out, "\n")
}
