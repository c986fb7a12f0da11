package main

import (
	"context"
	"errors"
	"fmt"

	"stubbled/store"
)

// await opens the store. Under a service manager a database that cannot be used
// for now is no reason to end, which nobody would see: it is said over the
// carriers, and tried again every minute until somebody mended it. Whoever types
// the command sees the error.
func (d *daemon) await(ctx context.Context) error {
	err := d.open(ctx)
	if err == nil || !mendable(err) || !underService() {
		return err
	}
	beat, err2 := heartbeat(d.log, d.nudge)
	if err2 != nil {
		return fmt.Errorf("start the heartbeat: %w", err2)
	}
	beat.Start()
	defer beat.Stop()
	for err != nil {
		if !mendable(err) {
			return err
		}
		d.log.Error("there is no database to work with; it is tried again in a minute", "err", err)
		tellReady()
		tellStatus(d.state.line(err))
		tellAlive()
		d.storeFails(ctx, err, d.env.clock.Now())
		select {
		case <-ctx.Done():
			return nil
		case <-d.wake:
			err = d.open(ctx)
		}
	}
	d.log.Info("the database can be used again")
	return nil
}

// mendable reports whether a person can mend, while the daemon waits, what keeps
// the database from being opened.
func mendable(err error) bool {
	for _, kind := range []error{store.ErrFull, store.ErrReadOnly, store.ErrIO, store.ErrDamaged, store.ErrNotOurs, store.ErrNoFile} {
		if errors.Is(err, kind) {
			return true
		}
	}
	return false
}
