package spool

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/notify"
)

// soon cuts the patience to seconds.
func soon(o *Options) { o.Stale = 4 * time.Second }

func faultOf(want trouble) func(*inbox) bool {
	return func(b *inbox) bool {
		return len(b.faults) > 0 && errors.Is(b.faults[len(b.faults)-1], want)
	}
}

func wellAgain(b *inbox) bool {
	return len(b.faults) > 1 && b.faults[len(b.faults)-1] == nil
}

// Each fault is made at the simulated modem, found out by the real smsd, and
// must be told by us in its own words and be over when it is mended.
func TestFaultsOfTheModemAreToldApart(t *testing.T) {
	for _, c := range []struct {
		name    string
		trouble trouble
		make    func(*rig)
		mend    func(*rig)
	}{
		{"the modem is unplugged", unplugged, func(r *rig) { r.modem.Unplug() }, (*rig).replug},
		{"the signal is lost", noNetwork, func(r *rig) { r.modem.Network(2, 99) }, func(r *rig) { r.modem.Network(1, 12) }},
		{"the SIM falls out", noSIM, func(r *rig) { r.modem.SIM("") }, func(r *rig) { r.modem.SIM("READY") }},
		{"the SIM wants its PIN", wantsPIN, func(r *rig) { r.modem.SIM("SIM PIN") }, func(r *rig) { r.modem.SIM("READY") }},
		{"the SIM is full", full, func(r *rig) { r.modem.Fill() }, func(r *rig) { r.modem.Empty() }},
		{"the modem answers nothing", mute, func(r *rig) { r.modem.Deaf(true) }, func(r *rig) { r.modem.Deaf(false) }},
		{"smsd is killed", dead, (*rig).kill, func(r *rig) { r.start() }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := newRig(t, soon)
			r.start()
			r.send("before", "Frost 31 F at Quail Fork. Rest is NOT over")
			r.wait(1)
			r.listen()
			r.until("the first report", reportFor("before", true))
			c.make(r)
			r.until(c.name, faultOf(c.trouble))
			r.send("during", "GO Creek: stay. 11 in")
			c.mend(r)
			r.wait(2)
			r.until("the mend", wellAgain)
		})
	}
}

// replug puts the modem back and does what the README's udev rule does: an
// smsd that lost its modem while it waited for the network never looks at the
// port again.
func (r *rig) replug() {
	r.kill()
	r.dropLocks()
	if err := r.modem.Plug(); err != nil {
		r.t.Error(err)
	}
	r.start()
}

// dropLocks is what Debian's start script does before it starts smsd.
func (r *rig) dropLocks() {
	for _, folder := range []string{"outgoing", "checked", "sent", "failed", "incoming"} {
		for _, name := range entries(r.t, r.inDir(folder)) {
			if strings.HasSuffix(name, lockSuffix) {
				os.Remove(filepath.Join(r.dir, folder, name))
			}
		}
	}
}

// With these the modem's handler never starts, or ends for good.
func TestFaultsAtTheStartAreToldApart(t *testing.T) {
	for _, c := range []struct {
		name    string
		trouble trouble
		make    func(*rig)
	}{
		{"the SIM is locked", wantsPUK, func(r *rig) { r.modem.SIM("SIM PUK") }},
		{"there is no SIM", noSIM, func(r *rig) { r.modem.SIM("") }},
		{"no PIN is in smsd.conf", wantsPIN, func(r *rig) { r.modem.SIM("SIM PIN") }},
		{"no modem", unplugged, func(r *rig) { r.modem.Unplug() }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := newRig(t, soon)
			c.make(r)
			r.start()
			r.send("m-1", "Shut today: Creek")
			r.listen()
			r.until(c.name, faultOf(c.trouble))
			if err := r.Check(t.Context()); err == nil || !strings.Contains(err.Error(), string(c.trouble)) {
				t.Errorf("Check says %v", err)
			}
		})
	}
}

func TestANumberThatTheNetworkRefusesIsReported(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	r.modem.Refuse(1)
	r.start()
	r.listen()
	r.send("m-1", "Shut today: Creek")
	r.until("the failure", func(b *inbox) bool {
		for _, g := range b.got {
			if g.Report != nil && g.Report.EnvelopeID == "m-1" && g.Report.Permanent {
				return true
			}
		}
		return false
	})
	if out := r.Deliver(t.Context(), notify.Envelope{ID: "m-1", Address: ana, Text: "Shut today: Creek"}); out.State != notify.Permanent || out.Code != "+CMS ERROR: 1" {
		t.Errorf("handed over again: %+v", out)
	}
}

// Killed while it works, smsd starts again as Debian's script starts it: its
// own locks are dropped first. Nothing may be lost, and what was not yet sent
// goes out once.
func TestSmsdsOwnDeathLosesNothing(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	r.start()
	for _, id := range []string{"a", "b", "c", "d"} {
		r.send(id, "text "+id)
	}
	r.wait(1)
	r.kill()
	r.dropLocks()
	again := r.modem.Sent()
	for _, id := range []string{"a", "b", "c", "d"} {
		r.send(id, "text "+id) // as after a restart of ours
	}
	r.start()
	r.listen()
	for _, id := range []string{"a", "b", "c", "d"} {
		r.until("the report of "+id, reportFor(id, true))
	}
	// smsd itself may repeat the one that it was sending when it died.
	if n := len(r.modem.Sent()); n < 4 || n > 4+1 {
		t.Errorf("sent %d parts for 4 texts (%d before it died)", n, len(again))
	}
}

// What waited without a signal goes out when it is back, the urgent first.
func TestAnUrgentTextGoesFirst(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	r.modem.Network(2, 99)
	r.start()
	for _, id := range []string{"a", "b", "c", "d", "e"} {
		r.send(id, "text "+id)
	}
	r.inChecked(5)
	out := r.Deliver(t.Context(), notify.Envelope{ID: "z", Address: ana, Text: "OFF Lane before dark", Urgent: true})
	if out.State != notify.Sent {
		t.Fatalf("%+v", out)
	}
	r.inChecked(6)
	r.modem.Network(1, 15)
	for i, s := range r.wait(6) {
		if s.Text == "OFF Lane before dark" && i > 1 { // smsd may have had one in hand
			t.Errorf("the urgent text went out as number %d", i+1)
		}
	}
}

// inChecked waits until smsd has taken n texts.
func (r *rig) inChecked(n int) {
	r.t.Helper()
	tick := time.NewTicker(50 * time.Millisecond)
	defer tick.Stop()
	deadline := time.After(60 * time.Second)
	for {
		names := entries(r.t, r.inDir("checked"))
		if len(names) >= n {
			return
		}
		select {
		case <-tick.C:
		case <-deadline:
			r.t.Fatalf("smsd took %v of %d\n%s", names, n, r.log())
		}
	}
}
