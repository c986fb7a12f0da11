package daemon

import (
	"context"
	"errors"
	"fmt"

	"stubbled/store/disk"
)

// waitForStore opens the store. Under a service manager a database that cannot be used
// for now is no reason to end, which nobody would see: it is said over the
// carriers, and tried again every minute until somebody mended it. Whoever types
// the command sees the error. Where another daemon has the database that one does
// the work. The store stays nil where the daemon was told to stop meanwhile.
func (d *Daemon) waitForStore(ctx context.Context) error {
	err := d.open(ctx)
	if err == nil || !UnderService() {
		return err
	}
	beat, failed := heartbeat(d.Log, d.nudge)
	if failed != nil {
		return fmt.Errorf("start the heartbeat: %w", failed)
	}
	beat.Start()
	defer beat.Stop()
	for ; err != nil && !errors.Is(err, disk.ErrLocked); err = d.open(ctx) {
		d.Log.Error("there is no database to work with; it is tried again in a minute", "err", err)
		d.storeFails(ctx, err, d.Clock.Now())
		tellStatus(d.state.line(err))
		tell(ready)
		tell(alive)
		select {
		case <-ctx.Done():
			return nil
		case <-d.wake:
			tell(alive) // the whole patience of the watchdog for one try
		}
	}
	return err
}
