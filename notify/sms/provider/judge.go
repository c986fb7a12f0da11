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
	out.After = retryAfter(resp.Header.Get("Retry-After"), p.now())
	r := refusalOf(code)
	if out.Detail = r.words; p.mapped(&out, tree) {
		return out
	}
	out.State, out.Down, out.After = r.state, r.down, max(out.After, r.after)
	return out
}

// A refusal is an HTTP status that is no success: what it does to a message,
// and what to do about it.
type refusal struct {
	state notify.State
	down  bool
	after time.Duration
	words string
}

func refusalOf(code int) refusal {
	switch {
	case code == http.StatusUnauthorized, code == http.StatusForbidden:
		// Not this message's fault: it can go another way, or when the password
		// is mended. A wrong password is not tried in a hurry.
		return refusal{notify.Temporary, true, 15 * time.Minute, "the service refuses the password: see the user and the secret's file"}
	case code == http.StatusNotFound, code == http.StatusMethodNotAllowed, code == http.StatusGone:
		return refusal{notify.Permanent, true, 0, "the service knows no such address: see url and method"}
	case code >= 300 && code < 400:
		return refusal{notify.Permanent, true, 0, "the service has moved: write its new address in the farm file"}
	case code == http.StatusTooManyRequests:
		return refusal{notify.Temporary, false, 0, "the service wants fewer messages: lower the rate"}
	case code == http.StatusPaymentRequired:
		return refusal{notify.Permanent, false, 0, "the service wants to be paid: see the account"}
	case code >= 500:
		return refusal{notify.Temporary, true, 0, "the service is in trouble"}
	case code == http.StatusRequestTimeout, code == http.StatusTooEarly:
		return refusal{notify.Temporary, false, 0, "the service refuses the message"}
	}
	return refusal{notify.Permanent, false, 0, "the service refuses the message"}
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
	switch p.meaning(word(tree, p.o.StatusPath), word(tree, p.o.ErrorPath)) {
	case failedTemporary:
		out.State, out.Detail = notify.Temporary, "the service says that it cannot send it now"
	case failedPermanent:
		out.State, out.Detail = notify.Permanent, "the service says that it will never send it"
	case optedOut:
		out.State, out.Detail, out.OptedOut = notify.Permanent, "the network blocks the number by its owner's wish", true
	default:
		return false
	}
	return true
}

// meaning looks up the words that the service gave; the first known counts,
// a fault's word before the status.
func (p *Provider) meaning(status, fault string) string {
	for _, word := range []string{fault, status} {
		if meaning, ok := p.o.StatusMap[word]; ok && word != "" {
			return meaning
		}
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
