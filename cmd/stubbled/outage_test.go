package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/internal/farmtest"
)

// A person finds the machine on Sep 2, after three dark days over the cutoff of
// Sep 1.
func TestWhoFindsTheMachineAfterAPowerCutReadsWhatHappened(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-30 10:00")
	o.turn("2026-08-30 10:00")
	if out, code := o.typed("check"); code != exitFine || !strings.Contains(out, "fine   daemon     runs (process ") || strings.Contains(out, "nothing is known") {
		t.Errorf("before it check says\n%s", out)
	}
	o.d.Close()
	if out, _ := o.typed("check"); !strings.Contains(out, "look   daemon     does not run; its last pass was Aug 30 10:00") {
		t.Errorf("while it is down check says\n%s", out)
	}
	o = newOffice(t, file, "2026-09-02 09:00")
	o.turn("2026-09-02 09:00")
	o.turn("2026-09-02 09:01")
	out, code := o.typed("check")
	const want = "nothing is known from Aug 30 10:00 to Sep 2 09:00: it stood still, or a copy was put back; in it fell the cutoff of Creek Bottom on Sep 1, North 40 on Sep 1: 'stubbled season' says how they stand"
	if code != exitFine || !strings.Contains(out, want) || !strings.Contains(out, "last pass Sep 2 09:01") {
		t.Errorf("after it check says\n%s", out)
	}
	o.d.Close()
	o = newOffice(t, file, "2026-09-02 09:02") // one more start
	o.turn("2026-09-02 09:02")
	if out, _ := o.typed("check"); !strings.Contains(out, want) {
		t.Errorf("after one more start check says\n%s", out)
	}
	o.turn("2026-09-10 09:00")
	if out, _ := o.typed("check"); strings.Contains(out, "nothing is known") {
		t.Errorf("a week later check says\n%s", out)
	}
}

// It has just started, and the clock has no battery and no time server.
func TestCheckDoesNotCallADoubtedClockWrong(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-30 10:00")
	o.turn("2026-08-30 10:00")
	o.clock.Time = o.when("2026-08-30 10:30")
	if out, code := o.typed("check"); code != exitFine || !strings.Contains(out, "was sure of the time last at Aug 30 10:00") {
		t.Errorf("check says\n%s", out)
	}
}

// The power flickers as it comes back, and the long time is still known.
func TestAShortStandstillDoesNotHideALongOne(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	for _, at := range []string{"2026-08-30 10:00", "2026-09-02 09:00", "2026-09-02 09:20"} {
		o := newOffice(t, file, at)
		o.turn(at)
		out, _ := o.typed("check")
		if long := strings.Contains(out, "from Aug 30 10:00 to Sep 2 09:00"); long != (at > "2026-09") {
			t.Errorf("at %s check says\n%s", at, out)
		}
		if strings.Count(out, "in it fell the cutoff") > 1 {
			t.Errorf("at %s a cutoff fell into two times\n%s", at, out)
		}
		o.d.Close()
	}
}

// A lateClock has no battery: it goes on from where it stood until a time server
// sets it.
type lateClock struct {
	farmtest.Clock
	boot   time.Duration
	synced bool
}

func (c *lateClock) SinceBoot() time.Duration { return c.boot }
func (c *lateClock) Synced() bool             { return c.synced }

func TestAStandstillIsReckonedByAClockThatWasSet(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-30 10:00")
	o.turn("2026-08-30 10:00")
	o.d.Close()
	c := &lateClock{boot: 20 * time.Second}
	c.Time = o.when("2026-08-30 10:01")
	d, err := daemon.Open(t.Context(), o.options(c))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	for i := range 4 {
		if i == 2 {
			c.Time, c.synced = o.when("2026-09-02 09:02"), true
		}
		if err := d.Turn(t.Context()); err != nil {
			t.Fatal(err)
		}
		c.Time, c.boot = c.Time.Add(time.Minute), c.boot+time.Minute
	}
	o.clock.Time = c.Time
	if out, _ := o.typed("check"); !strings.Contains(out, "from Aug 30 10:00 to Sep 2 09:00") {
		t.Errorf("check says\n%s", out)
	}
}

// The power went while a farm file with a slip in it stood there.
func TestCheckGoesOnWithTheFarmFileInForce(t *testing.T) {
	underManager(t)
	file := farmtest.File(t, farmtest.Text)
	if said, err := serves(t, file, func(s string) bool { return strings.Contains(s, "Creek Bottom") }); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(farmtest.Text, "area: 22 acres", "area: 22", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00") // for its clock
	o.farm.File = file
	out, code := o.typed("check")
	if code == exitFine || !strings.Contains(out, "WRONG  farm file") || !strings.Contains(out, "paddocks[0].area") ||
		!strings.Contains(out, "in force last goes on") || !strings.Contains(out, "fine   database") {
		t.Errorf("check says\n%s", out)
	}
	if fi, err := os.Stat(filepath.Join(filepath.Dir(file), "farm.in-force.yaml")); err != nil || fi.Size() != int64(len(farmtest.Text)) {
		t.Errorf("check touched the copy: %v", err)
	}
}
