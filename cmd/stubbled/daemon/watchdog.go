package daemon

import (
	"context"
	"time"

	"stubbled/store"
)

// Watched is a store of which every write that went well says that the daemon
// lives: on a slow disk the many texts of a wet Saturday take more than the
// watchdog's patience, and starting again would make it slower.
type watched struct {
	Store
	alive func()
}

// longTurn is how long one turn may take that way. What writes on and on without
// an end is a fault too.
const longTurn = 10 * time.Minute

func (d *Daemon) stillAlive() {
	if d.Clock.SinceBoot()-time.Duration(d.turned.Load()) < longTurn {
		tellAlive()
	}
}

func (w watched) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	err := w.Store.Update(ctx, now, decide)
	if err == nil {
		w.alive()
	}
	return err
}

func (w watched) Claim(ctx context.Context, now time.Time, f store.ClaimFor, word func(*store.Envelope) error) (*store.Message, error) {
	m, err := w.Store.Claim(ctx, now, f, word)
	if m != nil {
		w.alive()
	}
	return m, err
}

func (w watched) Settle(ctx context.Context, attempt int64, o store.Outcome, now time.Time) error {
	err := w.Store.Settle(ctx, attempt, o, now)
	if err == nil {
		w.alive()
	}
	return err
}
