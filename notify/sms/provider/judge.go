package provider

import (
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
)

// judge reads the service's answer to a message.
func (p *Provider) judge(resp *http.Response, answer []byte, readErr error) notify.Outcome {
	code := resp.StatusCode
	tree, _ := decode(answer)
	out := notify.Outcome{Code: strconv.Itoa(code), Ref: cut(word(tree, p.o.IDPath), 128)}
	if fault := cut(word(tree, p.o.ErrorPath), 80); fault != "" {
		out.Code += " " + fault
	}
	if slices.Contains(p.o.Success, code) {
		return p.accepted(out, tree, readErr)
	}
	out.Detail = words(code)
	out.After = retryAfter(resp.Header.Get("Retry-After"), p.now())
	switch {
	case p.mapped(&out, tree):
	case code == http.StatusTooManyRequests, code == http.StatusRequestTimeout, code == http.StatusTooEarly:
		out.State = notify.Temporary
	case code >= 500:
		out.State, out.Down = notify.Temporary, true
	case code == http.StatusUnauthorized, code == http.StatusForbidden:
		// Not this message's fault: it can go another way, or when the password
		// is mended. A wrong password is not tried in a hurry.
		out.State, out.Down, out.After = notify.Temporary, true, max(out.After, 15*time.Minute)
	case code >= 300 && code < 400, code == http.StatusNotFound, code == http.StatusMethodNotAllowed, code == http.StatusGone:
		out.State, out.Down = notify.Permanent, true
	default:
		out.State = notify.Permanent
	}
	return out
}

// accepted is an answer with a code of success, which may still say no.
func (p *Provider) accepted(out notify.Outcome, tree any, readErr error) notify.Outcome {
	if p.mapped(&out, tree) {
		return out
	}
	out.State = notify.Sent
	if p.o.IDPath != "" && out.Ref == "" {
		out.Detail = "the service took it but named no id"
		if readErr != nil {
			out.Detail = "the service took it, but its answer broke off"
		}
	}
	return out
}

// mapped reads the service's own word where the description knows it.
func (p *Provider) mapped(out *notify.Outcome, tree any) bool {
	status := p.meaning(word(tree, p.o.StatusPath), word(tree, p.o.ErrorPath))
	switch status {
	case FailedTemporary:
		out.State, out.Detail = notify.Temporary, "the service says that it cannot send it now"
	case FailedPermanent:
		out.State, out.Detail = notify.Permanent, "the service says that it will never send it"
	case OptedOut:
		out.State, out.Detail, out.OptedOut = notify.Permanent, "the network blocks the number by its owner's wish", true
	default:
		return false
	}
	return true
}

// meaning looks up the words that the service gave; the first known counts,
// a fault's word before the status.
func (p *Provider) meaning(status, fault string) Status {
	if s, ok := p.o.StatusMap[fault]; ok && fault != "" {
		return s
	}
	if s, ok := p.o.StatusMap[status]; ok && status != "" {
		return s
	}
	return ""
}

// retryAfter reads seconds or an HTTP date (RFC 9110 section 10.2.3), bounded
// by a day.
func retryAfter(text string, now time.Time) time.Duration {
	text = strings.TrimSpace(text)
	var d time.Duration
	if n, err := strconv.ParseUint(text, 10, 31); err == nil {
		d = time.Duration(n) * time.Second
	} else if t, err := http.ParseTime(text); err == nil {
		d = t.Sub(now)
	}
	return min(max(d, 0), 24*time.Hour)
}
