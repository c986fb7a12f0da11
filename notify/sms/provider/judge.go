package provider

import (
	"bytes"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
)

// judge reads the service's answer to a message.
func (p *Provider) judge(id string, resp *http.Response, answer []byte, readErr error) notify.Outcome {
	code := resp.StatusCode
	tree, _ := decode(answer)
	out := notify.Outcome{Code: strconv.Itoa(code), Ref: cut(word(tree, p.o.IDPath), 128)}
	if fault := cut(word(tree, p.o.ErrorPath), 80); fault != "" {
		out.Code += " " + fault
	}
	if slices.Contains(p.o.Success, code) {
		return p.accepted(out, id, answer, tree, readErr)
	}
	out.After = notify.RetryAfter(resp.Header.Get("Retry-After"), p.now(), longestRest)
	r := refusalOf(code)
	if out.Detail = r.words; p.mapped(&out, tree) {
		return out
	}
	out.State, out.Down, out.After = r.state, r.down, max(out.After, r.after)
	if r.state == notify.Permanent {
		p.blame(&out, id)
	}
	return out
}

// A refusal is a range of HTTP statuses that are no success: what they do to a
// message, and what to do about it.
type refusal struct {
	from, to int
	state    notify.State
	down     bool
	after    time.Duration
	words    string
}

// unhurried is how long a service rests that nobody but the farm can mend, or
// that is not the service at all.
const unhurried = 15 * time.Minute

// longestRest bounds the rest that the service may ask for.
const longestRest = 24 * time.Hour

// refusals is looked through in this order. It blames the message for nothing that
// every other would meet too: that holds the whole queue, and fails none of it.
var refusals = []refusal{
	{100, 299, notify.Temporary, true, unhurried, "the service answers with a success that the farm file does not name: see success"},
	{300, 399, notify.Temporary, true, unhurried, "the service has moved, or the line leads to a login page: open it on this machine, or write the new address in the farm file"},
	{401, 401, notify.Temporary, true, unhurried, badPassword},
	{402, 402, notify.Temporary, true, unhurried, "the service wants to be paid: see the account"},
	{403, 403, notify.Temporary, true, unhurried, badPassword},
	{404, 405, notify.Temporary, true, unhurried, badAddress},
	{407, 407, notify.Temporary, true, unhurried, "the proxy on the way wants a password"},
	{408, 408, notify.Temporary, false, 0, refusesIt},
	{410, 410, notify.Temporary, true, unhurried, badAddress},
	{425, 425, notify.Temporary, false, 0, refusesIt},
	{429, 429, notify.Temporary, true, 0, "the service wants fewer messages: lower the rate"},
	{400, 499, notify.Permanent, false, 0, refusesIt}, // see blame
	{500, 999, notify.Temporary, true, 0, "the service is in trouble"},
}

const (
	badPassword = "the service refuses the password: see the user and the secret's file"
	badAddress  = "the service knows no such address: see url and method"
	refusesIt   = "the service refuses the message"
)

func refusalOf(code int) refusal {
	i := slices.IndexFunc(refusals, func(r refusal) bool { return r.from <= code && code <= r.to })
	return refusals[max(i, 0)]
}

// blame lets a refusal be the message's own fault only where the service does not
// refuse everything, which fails none of them.
func (p *Provider) blame(out *notify.Outcome, id string) {
	own, everything := p.refused.Refused(id)
	if own {
		return
	}
	out.State, out.Down = notify.Temporary, everything
	if everything {
		out.Detail, out.After = "the service refuses every message", max(out.After, unhurried)
	}
}

// accepted is an answer with a code of success, which may still say no. Without
// the id that the farm file promises it is no success: a login page says 200 too.
func (p *Provider) accepted(out notify.Outcome, id string, answer []byte, tree any, readErr error) notify.Outcome {
	if p.mapped(&out, tree) {
		return out
	}
	switch {
	case tree == nil && forPeople(answer):
		out.State, out.Detail, out.After = notify.Temporary, pageForPeople, unhurried
	case p.o.IDPath == "" || out.Ref != "":
		p.refused.Took(id)
		out.State = notify.Sent
		return out
	case tree == nil && readErr == nil:
		out.State, out.Detail, out.After = notify.Temporary, pageForPeople, unhurried
	case p.o.Idempotency != "":
		out.State, out.Detail = notify.Temporary, "the service named no id; it is safe to send it again"
	case readErr != nil:
		out.State, out.Detail = notify.UnknownState, "the service's answer broke off: it may have been sent"
	default:
		out.State, out.Detail = notify.UnknownState, "the service named no id: it may have been sent; see id_path"
	}
	out.Down = true
	return out
}

const pageForPeople = "what answers is not the service: a login page? Open it on this machine"

// forPeople reports whether an answer is a page for a browser, which no service
// gives to a program.
func forPeople(answer []byte) bool {
	head := strings.ToLower(string(bytes.TrimSpace(answer[:min(len(answer), 512)])))
	return strings.HasPrefix(head, "<!doctype html") || strings.HasPrefix(head, "<html")
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
