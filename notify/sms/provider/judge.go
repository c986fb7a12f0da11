package provider

import (
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
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
		return p.accepted(out, id, tree, readErr)
	}
	out.After = retryAfter(resp.Header.Get("Retry-After"), p.now())
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

// A refusal is an HTTP status that is no success: what it does to a message,
// and what to do about it.
type refusal struct {
	state notify.State
	down  bool
	after time.Duration
	words string
}

// unhurried is how long a service rests that nobody but the farm can mend, or
// that is not the service at all.
const unhurried = 15 * time.Minute

// refusalOf blames the message for nothing that every other would meet too: that
// holds the whole queue, and fails none of it.
func refusalOf(code int) refusal {
	switch {
	case code == http.StatusUnauthorized, code == http.StatusForbidden:
		return refusal{notify.Temporary, true, unhurried, "the service refuses the password: see the user and the secret's file"}
	case code == http.StatusNotFound, code == http.StatusMethodNotAllowed, code == http.StatusGone:
		return refusal{notify.Temporary, true, unhurried, "the service knows no such address: see url and method"}
	case code >= 300 && code < 400:
		return refusal{notify.Temporary, true, unhurried, "the service has moved, or the line leads to a login page: open it on this machine, or write the new address in the farm file"}
	case code == http.StatusPaymentRequired:
		return refusal{notify.Temporary, true, unhurried, "the service wants to be paid: see the account"}
	case code == http.StatusTooManyRequests:
		return refusal{notify.Temporary, false, 0, "the service wants fewer messages: lower the rate"}
	case code >= 500:
		return refusal{notify.Temporary, true, 0, "the service is in trouble"}
	case code == http.StatusRequestTimeout, code == http.StatusTooEarly:
		return refusal{notify.Temporary, false, 0, "the service refuses the message"}
	case code < 300:
		return refusal{notify.Temporary, true, unhurried, "the service answers with a success that the farm file does not name: see success"}
	}
	return refusal{notify.Permanent, false, 0, "the service refuses the message"}
}

// blame lets a refusal be the message's own fault only where the service took
// another one since it first refused this: else it may be refusing everything,
// and nothing fails by waiting for it.
func (p *Provider) blame(out *notify.Outcome, id string) {
	own, everything := p.refused.note(id)
	if own {
		return
	}
	out.State, out.Down = notify.Temporary, everything
	if everything {
		out.Detail, out.After = "the service refuses every message", max(out.After, unhurried)
	}
}

// refused are the messages that the service refused and did not take since.
type refused struct {
	mu      sync.Mutex
	taken   int // messages that the service has
	waiting map[string]refusals
}

// refusals of one message: how often, and how many the service had taken before.
type refusals struct{ tries, taken int }

// mostRefused bounds what is kept of messages that were refused and never taken;
// one that is forgotten is tried once more.
const mostRefused = 1000

// triesAlone is after how many refusals of a single message, with no other to
// compare it with, the service itself is suspected.
const triesAlone = 3

func (r *refused) note(id string) (own, everything bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	was, again := r.waiting[id]
	switch {
	case again && r.taken > was.taken:
		delete(r.waiting, id)
		return true, false
	case r.waiting == nil || len(r.waiting) >= mostRefused:
		r.waiting = map[string]refusals{}
	}
	r.waiting[id] = refusals{was.tries + 1, r.taken}
	alike := 0
	for _, w := range r.waiting {
		if w.taken == r.taken {
			alike++
		}
	}
	return false, alike > 1 || was.tries+1 >= triesAlone
}

// took counts a message that the service has.
func (r *refused) took(id string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.taken++
	delete(r.waiting, id)
}

// accepted is an answer with a code of success, which may still say no. Without
// the id that the farm file promises it is no success: a login page says 200 too.
func (p *Provider) accepted(out notify.Outcome, id string, tree any, readErr error) notify.Outcome {
	if p.mapped(&out, tree) {
		return out
	}
	switch {
	case p.o.IDPath == "" || out.Ref != "":
		p.refused.took(id)
		out.State = notify.Sent
		return out
	case tree == nil && readErr == nil:
		out.State, out.Detail, out.After = notify.Temporary, "what answers is not the service: a login page? Open it on this machine", unhurried
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
