package notify

import (
	"math"
	"time"

	"stubbled/store"
)

// How long to wait before another try: a minute, doubled each time up to an
// hour, a fifth more or less so that not everybody comes back at once.
const (
	firstWait = time.Minute
	mostWait  = time.Hour
	spread    = 0.2
)

// Backoff is how long to wait after a failed attempt, the first being 1.
// jitter is from 0 to 1.
func Backoff(attempt int, jitter float64) time.Duration {
	wait := float64(firstWait) * math.Pow(2, float64(max(attempt, 1)-1))
	wait = min(wait, float64(mostWait))
	return time.Duration(wait * (1 - spread + 2*spread*jitter))
}

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
