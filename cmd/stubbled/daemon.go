package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
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
	links    carriers.Links
	watcher  *config.Watcher
	farm     *atomic.Pointer[config.Farm] // in force; the file is changed while the daemon runs
	wake     chan struct{}
	untilEOF bool // the demo ends with its input
	night    nightly
	state    *state
	cries    *cries
	turned   atomic.Int64    // when the last good turn ended, since boot
	seen     time.Time       // when the last run was certain of the time; zero once the standstill is noted
	opened   time.Duration   // when the store was opened, since boot
	alarms   map[string]bool // what the scheduler was told of, by its word
	ailing   time.Duration   // since when the store fails, since boot
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
	var in atomic.Pointer[config.Farm]
	in.Store(farm)
	d := &daemon{
		env: e, log: log, farm: &in, db: db, runID: runID, wake: make(chan struct{}, 1), state: newState(e.clock),
		links: carriers.Connect(e.links(in.Load, runID)), ailing: well, alarms: map[string]bool{}, cries: newCries(os.Getenv(runtimeDir), log),
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
	d.opened = d.env.clock.SinceBoot()
	if d.seen, err = s.LastSeen(ctx); err != nil {
		d.log.Warn("how long it stood still is not known", "err", err)
	}
	var through door = s
	if d.env.through != nil {
		through = d.env.through(s)
	}
	through = pulse{through, d.pulse}
	d.sched = scheduler.New(scheduler.Options{Store: through, Farm: d.farm.Load(), Logger: d.log, Clock: d.env.clock})
	d.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: through, Carriers: d.links.Carriers, Rules: carriers.Rules(d.farm.Load()), Logger: d.log,
		Sure: d.sched.ClockSure, Fails: d.carrierFails, Patience: slowCarrier,
	})
	for i, b := range d.links.Broken {
		d.found(fault{b.What, fmt.Sprint("link ", i)}, b.Medium, b.Err)
	}
	if lost := s.Loss(); lost != nil {
		d.found(ofLoss, "", lost)
	}
	return nil
}

// slowCarrier is how long a turn waits for a carrier before it goes on without
// it: a mail server that hangs holds no text up.
const slowCarrier = time.Second

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
			if d.linksMended() {
				d.log.Info("what could not be linked can be now: ends, for the service manager to start it anew")
				return d.last()
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
