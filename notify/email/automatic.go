package email

import (
	"regexp"
	"strings"
)

var (
	machineName = regexp.MustCompile(`(?i)^(mailer-daemon|postmaster|no-?reply|do-?not-?reply|bounces?|listserv|majordomo|daemon)([+._=-].*)?$`)
	awayNotice  = regexp.MustCompile(`(?i)^(automatic reply|auto(matic)?[ -]?reply|autoreply|out of (the )?office|respuesta autom[áa]tica|fuera de (la )?oficina)\b`)
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
	for _, f := range []string{"List-Id", "List-Post", "List-Unsubscribe", "List-Help", "Mailing-List"} {
		if h.Has(f) {
			return "mailing list"
		}
	}
	for _, f := range []string{"X-Auto-Response-Suppress", "X-Autoreply", "X-Autorespond", "X-Autoreply-From", "X-Vacation"} {
		if h.Has(f) {
			return "automatic answer"
		}
	}
	if kind, _, _ := h.ContentType(); strings.EqualFold(kind, "multipart/report") {
		return "report"
	}
	local, _, _ := strings.Cut(l.from, "@")
	if machineName.MatchString(local) {
		return "machine's address"
	}
	if awayNotice.MatchString(l.subject) {
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
