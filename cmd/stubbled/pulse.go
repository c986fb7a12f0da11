package main

import (
	"context"
	"time"

	"stubbled/store"
)

// A pulse is a store of which every write that went well says that the daemon
// lives: on a slow disk the many texts of a wet Saturday take more than the
// watchdog's patience, and starting again would make it slower.
type pulse struct {
	door
	beat func()
}

// longTurn is how long one turn may take that way. What writes on and on without
// an end is a fault too.
const longTurn = 10 * time.Minute

func (d *daemon) pulse() {
	if d.env.clock.SinceBoot()-time.Duration(d.turned.Load()) < longTurn {
		tellAlive()
	}
}

func (p pulse) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	err := p.door.Update(ctx, now, decide)
	if err == nil {
		p.beat()
	}
	return err
}

func (p pulse) Settle(ctx context.Context, attempt int64, o store.Outcome, now time.Time) error {
	err := p.door.Settle(ctx, attempt, o, now)
	if err == nil {
		p.beat()
	}
	return err
}
