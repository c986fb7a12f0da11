package main

import (
	"context"
	"errors"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// patience is how long a carrier or source may be in trouble before anybody is
// told: a cell that blinks is no news.
const patience = 5 * time.Minute

// carrierFails hears how a carrier is.
func (d *daemon) carrierFails(c notify.Carrier, err error, now time.Time) {
	what := ladder.AlarmSMSDown
	if c.Medium() == ladder.Mail {
		what = ladder.AlarmMailDown
	}
	d.trouble(fault{what, c.Name()}, c.Medium(), err, now)
}

func (d *daemon) receiverFails(name string) func(error) {
	return func(err error) { d.trouble(fault{ladder.AlarmRepliesDown, name}, "", err, d.env.clock.Now()) }
}

func (d *daemon) sourceFails(name string) func(error) {
	what := ladder.AlarmWeatherDown
	if name == diary.FromThermometer {
		what = ladder.AlarmThermometer
	}
	return func(err error) { d.trouble(fault{what, name}, "", err, d.env.clock.Now()) }
}

// trouble tells the scheduler of a fault once it has lasted, and that all is
// well again once nobody has it any more.
func (d *daemon) trouble(f fault, m ladder.Medium, err error, now time.Time) {
	if err == nil {
		was, others := d.state.well(f)
		if was {
			d.log.Info("well again", "what", f.what, "where", f.where)
		}
		if !others {
			d.sched.Fails(f.what, "", "", now)
		}
		return
	}
	if since := d.state.fails(f, now); now.Sub(since) >= patience {
		d.sched.Fails(f.what, m, err.Error(), now)
	}
}

// linksBroken tells of the links that could not be made; that lasts until the
// next start.
func (d *daemon) linksBroken(now time.Time) {
	for _, b := range d.links.broken {
		d.log.Error("goes on without it until the next start", "what", b.what, "err", b.err)
		d.state.fails(fault{b.what, "farm file"}, now)
		d.sched.Fails(b.what, b.medium, b.err.Error(), now)
	}
}

// The faults of the store: both are of the turn.
var (
	ofDisk     = fault{ladder.AlarmDisk, "store"}
	ofDatabase = fault{ladder.AlarmDatabase, "store"}
)

// storeFault is which of the two an error is.
func storeFault(err error) fault {
	for _, kind := range []error{store.ErrFull, store.ErrReadOnly, store.ErrIO} {
		if errors.Is(err, kind) {
			return ofDisk
		}
	}
	return ofDatabase
}

// lossTold is for how long after the start a loss at the last end counts as
// trouble: longer than anybody's quiet hours.
const lossTold = 24 * time.Hour

// lossFound tells of what the last end lost.
func (d *daemon) lossFound(now time.Time) {
	detail := ""
	if lost := d.store.Aftermath(); lost != nil && now.Sub(d.state.started) < lossTold {
		detail = lost.Error()
	}
	d.sched.Fails(ladder.AlarmDatabase, "", detail, now)
}

// soon is how long the store may fail before it is said: two turns in a row do,
// since the first gave the reserve back.
const soon = 30 * time.Second

// storeFails hears how disk and database are. What is wrong with them is said
// past the outbox, which is on them.
func (d *daemon) storeFails(ctx context.Context, err error, now time.Time) {
	for _, f := range []fault{ofDisk, ofDatabase} {
		if err != nil && storeFault(err) == f {
			continue
		}
		if was, _ := d.state.well(f); was {
			d.log.Info("well again", "what", f.what, "where", f.where)
		}
	}
	if err == nil {
		return
	}
	f, wait := storeFault(err), soon
	if errors.Is(err, store.ErrBusy) {
		wait = patience // another program may be done any moment
	}
	if now.Sub(d.state.fails(f, now)) >= wait {
		d.cry(ctx, f, err, now)
	}
}
