// Package daemon is in charge of the running program: it wakes the scheduler and
// the courier, keeps its carriers and its store going through whatever the machine
// does, and says how it is. It decides nothing that is said to people but what is
// wrong with the machine itself. A service never ends over a fault: it is told,
// once a day, and tried again.
package daemon

import (
	"context"
	"errors"
	"fmt"
	"os"
	"sync"
	"time"

	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/store"
)

// Run runs the daemon of a farm until it is told to stop.
func Run(ctx context.Context, o Options) error {
	d := prepare(o)
	if err := d.state.serve(ctx, d.Log); err != nil {
		d.Log.Warn("nobody can ask how the daemon is", "err", err)
	}
	return d.live(ctx)
}

// live runs on the store, and where that proves to be damaged waits for another.
func (d *Daemon) live(ctx context.Context) error {
	d.watcher = config.NewWatcher(d.farm.Load())
	for {
		if err := d.waitForStore(ctx); err != nil || d.store == nil {
			return err
		}
		d.prove(ctx)
		err := d.run(ctx)
		if _, bad := d.proved(); bad == nil || !UnderService() || ctx.Err() != nil {
			return err
		}
		d.suspect, d.store = true, nil
	}
}

// Demo runs one until its input ends.
func Demo(ctx context.Context, o Options) error {
	d, err := Open(ctx, o)
	if err != nil {
		return err
	}
	d.untilEOF = true
	return d.run(ctx)
}

// Open makes a daemon with its store open, to be turned by hand.
func Open(ctx context.Context, o Options) (*Daemon, error) {
	d := prepare(o)
	if err := d.open(ctx); err != nil {
		return d, err
	}
	d.prove(ctx)
	<-d.proof.done
	return d, nil
}

// Close closes what Open opened.
func (d *Daemon) Close() error { return d.store.Close() }

// prepare makes all of a daemon that needs no store: the links, so that it can
// say at least that it has none.
func prepare(o Options) *Daemon {
	now := o.Clock.Now()
	d := &Daemon{
		Options: o, runID: fmt.Sprintf("%s-%d", now.UTC().Format("20060102T150405"), now.Nanosecond()/1000), wake: make(chan struct{}, 1), brought: make(chan *brought),
		state: &state{clock: o.Clock, started: now, failing: map[fault]failure{}}, passedOn: map[string]bool{}, alarms: newAlarms(os.Getenv(runtimeDir), o.Log),
	}
	d.farm.Store(o.Farm)
	d.links = d.connect()
	d.turned.Store(int64(o.Clock.SinceBoot()))
	return d
}

// open opens the store and puts the parts together: store, scheduler, courier,
// carriers.
func (d *Daemon) open(ctx context.Context) error {
	now := d.Clock.Now()
	s, err := store.Open(ctx, d.DB, store.Options{RunID: d.runID, Now: now, Logger: d.Log, Farm: ownerOf(d.farm.Load())})
	if err != nil {
		return err
	}
	if d.suspect {
		if err := s.QuickCheck(ctx); err != nil {
			return errors.Join(err, s.Close())
		}
		d.suspect = false
	}
	d.store = s
	d.opened = d.Clock.SinceBoot()
	if d.seen, err = s.LastSeen(ctx); err != nil {
		d.Log.Warn("how long it stood still is not known", "err", err)
	}
	var through Store = s
	if d.Through != nil {
		through = d.Through(s)
	}
	through = watched{through, d.stillAlive}
	d.sched = scheduler.New(scheduler.Options{Store: through, Farm: d.farm.Load(), Logger: d.Log, Clock: d.Clock})
	d.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: inbox{through, d}, Carriers: d.links.Carriers, Rules: d.rules(), Logger: d.Log,
		Sure: d.sched.ClockSure, Patience: slowCarrier,
		Fails: func(c notify.Carrier, err error) { d.note(fault{downOf[c.Medium()], c.Name()}, c.Medium(), err) },
	})
	for i, b := range d.links.Broken {
		d.foundAtStart(fault{b.What, fmt.Sprint("link ", i)}, b.Medium, b.Err)
	}
	if lost := s.Loss(); lost != nil {
		d.foundAtStart(lossFault, "", lost)
	}
	return nil
}

// ownerOf is whose database a farm's is.
func ownerOf(farm *config.Farm) store.Farm { return store.Farm{Name: farm.Name, Was: farm.Was} }

// slowCarrier is how long a turn waits for a carrier before it goes on without
// it: a mail server that hangs holds no text up.
const slowCarrier = time.Second

// run is the life of the daemon: a pass before the courier, then one of each a
// minute, and at once where something came in.
func (d *Daemon) run(ctx context.Context) error {
	defer d.store.Close()
	if err := d.Turn(ctx); err != nil {
		// Whatever is wrong with the disk today may be mended tomorrow.
		d.Log.Error("the first turn failed; it is tried again in a minute", "err", err)
	}
	tell(ready)
	beat, err := heartbeat(d.Log, d.nudge)
	if err != nil {
		return fmt.Errorf("start the heartbeat: %w", err)
	}
	beat.Start()
	inner, stop := context.WithCancel(ctx)
	defer stop()
	var listening sync.WaitGroup
	d.listen(inner, &listening, stop)
	err = d.loop(inner)
	stop()
	<-beat.Stop().Done()
	listening.Wait()
	d.courier.Wait()
	tell(stopping)
	return err
}

// loop turns on every wake until it is told to stop. A turn that fails is tried
// again on the next one.
func (d *Daemon) loop(ctx context.Context) error {
	begun := time.After(beginning)
	for {
		var b *brought
		select {
		case <-ctx.Done():
			return d.last()
		case <-begun:
			letGo()
			continue
		case <-d.wake:
		case b = <-d.brought:
		}
		if err := d.turn(ctx, b); err != nil && ctx.Err() == nil {
			d.Log.Error("turn failed; it is tried again in a minute", "err", err)
		}
		if _, bad := d.proved(); bad != nil {
			return bad
		}
		if d.Clock.SinceBoot()-d.opened > settled {
			d.settle.Do(letGo)
			unmap() // until the next minute nothing runs
		}
		if d.linksChanged() {
			d.Log.Info("carriers or sources were changed or mended: ends, for the service manager to start it anew")
			return d.last()
		}
	}
}

// How long after the start what only it needed is let go of: when all has begun to
// run, and again when its last work is done too, the file proved and the carriers
// called.
const (
	beginning = 3 * time.Second
	settled   = time.Minute
)

// last hands over what was heard just before the end.
func (d *Daemon) last() error {
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	err := d.Turn(ctx)
	d.courier.Wait() // for what waited for its carrier's turn
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return nil
	}
	return err
}
