package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
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
		d.wellAgain(f)
		if other, left := d.state.another(f.what); !left {
			d.sched.Fails(f.what, "", "", now)
		} else if now.Sub(other.since) >= patience {
			d.sched.Fails(f.what, other.medium, other.detail, now)
		}
		return
	}
	if since := d.state.fails(f, m, err, now); now.Sub(since) >= patience {
		d.sched.Fails(f.what, m, err.Error(), now)
	}
}

func (d *daemon) wellAgain(f fault) {
	if d.state.well(f) {
		d.log.Info("well again", "what", f.what, "where", f.where)
	}
}

// linksBroken tells of the links that could not be made.
func (d *daemon) linksBroken(now time.Time) {
	for i, b := range d.links.broken {
		d.log.Error("goes on without it", "what", b.what, "err", b.err)
		d.state.fails(fault{b.what, fmt.Sprint("link ", i)}, b.medium, b.err, now.Add(-patience))
		d.sched.Fails(b.what, b.medium, b.err.Error(), now)
	}
}

// linksMended reports whether a link that could not be made can be made now: a
// secret was put right. A new start takes it up.
func (d *daemon) linksMended() bool {
	if len(d.links.broken) == 0 || !underService() {
		return false
	}
	return len(connect(d.env, d.farm, d.runID).broken) < len(d.links.broken)
}

// storeFault is the alarm's word for what a turn failed with.
func storeFault(err error) string {
	is := func(kinds ...error) bool {
		return slices.ContainsFunc(kinds, func(kind error) bool { return errors.Is(err, kind) })
	}
	switch {
	case is(store.ErrFull, store.ErrReadOnly, store.ErrIO):
		return ladder.AlarmDisk
	case is(store.ErrDamaged, store.ErrNotOurs):
		return ladder.AlarmDatabase
	}
	return ladder.AlarmStuck
}

// soon is how long the store may fail before it is said: two turns in a row do,
// since the first gave the reserve back.
const soon = 30 * time.Second

// well is since when the store fails where it does not.
const well time.Duration = -1

// storeFails hears how the store is. What is wrong with it is said past the
// outbox, which is in it.
func (d *daemon) storeFails(ctx context.Context, err error, now time.Time) {
	what := storeFault(err)
	for _, w := range []string{ladder.AlarmDisk, ladder.AlarmDatabase, ladder.AlarmStuck} {
		if err == nil || w != what {
			d.wellAgain(fault{w, "store"})
		}
	}
	if err == nil {
		d.ailing = well
		return
	}
	boot := d.env.clock.SinceBoot()
	if d.ailing == well {
		d.ailing = boot
	}
	d.state.fails(fault{what, "store"}, "", err, now)
	wait := soon
	switch {
	case errors.Is(err, store.ErrBusy):
		wait = patience // another program may be done any moment
	case d.store == nil:
		wait = 0 // nothing to wait for: there is no reserve
	}
	if boot-d.ailing >= wait {
		d.cry(ctx, what, err, now)
	}
}

// lossTold is for how long a loss at the last end counts as trouble: longer than
// anybody's quiet hours.
const lossTold = 24 * time.Hour

// lossFound tells of what the last end lost.
func (d *daemon) lossFound(now time.Time) {
	detail := ""
	if found, lost := d.store.Aftermath(); lost != nil && now.Sub(found).Abs() < lossTold {
		detail = lost.Error()
	}
	d.sched.Fails(ladder.AlarmLost, "", detail, now)
}
