package notify

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"stubbled/store/panics"
)

// Drain hands over everything that is due, the carriers side by side and on
// each the most urgent first. It comes back when nothing is due or a carrier is
// in trouble; what it could not hand over waits for its next try. One that is
// slower than the courier's patience is left to go on by itself, so that a mail
// server that hangs holds up no text; asked again meanwhile, it goes on with what
// has come since, by the newest time and context.
func (c *Courier) Drain(ctx context.Context, now time.Time) error {
	var all sync.WaitGroup
	var mu sync.Mutex
	var errs []error
	gone := false // nobody waits for the rest any more
	for _, l := range c.lanes {
		if !l.ask(ctx, now) {
			continue
		}
		c.going.Add(1)
		all.Go(func() {
			defer c.going.Done()
			// One message over which the program falls must not end the daemon.
			err := panics.Error(c.Logger, func() error { return c.run(l) })
			mu.Lock()
			defer mu.Unlock()
			switch {
			case err == nil:
			case gone:
				c.Logger.Error("a slow carrier ended badly", "carrier", l.Name(), "err", err)
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
	if c.Patience <= 0 {
		all.Wait()
		return
	}
	done := make(chan struct{})
	go func() { all.Wait(); close(done) }()
	enough := time.NewTimer(c.Patience)
	defer enough.Stop()
	select {
	case <-done:
	case <-enough.C:
	}
}

// Wait waits for the carriers that went on by themselves. Nothing is handed
// over after it until Drain is called again; the store may be closed.
func (c *Courier) Wait() { c.going.Wait() }
