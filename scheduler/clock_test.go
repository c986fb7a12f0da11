package scheduler

import (
	"path/filepath"
	"testing"
	"time"

	"stubbled/config"
	"stubbled/store"
)

// A wall is a machine's clock that a test can set, with the steady time beside
// it.
type wall struct {
	now    time.Time
	boot   time.Duration
	synced bool
}

func (w *wall) SinceBoot() time.Duration { return w.boot }
func (w *wall) Synced() bool             { return w.synced }

// run lets both go on.
func (w *wall) run(d time.Duration) { w.now, w.boot = w.now.Add(d), w.boot+d }

// office is the demo farm's machine.
type office struct {
	t     *testing.T
	path  string
	clock *wall
	store *store.Store
	sched *Scheduler
}

func newOffice(t *testing.T) *office {
	o := &office{t: t, path: filepath.Join(t.TempDir(), "farm.db"), clock: &wall{now: time.Date(2026, 8, 20, 15, 0, 0, 0, time.UTC), boot: time.Minute}}
	o.start()
	return o
}

func (o *office) start() {
	farm, err := config.Demo()
	if err != nil {
		o.t.Fatal(err)
	}
	o.store, err = store.Open(o.t.Context(), o.path, store.Options{RunID: o.clock.now.String(), Now: o.clock.now})
	if err != nil {
		o.t.Fatal(err)
	}
	o.sched = New(Options{Store: o.store, Farm: farm, Clock: o.clock})
	o.t.Cleanup(func() { o.store.Close() })
}

// powerCut is the machine dark for a while, its clock showing something else
// afterwards.
func (o *office) powerCut(shows time.Time) {
	o.store.Close()
	o.clock.now, o.clock.boot = shows, 20*time.Second
	o.start()
}

func (o *office) pass() bool {
	o.t.Helper()
	if _, err := o.sched.Pass(o.t.Context(), o.clock.now); err != nil {
		o.t.Fatal(err)
	}
	return o.sched.ClockSure()
}

func (o *office) minutes(n int) (sure bool) {
	for range n {
		o.clock.run(time.Minute)
		sure = o.pass()
	}
	return sure
}

func TestAClockThatRunsSteadilyIsBelieved(t *testing.T) {
	o := newOffice(t)
	if !o.pass() || !o.minutes(90) {
		t.Error("a steady clock is doubted")
	}
}

func TestAClockThatStartsIn1970IsNotBelieved(t *testing.T) {
	o := newOffice(t)
	o.pass()
	o.powerCut(time.Unix(1000, 0))
	if o.pass() || o.minutes(10) {
		t.Error("reminders go out in 1970")
	}
	o.clock.now, o.clock.synced = time.Date(2026, 8, 23, 9, 0, 0, 0, time.UTC), true // the network came
	if !o.minutes(1) {
		t.Error("the time server's word is not believed")
	}
}

func TestAClockThatJumpsAYearAheadWaitsAndLeavesNoTrace(t *testing.T) {
	o := newOffice(t)
	o.pass()
	before := o.seen()
	o.clock.now = o.clock.now.AddDate(1, 0, 0)
	if o.minutes(5) {
		t.Error("reminders go out a year ahead")
	}
	if o.seen() != before {
		t.Error("an unconfirmed time was kept")
	}
	o.clock.now = o.clock.now.AddDate(-1, 0, 0)
	o.minutes(1)
	if !o.minutes(31) {
		t.Error("after half an hour of steady running it is still doubted")
	}
}

func TestSuspendIsNoJump(t *testing.T) {
	o := newOffice(t)
	o.pass()
	o.clock.run(9 * time.Hour) // the steady clock goes on through suspend
	if !o.pass() {
		t.Error("a machine that slept is doubted")
	}
}

func TestAfterADarkNightReminderWaitForHalfAnHourOrTheTimeServer(t *testing.T) {
	o := newOffice(t)
	o.pass()
	o.powerCut(o.clock.now.Add(3 * 24 * time.Hour))
	if o.pass() {
		t.Error("a clock that may have no battery is believed at once")
	}
	if o.minutes(29) {
		t.Error("believed before half an hour")
	}
	if !o.minutes(2) {
		t.Error("not believed after half an hour of steady running")
	}
}

func TestARestartOfTheProgramAloneDoubtsNothing(t *testing.T) {
	o := newOffice(t)
	o.clock.boot = 40 * 24 * time.Hour
	o.pass()
	o.store.Close()
	o.clock.run(2 * time.Hour)
	o.start()
	if !o.pass() {
		t.Error("the machine kept running and is doubted")
	}
}

func TestAClockThatStaysBehindIsBelievedInTheEnd(t *testing.T) {
	o := newOffice(t)
	o.pass()
	o.powerCut(o.clock.now.Add(-48 * time.Hour))
	if o.pass() {
		t.Error("a clock behind the last time seen is believed")
	}
	if !o.minutes(31) {
		t.Error("it waits for ever")
	}
}

func TestATextHeardByAWrongClockPlansNothing(t *testing.T) {
	o := newOffice(t)
	o.clock.now = time.Date(2026, 7, 20, 15, 0, 0, 0, time.UTC) // the fall ahead is to be said
	o.pass()
	now := o.clock.now
	before := o.waiting(now)
	if before == 0 {
		t.Fatal("nothing waits")
	}
	ana := o.sched.farm.Contacts[0]
	if err := o.store.Accept(t.Context(), "sms", []store.In{{ID: "1", From: ana.Phone, Contact: ana.Name, Text: "status", Sent: now.Add(time.Hour)}}, "", now); err != nil {
		t.Fatal(err)
	}
	o.powerCut(now.AddDate(1, 0, 0)) // the clock lost its battery and shows next year
	o.pass()
	if unheard, err := o.store.Pending(t.Context()); err != nil || len(unheard) != 0 {
		t.Fatalf("the text was not heard: %+v, %v", unheard, err)
	}
	if after := o.waiting(now); after != before {
		t.Errorf("%d reminders waited, and after a text by the wrong clock %d", before, after)
	}
}

// waiting counts what is due at a moment and not said yet.
func (o *office) waiting(now time.Time) (due int) {
	all, err := o.store.Fates(o.t.Context())
	if err != nil {
		o.t.Fatal(err)
	}
	for _, f := range all {
		n := f.Notice
		if f.State == store.Queued && !n.NotBefore.After(now) && (n.GoodUntil.IsZero() || !n.GoodUntil.Before(now)) {
			due++
		}
	}
	return due
}

func (o *office) seen() time.Time {
	at, err := o.store.LastSeen(o.t.Context())
	if err != nil {
		o.t.Fatal(err)
	}
	return at
}
