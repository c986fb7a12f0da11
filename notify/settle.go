package notify

import (
	"time"

	"stubbled/store"
)

// result is what the store keeps of an outcome.
func (c *Courier) result(o Outcome, attempt int, now time.Time) store.Result {
	r := store.Result{Ref: o.Ref, Code: o.Code, Detail: o.Detail}
	wait := max(o.After, Backoff(attempt, c.jitter()))
	switch o.State {
	case Sent:
		r.Outcome = store.WasSent
	case Temporary:
		r.Outcome, r.NextAt = store.TryAgain, now.Add(wait)
	case Permanent:
		r.Outcome = store.WasRefused
	default:
		r.Outcome, r.NextAt = store.NotKnown, now.Add(wait)
	}
	return r
}

// String is the outcome in a word, for logs.
func (s State) String() string {
	switch s {
	case Sent:
		return "sent"
	case Temporary:
		return "temporary"
	case Permanent:
		return "permanent"
	}
	return "unknown"
}
