package email

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"stubbled/notify"
)

// curious reports from the head alone whether the body is worth fetching.
func (in Incoming) curious(l *letter) bool {
	if kind, _, _ := l.entity.Header.ContentType(); kind == "multipart/report" {
		return true
	}
	return automatic(l) == "" && l.from != "" && !in.Replies.own(l.from) && (in.Known(l.from) || len(l.places) > 0)
}

// hear judges a letter: is it heard, for what, and as whose. Where nothing is to be passed on it says why.
func (in Incoming) hear(l *letter) (got notify.Received, why string) {
	got = notify.Received{ID: l.key(), Text: l.typed, Sent: l.date, MailID: l.id}
	if l.bounce != nil {
		r, address := l.bounce.report(l, in.Replies)
		if r == nil {
			return got, "report on no mail of ours"
		}
		return notify.Received{ID: got.ID, From: address, Sent: l.date, Report: r}, ""
	}
	if l.from == "" {
		return got, "not from exactly one address"
	}
	if in.Replies.own(l.from) {
		return got, "from our own address"
	}
	if why := automatic(l); why != "" {
		return got, "written by a machine: " + why
	}
	got.From = l.from
	if !in.Known(l.from) {
		return in.forwarded(l, got)
	}
	id, ok := in.Replies.openAny(l.places, l.from)
	got.InReplyTo = id
	if ok && authentic(l, in.AuthServID) != failed {
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
func (in Incoming) forwarded(l *letter, got notify.Received) (notify.Received, string) {
	if in.Everyone != nil && l.typed != "" {
		for _, a := range in.Everyone() {
			if id, ok := in.Replies.openAny(l.places, a); ok {
				got.From, got.InReplyTo, got.StopOnly = bare(a), id, true
				return got, ""
			}
		}
	}
	return got, "from nobody we know"
}

// key tells one mail from all others, also where the server numbers its
// mailbox anew and it is read a second time.
func (l *letter) key() string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %d %q", l.id, l.from, l.date.Unix(), l.entity.Header.Get("Subject")))
	return hex.EncodeToString(sum[:16])
}

var (
	machineName = pattern(`(?i)^(mailer-daemon|postmaster|no-?reply|do-?not-?reply|bounces?|listserv|majordomo|daemon)([+._=-].*)?$`)
	awayNotice  = pattern(`(?i)^(automatic reply|auto(matic)?[ -]?reply|autoreply|out of (the )?office|respuesta autom[áa]tica|fuera de (la )?oficina)\b`)
)

// automatic says why a mail was written by a machine, or "" where a person may
// have. Such mail is neither heard nor answered (RFC 3834 sections 2 and 5,
// RFC 2919, RFC 2369; the X fields are common practice).
func automatic(l *letter) string {
	h := l.entity.Header
	if h.Has("Return-Path") && strings.Trim(h.Get("Return-Path"), " <>\t") == "" {
		return "empty return path"
	}
	if v := word(h.Get("Auto-Submitted")); v != "" && v != "no" {
		return "auto-submitted"
	}
	switch word(h.Get("Precedence")) {
	case "bulk", "junk", "list", "auto_reply":
		return "precedence"
	}
	if slices.ContainsFunc([]string{"List-Id", "List-Post", "List-Unsubscribe", "List-Help", "Mailing-List"}, h.Has) {
		return "mailing list"
	}
	if slices.ContainsFunc([]string{"X-Auto-Response-Suppress", "X-Autoreply", "X-Autorespond", "X-Autoreply-From", "X-Vacation"}, h.Has) {
		return "automatic answer"
	}
	if kind, _, _ := h.ContentType(); strings.EqualFold(kind, "multipart/report") {
		return "report"
	}
	if local, _, _ := strings.Cut(l.from, "@"); machineName().MatchString(local) {
		return "machine's address"
	}
	if awayNotice().MatchString(l.subject) {
		return "away notice"
	}
	return ""
}

// word is the first word of a field, without parameters and comments.
func word(field string) string {
	f := strings.FieldsFunc(field, func(r rune) bool { return strings.ContainsRune(" \t\r\n;(", r) })
	if len(f) == 0 {
		return ""
	}
	return strings.ToLower(f[0])
}
