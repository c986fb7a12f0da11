package spool

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"stubbled/notify"
)

// ana is nobody: 555-01xx numbers are kept for invention.
const ana = "+15555550142"

// A rig is the real smsd with its modem simulated.
type rig struct {
	*Spool
	t     *testing.T
	dir   string
	modem *Modem
	in    *inbox
}

// inbox records what was accepted, and what was reported.
type inbox struct {
	mu     sync.Mutex
	got    []notify.Received
	ids    map[string]int
	faults []error
	change chan struct{}
}

func newInbox() *inbox { return &inbox{ids: map[string]int{}, change: make(chan struct{}, 1000)} }

func (b *inbox) accept(_ context.Context, got []notify.Received, _ string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, g := range got {
		if b.ids[g.ID]++; b.ids[g.ID] == 1 { // as the store does
			b.got = append(b.got, g)
		}
	}
	b.change <- struct{}{}
	return nil
}

func (b *inbox) report(err error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.faults = append(b.faults, err)
	b.change <- struct{}{}
}

// newRig makes the folders and the smsd.conf of the README, with everything
// in one folder and the waits cut short.
func newRig(t *testing.T, change ...func(*Options)) *rig {
	t.Helper()
	r := &rig{t: t, dir: t.TempDir(), in: newInbox()}
	makeFolders(t, r.dir)
	m, err := newModem(filepath.Join(r.dir, "modem"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(m.Unplug)
	r.modem = m
	o := usual(r.dir)
	o.Poll, o.Zone = 100*time.Millisecond, time.Local
	o.PIDFile, o.LogFile, o.StateFile = r.inDir("smsd.pid"), r.inDir("smsd.log"), r.inDir("GSM1.state")
	for _, c := range change {
		c(&o)
	}
	r.Spool = New(o, time.Now)
	r.quiet = time.Second
	return r
}

func (r *rig) inDir(name string) string { return filepath.Join(r.dir, name) }

// confFor is the documented smsd.conf with its folders and waits changed.
func confFor(t *testing.T, dir string) string {
	t.Helper()
	doc, err := os.ReadFile("smsd.conf")
	if err != nil {
		t.Fatal(err)
	}
	conf := strings.NewReplacer(
		"/var/spool/stubbled-sms", dir, "/var/log/smstools", dir, "/var/run/smstools", dir,
		"/dev/serial/by-id/usb-MODEM-if00-port0", filepath.Join(dir, "modem"),
		"delaytime = 5", "delaytime = 1", "errorsleeptime = 3", "errorsleeptime = 1",
		"blocktime = 300", "blocktime = 3", "regular_run_interval = 60", "regular_run_interval = 2",
	).Replace(string(doc))
	name := filepath.Join(dir, "smsd.conf")
	if err := os.WriteFile(name, []byte(conf), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// start runs smsd until the test ends.
func (r *rig) start(args ...string) {
	r.t.Helper()
	smsd := Need(r.t, "smsd", "smstools")
	os.Remove(r.inDir("smsd.pid"))
	forgetTheDead(r.t)
	cmd := exec.Command(smsd, append([]string{"-c" + confFor(r.t, r.dir)}, args...)...)
	if out, err := cmd.CombinedOutput(); err != nil {
		r.t.Fatalf("smsd does not start: %v\n%s", err, out)
	}
	r.t.Cleanup(r.kill)
}

// forgetTheDead removes what killed smsds left: a lock that is named by the
// process. One that gets the same number as another user ends at once with
// "Cannot create shared memory for statistics".
func forgetTheDead(t *testing.T) {
	t.Helper()
	locks, err := filepath.Glob("/tmp/mm_smsd_*.sem")
	if err != nil {
		t.Fatal(err)
	}
	for _, lock := range locks {
		pid := strings.TrimSuffix(strings.TrimPrefix(lock, "/tmp/mm_smsd_"), ".sem")
		if command, _ := os.ReadFile("/proc/" + pid + "/comm"); string(command) != "smsd\n" {
			os.Remove(lock)
		}
	}
}

// kill ends smsd and its modem handler at once. smsd goes into a session of its
// own, which its pidfile names.
func (r *rig) kill() {
	data, err := os.ReadFile(r.inDir("smsd.pid"))
	if pid, err2 := strconv.Atoi(strings.TrimSpace(string(data))); err == nil && err2 == nil && pid > 1 {
		if command, _ := os.ReadFile(fmt.Sprintf("/proc/%d/cmdline", pid)); strings.Contains(string(command), r.dir) {
			syscall.Kill(-pid, syscall.SIGKILL)
		}
	}
}

// listen receives until it is stopped or the test ends.
func (r *rig) listen() (stop func()) {
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { defer close(done); r.Receive(ctx, "", r.in.accept, r.in.report) }()
	stop = func() { cancel(); <-done }
	r.t.Cleanup(stop)
	return stop
}

// until waits for what the inbox should hold.
func (r *rig) until(what string, holds func(*inbox) bool) {
	r.t.Helper()
	deadline := time.After(90 * time.Second)
	for {
		r.in.mu.Lock()
		ok := holds(r.in)
		r.in.mu.Unlock()
		if ok {
			return
		}
		select {
		case <-r.in.change:
		case <-deadline:
			r.t.Fatalf("%s did not happen\ngot %+v\nfaults %v\nsmsd's log ends:\n%s", what, r.in.got, r.in.faults, r.log())
		}
	}
}

// log is the end of smsd's log without the regular questions.
func (r *rig) log() string {
	data, _ := os.ReadFile(r.inDir("smsd.log"))
	var kept []string
	for line := range strings.Lines(string(data)) {
		if !strings.Contains(line, "CMD: AT") && !strings.Contains(line, "Signal Strength") {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept[max(0, len(kept)-25):], "")
}

func (r *rig) send(id, text string) {
	r.t.Helper()
	if out := r.Deliver(context.Background(), notify.Envelope{ID: id, Address: ana, Text: text}); out.State != notify.Sent {
		r.t.Fatalf("handing over %s: %+v", id, out)
	}
}

func (r *rig) wait(n int) []Submit {
	r.t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 90*time.Second)
	defer cancel()
	sent, err := r.modem.WaitSent(ctx, n)
	if err != nil {
		r.t.Fatalf("%v\nsmsd's log ends:\n%s", err, r.log())
	}
	return sent
}

func reportFor(id string, delivered bool) func(*inbox) bool {
	return func(b *inbox) bool {
		for _, g := range b.got {
			if g.Report != nil && g.Report.EnvelopeID == id && g.Report.Delivered == delivered {
				return true
			}
		}
		return false
	}
}

func textOf(text string) func(*inbox) bool {
	return func(b *inbox) bool {
		for _, g := range b.got {
			if g.Report == nil && g.Text == text && g.From == ana {
				return true
			}
		}
		return false
	}
}

func TestTextsGoThroughTheRealSmsd(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	r.start()
	r.listen()

	r.send("n1", "10 days: Creek shuts Sep 1. Leave 8 in. Text: creek 9 8 11")
	long := strings.Repeat("Creek, Hill and North 40 shut on Sep 1. ", 8)
	r.send("n2", long)
	r.send("n3", "GO Creek: quédate. Pastizal ralo, ñandú 9") // é and ñ are in 7 bits, ú is not
	sent := r.wait(5)
	var joined string
	for _, s := range sent {
		switch {
		case s.Total == 3:
			joined += s.Text
		case s.To != ana || !s.Report:
			t.Errorf("sent %+v: want a report asked for, to %s", s, ana)
		}
	}
	if joined != strings.TrimRight(long, " ") && joined != long {
		t.Errorf("the long text came out as\n%q\nwant\n%q", joined, long)
	}
	for _, id := range []string{"n1", "n2", "n3"} {
		r.until("the delivery report of "+id, reportFor(id, true))
	}

	r.modem.Receive(ana, "creek 14 8 6 8", time.Now())
	r.until("the text", textOf("creek 14 8 6 8"))
	r.modem.Receive(ana, "pastizal 9½ in 🌱", time.Now().Add(time.Second))
	r.until("the text in UCS-2", textOf("pastizal 9½ in 🌱"))
	r.modem.ReceivePart(ana, "moved cows from creek ", time.Now(), 7, 2, 1)
	r.modem.ReceivePart(ana, "to hill", time.Now(), 7, 2, 2)
	r.until("the long text", textOf("moved cows from creek to hill"))
	if err := r.Check(t.Context()); err != nil {
		t.Errorf("all is well, but Check says %v", err)
	}
}

// Each character of 3GPP TS 23.038 section 6.2.1 goes through smsd's encoder
// and the simulator's decoder, which have nothing in common.
func TestEveryCharacterOfTheNetworksAlphabetArrives(t *testing.T) {
	t.Parallel()
	r := newRig(t)
	r.start()
	// CR and form feed are no part of words; a text starts and ends in letters.
	all := []rune(strings.NewReplacer("\r", "", "\f", "").Replace(Alphabet))
	want := map[string]string{}
	for i := 0; len(all) > 0; i++ {
		n := min(36, len(all))
		id := "chars" + string(rune('a'+i))
		want[id] = "x" + string(all[:n]) + "x"
		all = all[n:]
		r.send(id, want[id])
	}
	got := map[string]bool{}
	for _, s := range r.wait(len(want)) {
		got[s.Text] = true
		if s.UCS2 && !strings.Contains(s.Text, "¤") {
			t.Errorf("%q went in UCS-2: half the room", s.Text)
		}
	}
	for id, text := range want {
		if !got[text] {
			t.Errorf("%s: %q did not arrive; got %v", id, text, got)
		}
	}
}
