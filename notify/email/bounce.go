package email

import (
	"bufio"
	"bytes"
	"io"
	"slices"
	"strings"

	"github.com/emersion/go-message"
	"github.com/emersion/go-message/mail"
	"github.com/emersion/go-message/textproto"

	"stubbled/notify"
)

// A bounce is a report on the delivery of one of our mails (RFC 3464).
type bounce struct {
	recipients []recipient
	places     []string // of the mail it speaks of: where a token may stand
	to         []string // whom that mail was written to
}

type recipient struct {
	addresses  []string // final and original
	action     string   // failed, delayed, delivered, relayed, expanded
	status     string   // 5.1.1
	diagnostic string
}

// readBounce reads a multipart/report as far as it goes.
func readBounce(e *message.Entity) *bounce {
	b := &bounce{}
	mr := e.MultipartReader()
	if mr == nil {
		return b
	}
	n := 0
	for p := range partsOf(mr) {
		if n++; n > maxParts {
			break
		}
		kind, _, _ := p.Header.ContentType()
		raw, _ := io.ReadAll(io.LimitReader(p.Body, maxHeader))
		switch strings.ToLower(kind) {
		case "message/delivery-status", "message/global-delivery-status":
			b.status(raw)
		case "text/rfc822-headers", "message/rfc822", "message/global", "message/global-headers":
			b.original(raw)
		}
	}
	return b
}

// status reads groups of fields: the first is of the mail, each other of a
// recipient.
func (b *bounce) status(raw []byte) {
	raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
	for i, group := range bytes.Split(bytes.TrimSpace(raw), []byte("\n\n")) {
		if i == 0 || i > 20 {
			continue
		}
		h, err := textproto.ReadHeader(bufio.NewReader(io.MultiReader(bytes.NewReader(bytes.TrimSpace(group)), strings.NewReader("\n\n"))))
		if err != nil {
			continue
		}
		r := recipient{
			action:     word(h.Get("Action")),
			status:     word(h.Get("Status")),
			diagnostic: told(afterType(h.Get("Diagnostic-Code"))),
		}
		for _, f := range []string{"Original-Recipient", "Final-Recipient"} {
			if a := bare(strings.Trim(afterType(h.Get(f)), "<> ")); a != "" {
				r.addresses = append(r.addresses, a)
			}
		}
		b.recipients = append(b.recipients, r)
	}
}

// afterType drops the type of `rfc822; ana@example.org`.
func afterType(field string) string {
	if _, v, ok := strings.Cut(field, ";"); ok {
		return strings.TrimSpace(v)
	}
	return strings.TrimSpace(field)
}

func (b *bounce) original(raw []byte) {
	e, err := message.Read(bytes.NewReader(append(raw, "\r\n\r\n"...)))
	if e == nil || broken(err) {
		return
	}
	h := mail.Header{Header: e.Header}
	b.places = append(places(h), words(h.Get("Message-Id")+" "+h.Get("Reply-To"))...)
	if to := onlyAddress(h, "To"); to != "" {
		b.to = append(b.to, to)
	}
}

// report is what became of the envelope that the bounce speaks of. Only one
// that holds our token is believed: else anybody could have an address taken
// for dead.
func (b *bounce) report(l *letter, k *Tokens) (r *notify.Report, address string) {
	for _, to := range b.recipients {
		for _, a := range slices.Concat(to.addresses, b.to) {
			id, ok := k.openAny(slices.Concat(b.places, l.places), a)
			if !ok {
				continue
			}
			r := &notify.Report{EnvelopeID: id, Ref: to.status}
			switch to.action {
			case "failed":
				r.Permanent = true
				r.Detail = "the mail could not be delivered: " + strings.TrimSpace(to.status+" "+to.diagnostic)
			case "delivered":
				r.Delivered = true
			case "delayed":
				r.Detail = "the mail is held up on its way: " + strings.TrimSpace(to.status+" "+to.diagnostic)
			default: // relayed, expanded: gone on to where nobody reports
				return nil, ""
			}
			return r, a
		}
	}
	return nil, ""
}
