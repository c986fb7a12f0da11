package daemon

import (
	"context"
	"slices"
	"time"

	"stubbled/notify"
	"stubbled/store"
)

// A brought is what a receiver brought while the loop waited: the turn that hears it
// keeps it too, which costs one commit and not two.
type brought struct {
	through notify.Outbox
	carrier string
	got     []store.In
	cursor  string
	now     time.Time
	kept    chan error // told once, as soon as it is kept or cannot be
	told    bool
}

// inbox is a store that the loop takes up what comes in for.
type inbox struct {
	Store
	d *Daemon
}

func (i inbox) Accept(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time) error {
	return i.d.accept(ctx, i.Store, carrier, got, cursor, now)
}

// accept keeps what came in, and has it heard. While a turn is under way it is kept
// at once, for the next: no peer waits for a slow carrier.
func (d *Daemon) accept(ctx context.Context, through notify.Outbox, carrier string, got []store.In, cursor string, now time.Time) error {
	if !slices.ContainsFunc(got, func(in store.In) bool { return in.Report == nil }) {
		return through.Accept(ctx, carrier, got, cursor, now)
	}
	b := &brought{through: through, carrier: carrier, got: got, cursor: cursor, now: now, kept: make(chan error, 1)}
	select {
	case d.brought <- b:
		return <-b.kept
	default:
	}
	err := through.Accept(ctx, carrier, got, cursor, now)
	if err == nil {
		d.nudge()
	}
	return err
}

// takes keeps what was brought and hears it with all that waits; heard is false where
// there is nothing, or it was only kept.
func (d *Daemon) takes(ctx context.Context, b *brought, now time.Time) (heard bool, err error) {
	if b == nil {
		return false, nil
	}
	heard, err = d.sched.Accept(ctx, b.carrier, b.got, b.cursor, now)
	b.tell(err)
	return heard, err
}

func (b *brought) tell(err error) {
	b.told = true
	b.kept <- err
}

// onlyKept keeps what a turn that failed did not come to.
func (b *brought) onlyKept() {
	if b != nil && !b.told {
		b.tell(b.through.Accept(context.Background(), b.carrier, b.got, b.cursor, b.now))
	}
}
