package email

import (
	"context"
	"errors"
	"time"
)

// pause is how long to wait after the n-th failure in a row (from 1): doubled
// each time up to a bound, and spread by jitter (0 to 1) between a half and
// the whole, so that many do not come back at once. A refused login waits
// longer: a mailbox may be locked by too many tries.
func pause(n int, err error, jitter float64) time.Duration {
	first, most := 5*time.Second, 5*time.Minute
	if errors.Is(err, errLogin) {
		first, most = 5*time.Minute, time.Hour
	}
	d := first << min(max(n-1, 0), 10)
	if d > most {
		d = most
	}
	return d/2 + time.Duration(jitter*float64(d/2))
}

// sleep waits, unless ctx ends or somebody wakes it.
func sleep(ctx context.Context, d time.Duration, wake <-chan struct{}) error {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return nil
	case <-wake:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
