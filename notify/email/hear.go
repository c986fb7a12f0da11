package email

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"stubbled/notify"
)

// ears judge a letter: is it heard, for what, and as whose. They are pure.
type ears struct {
	replies  *Tokens
	known    func(address string) bool
	everyone func() []string
	servID   string
}

// curious reports from the head alone whether the body is worth fetching.
func (e ears) curious(l *letter) bool {
	if kind, _, _ := l.header.ContentType(); kind == "multipart/report" {
		return true
	}
	return automatic(l) == "" && l.from != "" && !e.replies.own(l.from) && (e.known(l.from) || len(l.places) > 0)
}

// hear judges a letter. Where nothing is to be passed on it says why.
func (e ears) hear(l *letter) (got notify.Received, why string) {
	got = notify.Received{ID: l.key(), Text: l.typed, Sent: l.date, MailID: l.id}
	if l.bounce != nil {
		r, address := l.bounce.report(l, e.replies)
		if r == nil {
			return got, "report on no mail of ours"
		}
		return notify.Received{ID: got.ID, From: address, Sent: l.date, Report: r}, ""
	}
	if l.from == "" {
		return got, "not from exactly one address"
	}
	if e.replies.own(l.from) {
		return got, "from our own address"
	}
	if why := automatic(l); why != "" {
		return got, "written by a machine: " + why
	}
	got.From = l.from
	if !e.known(l.from) {
		return e.forwarded(l, got)
	}
	id, ok := openAny(e.replies, l.places, l.from)
	if ok && authentic(l, e.servID) != failed {
		got.InReplyTo = id
		return got, ""
	}
	got.StopOnly = true
	if got.Text == "" {
		return got, "untrusted and empty"
	}
	return got, ""
}

// forwarded hears an opt-out from an address that is not listed but holds the
// token of a mail to one that is, as of that one: somebody reads their mail at
// another address, and `stop` must count all the same.
func (e ears) forwarded(l *letter, got notify.Received) (notify.Received, string) {
	if e.everyone != nil && l.typed != "" {
		for _, a := range e.everyone() {
			if _, ok := openAny(e.replies, l.places, a); ok {
				got.From, got.StopOnly = bare(a), true
				return got, ""
			}
		}
	}
	return got, "from nobody we know"
}

// key tells one mail from all others, also where the server numbers its
// mailbox anew and it is read a second time.
func (l *letter) key() string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %d %q", l.id, l.from, l.date.Unix(), l.header.Get("Subject")))
	return hex.EncodeToString(sum[:16])
}
