package main

import (
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
	if since := d.state.fails(f, now); now.Sub(since) >= patience || isPlain(f, err) {
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

// isPlain reports whether a fault needs no patience: a disk that is full does
// not blink.
func isPlain(f fault, err error) bool {
	return f == ofDisk || f == ofDatabase && (errors.Is(err, store.ErrDamaged) || errors.Is(err, store.ErrLost))
}

// lossTold is for how long after the start a loss at the last end counts as
// trouble: longer than anybody's quiet hours.
const lossTold = 24 * time.Hour

// storeTrouble tells of what is wrong with the disk or the database.
func (d *daemon) storeTrouble(err error, now time.Time) {
	if err == nil {
		err = d.store.Trouble() // a write that failed beside the turn, or a disk on its reserve
	}
	if lost := d.store.Aftermath(); err == nil && now.Sub(d.state.started) < lossTold {
		err = lost
	}
	for _, f := range []fault{ofDisk, ofDatabase} {
		switch {
		case err == nil, storeFault(err) != f:
			d.trouble(f, "", nil, now)
		default:
			d.trouble(f, "", err, now)
		}
	}
}
