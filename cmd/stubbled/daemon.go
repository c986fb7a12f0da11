package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"reflect"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// A daemon is everything that runs for one farm.
type daemon struct {
	env      *env
	log      *slog.Logger
	db       string // the database file
	runID    string
	store    *store.Store // nil until it could be opened
	sched    *scheduler.Scheduler
	courier  *notify.Courier
	links    links
	watcher  *config.Watcher
	farm     *inForce
	wake     chan struct{}
	untilEOF bool // the demo ends with its input
	night    nightly
	state    *state
	cries    *cries
	turned   atomic.Int64 // when the last turn ended, since boot
}

// newDaemon is a daemon with its store open.
func newDaemon(ctx context.Context, e *env, farm *config.Farm, db string, log *slog.Logger) (*daemon, error) {
	d := prepare(e, farm, db, log)
	return d, d.open(ctx)
}

// prepare makes all of a daemon that needs no store: the links, so that it can
// say at least that it has none.
func prepare(e *env, farm *config.Farm, db string, log *slog.Logger) *daemon {
	now := e.clock.Now()
	runID := fmt.Sprintf("%s-%d", now.UTC().Format("20060102T150405"), now.Nanosecond()/1000)
	in := putInForce(farm)
	d := &daemon{
		env: e, log: log, farm: in, db: db, runID: runID, wake: make(chan struct{}, 1), state: newState(e.clock),
		links: connect(e, in, runID), cries: newCries(os.Getenv(runtimeDir), log),
	}
	d.turned.Store(int64(e.clock.SinceBoot()))
	return d
}

// open opens the store and puts the parts together: store, scheduler, courier,
// carriers.
func (d *daemon) open(ctx context.Context) error {
	now := d.env.clock.Now()
	s, err := store.Open(ctx, d.db, store.Options{RunID: d.runID, Now: now, Logger: d.log})
	if err != nil {
		return err
	}
	d.store = s
	var through door = s
	if d.env.through != nil {
		through = d.env.through(s)
	}
	through = pulse{through, d.pulse}
	d.sched = scheduler.New(scheduler.Options{Store: through, Farm: d.farm.Load(), Logger: d.log, Clock: d.env.clock})
	d.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: through, Carriers: d.links.carriers, Rules: rules(d.farm.Load()), Logger: d.log,
		Sure: d.sched.ClockSure, Fails: d.carrierFails, Patience: slowCarrier,
	})
	d.linksBroken(now)
	return nil
}

// slowCarrier is how long a turn waits for a carrier before it goes on without
// it: a mail server that hangs holds no text up.
const slowCarrier = time.Second

// rules are what the courier needs of the farm file.
func rules(farm *config.Farm) notify.Rules {
	return notify.Rules{
		Farm: farm.Name, Zone: farm.Zone, Contacts: farm.Contacts, Cap: farm.Cap,
		Centimetres: farm.Units == config.Centimetres,
	}
}

// run is the life of the daemon: a pass before the courier, then one of each a
// minute, and at once where something came in.
func (d *daemon) run(ctx context.Context) error {
	defer d.store.Close()
	if err := d.turn(ctx); err != nil {
		// Whatever is wrong with the disk today may be mended tomorrow.
		d.log.Error("the first turn failed; it is tried again in a minute", "err", err)
	}
	tellReady()
	beat, err := heartbeat(d.log, d.nudge)
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
	tellStopping()
	return err
}

// loop turns on every wake until it is told to stop. A turn that fails is tried
// again on the next one.
func (d *daemon) loop(ctx context.Context) error {
	for {
		select {
		case <-ctx.Done():
			return d.last()
		case <-d.wake:
			if err := d.turn(ctx); err != nil && ctx.Err() == nil {
				d.log.Error("turn failed; it is tried again in a minute", "err", err)
			}
		}
	}
}

// last hands over what was heard just before the end.
func (d *daemon) last() error {
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	err := d.turn(ctx)
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return nil
	}
	return err
}

// nudge asks for a turn; one that waits already is enough.
func (d *daemon) nudge() {
	select {
	case d.wake <- struct{}{}:
	default:
	}
}

