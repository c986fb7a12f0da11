package notify

import (
	"context"
	"time"
)

// Pause is how long a carrier waits after the n-th failure in a row, from 1:
// first, doubled each time up to most, and spread by jitter (0 to 1) between a
// half and the whole, so that many do not come back at once. A count below 1 is
// taken as 1.
//
// What is between two tries of one message is [Backoff].
func Pause(n int, first, most time.Duration, jitter float64) time.Duration {
	d := min(first<<min(max(n-1, 0), 10), most)
	return d/2 + time.Duration(jitter*float64(d/2))
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
