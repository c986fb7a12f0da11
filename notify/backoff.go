package notify

import (
	"context"
	"time"
)

// Backoff is how long a message waits after its n-th failed attempt, from 1: a
// minute, doubled each time up to an hour, a fifth more or less by jitter (0 to
// 1) so that not everybody comes back at once.
func Backoff(n int, jitter float64) time.Duration {
	return time.Duration(float64(doubled(n, time.Minute, time.Hour)) * (0.8 + 0.4*jitter))
}

// ReconnectAfter is how long a carrier or source waits after the n-th failure of
// its peer in a row, from 1: first, doubled each time up to most, and spread by
// jitter (0 to 1) between a half and the whole.
func ReconnectAfter(n int, first, most time.Duration, jitter float64) time.Duration {
	half := doubled(n, first, most) / 2
	return half + time.Duration(jitter*float64(half))
}

// doubled takes a count below 1 as 1.
func doubled(n int, first, most time.Duration) time.Duration {
	return min(first<<min(max(n-1, 0), 10), most)
}

// Wait waits, and returns the error of ctx where that has ended by then.
func Wait(ctx context.Context, d time.Duration) error {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
	case <-ctx.Done():
	}
	return ctx.Err()
}
