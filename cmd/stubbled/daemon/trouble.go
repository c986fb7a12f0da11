package daemon

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

// patience is how long a carrier or source may be in trouble before anybody is
// told: a cell that blinks is no news.
const patience = 5 * time.Minute

// downOf is the alarm's word for a medium that fails.
var downOf = map[ladder.Medium]string{ladder.Text: ladder.AlarmSMSDown, ladder.Mail: ladder.AlarmMailDown, ladder.Call: ladder.AlarmCallsDown}

func (d *Daemon) receiverFails(name string) func(error) {
	return func(err error) { d.note(fault{ladder.AlarmRepliesDown, name}, "", err) }
}

func (d *Daemon) sourceFails(name string) func(error) {
	what := ladder.AlarmWeatherDown
	if name == diary.FromThermometer {
		what = ladder.AlarmThermometer
	}
	return func(err error) { d.note(fault{what, name}, "", err) }
}

// onConsole notes what is only printed though somebody is to be told by it. It
// is a fault of the status line and of the health alone: an alarm would be
// printed too.
func (d *Daemon) onConsole() {
	if !UnderService() {
		return
	}
	printed := d.links.OnConsole(d.farm.Load())
	for m, mend := range OnlyPrinted {
		said := fault{downOf[m], "journal"}
		if !slices.Contains(printed, m) {
			d.state.mended(said)
			continue
		}
		d.state.fails(said, failure{since: d.Clock.SinceBoot(), medium: m, elsewhere: true, detail: mend})
	}
}

// OnlyPrinted says what is wrong where a medium speaks on the console of a
// service, and the mend.
var OnlyPrinted = map[ladder.Medium]string{
	ladder.Text: "texts are only printed into the journal: write carriers.sms into the farm file, a modem or a provider",
	ladder.Mail: "mail is only printed into the journal: write carriers.email into the farm file, or take the addresses out",
}

// note notes a fault, or with a nil error that it is over. It may be told once
// only, when it begins.
func (d *Daemon) note(f fault, m ladder.Medium, err error) {
	if err != nil {
		d.state.fails(f, failure{since: d.Clock.SinceBoot(), medium: m, detail: err.Error()})
		return
	}
	if d.state.mended(f) {
		d.Log.Info("well again", "what", f.what, "where", f.where)
	}
}

// foundAtStart notes what the start found wrong, which need not last to be told.
func (d *Daemon) foundAtStart(f fault, m ladder.Medium, err error) {
	d.Log.Error("found at the start", "what", f.what, "where", f.where, "err", err)
	d.state.fails(f, failure{since: d.Clock.SinceBoot() - patience, medium: m, detail: err.Error()})
}

// linksChanged reports whether the farm file in force has other links now, a secret
// is another, or a link that could not be made can be: a secret was put right. A new
// start takes it up.
func (d *Daemon) linksChanged() bool {
	if !UnderService() {
		return false
	}
	return d.relinked || d.links.OtherSecrets(d.farm.Load()) ||
		len(d.links.Broken) > 0 && len(d.connect().Broken) < len(d.links.Broken)
}

// passOn tells the scheduler of what has lasted, and of what is over. By a clock
// that is doubted nothing is dated.
func (d *Daemon) passOn(now time.Time) {
	for what := range d.passedOn {
		if _, still := d.state.longest(what); !still {
			d.sched.Fails(what, "", "", now)
			delete(d.passedOn, what)
		}
	}
	if !d.state.believed() {
		return
	}
	for _, what := range d.state.troubles() {
		f, _ := d.state.longest(what)
		if !f.elsewhere && d.Clock.SinceBoot()-f.since >= patience {
			d.sched.Fails(what, f.medium, f.detail, now)
			d.passedOn[what] = true
		}
	}
}

var lossFault = fault{ladder.AlarmLost, "store"}

// lossTold forgets a loss once somebody was told, as far as can be known.
func (d *Daemon) lossTold(ctx context.Context) {
	for _, t := range d.sched.Troubles() {
		if t.What != ladder.AlarmLost {
			continue
		}
		told, err := d.store.Told(ctx, ladder.AlarmKey(t).String())
		switch {
		case err != nil:
			d.Log.Warn("whether the loss was told is not known", "err", err)
		case told:
			d.store.Forget()
			d.state.mended(lossFault)
		}
	}
}

var diaryFault = fault{ladder.AlarmDiary, "diary"}

func storeFault(err error) string {
	is := func(kinds ...error) bool {
		return slices.ContainsFunc(kinds, func(kind error) bool { return errors.Is(err, kind) })
	}
	switch {
	case is(disk.ErrFull, disk.ErrReadOnly, disk.ErrIO):
		return ladder.AlarmDisk
	case is(disk.ErrDamaged, disk.ErrNotOurs):
		return ladder.AlarmDatabase
	}
	return ladder.AlarmStuck
}

// soon is how long the store may fail before it is said: two turns in a row do,
// since the first gave the reserve back.
const soon = 30 * time.Second

// storeFails hears how the store is. What is wrong with it is said past the
// outbox, which is in it.
func (d *Daemon) storeFails(ctx context.Context, err error, now time.Time) {
	what := storeFault(err)
	for _, w := range []string{ladder.AlarmDisk, ladder.AlarmDatabase, ladder.AlarmStuck} {
		if (err == nil || w != what) && d.state.mended(fault{w, "store"}) {
			d.Log.Info("well again", "what", w, "where", "store")
		}
	}
	if err == nil {
		d.failingSince = nil
		return
	}
	boot := d.Clock.SinceBoot()
	if d.failingSince == nil {
		d.failingSince = &boot
	}
	d.state.fails(fault{what, "store"}, failure{since: boot, detail: err.Error(), elsewhere: true})
	if boot-*d.failingSince >= d.patienceWith(err) {
		d.raise(ctx, what, err, now)
	}
}

// patienceWith is how long an error of the store must last before it is said.
func (d *Daemon) patienceWith(err error) time.Duration {
	switch {
	case errors.Is(err, disk.ErrBusy):
		return patience // another program may be done any moment
	case d.store != nil, errors.Is(err, disk.ErrNoFile), errors.Is(err, disk.ErrReadOnly):
		return soon // as when its disk comes up a little after the daemon
	}
	return 0
}

// doubtFor is how long a clock may be doubted before somebody is told: most doubts
// end by themselves after half an hour of steady running.
const doubtFor = time.Hour

// clockDoubted tells, past the outbox where the reminders wait, of a clock that
// cannot be believed and does not mend.
func (d *Daemon) clockDoubted(ctx context.Context, now time.Time) {
	if d.sched.ClockSure() {
		d.doubtedSince = nil
		d.state.mended(doubt)
		return
	}
	boot := d.Clock.SinceBoot()
	if d.doubtedSince == nil {
		d.doubtedSince = &boot
	}
	if boot-*d.doubtedSince < doubtFor {
		return
	}
	err := fmt.Errorf("the clock shows %s, which cannot be right: set it, or let a time server", now.UTC().Format("Jan 2 2006 15:04"))
	d.state.fails(doubt, failure{since: boot, detail: err.Error(), elsewhere: true})
	d.raise(ctx, ladder.AlarmClock, err, now)
}

var doubt = fault{ladder.AlarmClock, "clock"}
