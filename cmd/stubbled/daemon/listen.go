package daemon

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify"
	"stubbled/scheduler/diary"
	"stubbled/store/panics"
)

// listen starts every receiver and source. Where the demo's input ends so does
// the demo.
func (d *Daemon) listen(ctx context.Context, all *sync.WaitGroup, end func()) {
	for _, r := range d.links.Receivers {
		all.Go(func() {
			d.keepUp(ctx, r.Name(), upAgain, d.receiverFails(r.Name()), func() error { return d.receive(ctx, r) })
			if d.untilEOF {
				end()
			}
		})
	}
	if !d.untilEOF {
		all.Go(func() { d.keepBoard(ctx) })
	}
	for _, s := range d.links.Sources {
		fails := d.sourceFails(s.Name())
		all.Go(func() { d.keepUp(ctx, s.Name(), upAgain, fails, func() error { return s.Run(ctx, d.observe, fails) }) })
	}
}

func (d *Daemon) receive(ctx context.Context, r notify.Receiver) error {
	cursor, err := d.store.Cursor(ctx, r.Name())
	if err != nil {
		return err
	}
	return r.Receive(ctx, cursor, d.courier.Accept(r.Name(), d.Clock.Now), d.receiverFails(r.Name()))
}

// upAgain is how long after a receiver or source ended badly it is started again.
const upAgain = time.Minute

// errEnded is why one that came back without a word must be started again.
var errEnded = errors.New("it ended by itself")

// keepUp runs a receiver or source until it is told to stop. They come back by
// themselves from every failure of their peer, so one that ends has a fault of
// its own, or the database could not be read: that is told, and it is started
// again. The console ends with its input.
func (d *Daemon) keepUp(ctx context.Context, name string, pause time.Duration, fails func(error), run func() error) {
	for ctx.Err() == nil {
		err := panics.Error(d.Log, run)
		if ctx.Err() != nil || err == nil && name == "console" {
			return
		}
		if err == nil {
			err = errEnded
		}
		d.Log.Error("it ended, and is started again soon", "carrier", name, "err", err)
		fails(err)
		_ = notify.Wait(ctx, pause) // the loop looks whether it was told to stop
	}
}

// observe keeps what a weather source saw, on the farm's own days.
func (d *Daemon) observe(ctx context.Context, got []diary.Observation) error {
	now := d.Clock.Now()
	for i := range got {
		if got[i].Day.IsZero() {
			got[i].Day = civil.DateOf(got[i].At.In(d.farm.Load().Zone))
		}
	}
	if err := d.store.Observe(ctx, got, now); err != nil {
		return fmt.Errorf("keep %d observations: %w", len(got), err)
	}
	d.nudge()
	return nil
}
