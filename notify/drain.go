package notify

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"stubbled/store/panics"
)

// A lane is one carrier, which is drained by one at a time. While the carrier is
// in trouble one message at a time tries it, less and less often; all others
// wait, and nothing comes of their waiting.
type lane struct {
	Carrier
	busy  sync.Mutex
	downs int       // troubles in a row
	until time.Time // tried again from here on
}

// rests reports whether the carrier is let alone. A clock that was set back since
// is not waited for.
func (l *lane) rests(now time.Time) bool {
	return now.Before(l.until) && l.until.Sub(now) <= mostRest
}

// mostRest is longer than any carrier asks for, or is given.
const mostRest = 25 * time.Hour

// Drain hands over everything that is due, the carriers side by side and on
// each the most urgent first. It comes back when nothing is due or a carrier is
// in trouble; what it could not hand over waits for its next try. One that is
// slower than the courier's patience is left to go on by itself, so that a mail
// server that hangs holds up no text, and is not asked again before it is done.
func (c *Courier) Drain(ctx context.Context, now time.Time) error {
	var all sync.WaitGroup
	var mu sync.Mutex
	var errs []error
	gone := false // nobody waits for the rest any more
	for _, l := range c.lanes {
		if !l.busy.TryLock() {
			continue
		}
		c.going.Add(1)
		all.Go(func() {
			defer c.going.Done()
			defer l.busy.Unlock()
			// One message over which the program falls must not end the daemon.
			err := panics.Error(c.log, func() error { return c.drain(ctx, l, now) })
			mu.Lock()
			defer mu.Unlock()
			switch {
			case err == nil:
			case gone:
				c.log.Error("a slow carrier ended badly", "carrier", l.Name(), "err", err)
			default:
				errs = append(errs, fmt.Errorf("carrier %s: %w", l.Name(), err))
			}
		})
	}
	c.await(&all)
	mu.Lock()
	defer mu.Unlock()
	gone = true
	return errors.Join(errs...)
}

// await waits for the carriers, as long as there is patience.
func (c *Courier) await(all *sync.WaitGroup) {
	if c.patience <= 0 {
		all.Wait()
		return
	}
	done := make(chan struct{})
	go func() { all.Wait(); close(done) }()
	enough := time.NewTimer(c.patience)
	defer enough.Stop()
	select {
	case <-done:
	case <-enough.C:
	}
}

// Wait waits for the carriers that went on by themselves. Nothing is handed
// over after it until Drain is called again; the store may be closed.
func (c *Courier) Wait() { c.going.Wait() }