// turn is one pass and one drain.
func (d *daemon) turn(ctx context.Context) error {
	now := d.env.clock.Now()
	defer func() { d.turned.Store(int64(d.env.clock.SinceBoot())) }()
	d.reload(now)
	d.look(ctx, now)
	d.lossFound(now)
	err := d.work(ctx, now)
	if err == nil {
		d.night.maybe(ctx, d, now)
		err = d.store.Check(ctx)
	}
	if ctx.Err() != nil {
		return err // told to stop, which is no trouble
	}
	d.state.knows(d.sched.ClockSure(), d.sched.Troubles())
	if err == nil || d.waits(ctx, err) {
		tellAlive()
	}
	trouble := err
	if err == nil {
		trouble = d.store.Trouble() // a write that failed beside the turn, or a disk on its reserve
	}
	d.storeFails(ctx, trouble, now)
	tellStatus(d.state.line(trouble))
	return err
}

// waits reports whether a turn that failed is best tried again. Where the disk is
// full or another program holds the database a new start mends nothing, as long
// as there is something to read; whatever else fails, the watchdog may try one.
func (d *daemon) waits(ctx context.Context, err error) bool {
	if !errors.Is(err, store.ErrFull) && !errors.Is(err, store.ErrReadOnly) && !errors.Is(err, store.ErrBusy) {
		return false
	}
	_, err = d.store.OptOuts(ctx)
	return err == nil
}

// work is what a turn is for. A fault of the program is one of the turn: ended by
// it, the daemon would be started and end again, and nobody would hear of it.
func (d *daemon) work(ctx context.Context, now time.Time) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			d.log.Error("a fault of the program", "fault", fault, "stack", string(debug.Stack()))
			err = fmt.Errorf("a fault of the program: %v", fault)
		}
	}()
	if _, err := d.sched.Pass(ctx, now); err != nil {
		return fmt.Errorf("pass: %w", err)
	}
	d.state.passed(now)
	if err := d.courier.Drain(ctx, now); err != nil {
		return fmt.Errorf("drain: %w", err)
	}
	return nil
}

// reload takes a farm file that was changed on disk. One that is refused leaves
// the old one in force, and the manager is told once.
func (d *daemon) reload(now time.Time) {
	if d.watcher == nil {
		return
	}
	farm, err := d.watcher.Check()
	switch {
	case err != nil:
		d.log.Warn("the farm file on disk is refused; the old one stays in force", "err", err)
		d.sched.Use(nil, &ladder.BadFile{Digest: digest(err.Error()), Detail: err.Error()})
	case farm != nil:
		d.log.Info("the farm file was read again")
		old := d.farm.Load()
		if !reflect.DeepEqual(farm.Carriers, old.Carriers) || !reflect.DeepEqual(farm.Weather, old.Weather) {
			d.log.Warn("carriers or weather were changed: that takes a restart of the daemon")
		}
		d.farm.Store(farm)
		d.keepFarm(farm)
		d.sched.Use(farm, nil)
		d.courier.Use(rules(farm))
	}
}

// listen starts every receiver and source. Where the demo's input ends so does
// the demo.
func (d *daemon) listen(ctx context.Context, all *sync.WaitGroup, end func()) {
	for _, r := range d.links.receivers {
		all.Go(func() {
			cursor, err := d.store.Cursor(ctx, r.Name())
			if err == nil {
				err = r.Receive(ctx, cursor, d.courier.Accept(r.Name(), d.env.clock.Now, d.nudge), d.receiverFails(r.Name()))
			}
			if err != nil && ctx.Err() == nil {
				d.log.Error("receiver ended", "carrier", r.Name(), "err", err)
			}
			if d.untilEOF {
				end()
			}
		})
	}
	for _, s := range d.links.sources {
		all.Go(func() {
			if err := s.Run(ctx, d.observe, d.sourceFails(s.Name())); err != nil && ctx.Err() == nil {
				d.log.Error("weather source ended", "source", s.Name(), "err", err)
			}
		})
	}
}
