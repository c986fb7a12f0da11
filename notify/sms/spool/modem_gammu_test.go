package spool

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// gammu-smsd shares nothing with smsd nor with us: that it sends, receives and
// hears delivery reports through the simulator proves that the simulator
// speaks the standard.
func TestGammuTakesItForAModem(t *testing.T) {
	program := Need(t, "gammu-smsd", "gammu-smsd")
	inject := Need(t, "gammu-smsd-inject", "gammu-smsd")
	dir := t.TempDir()
	m, err := newModem(filepath.Join(dir, "modem"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(m.Unplug)
	for _, name := range []string{"inbox", "outbox", "sent", "error"} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	conf := filepath.Join(dir, "gammurc")
	err = os.WriteFile(conf, fmt.Appendf(nil, `[gammu]
device = %[1]s/modem
connection = at
[smsd]
service = files
logfile = %[1]s/log
debuglevel = 1
commtimeout = 1
receivefrequency = 1
deliveryreport = sms
inboxpath = %[1]s/inbox/
outboxpath = %[1]s/outbox/
sentsmspath = %[1]s/sent/
errorsmspath = %[1]s/error/
`, dir), 0o600)
	if err != nil {
		t.Fatal(err)
	}
	daemon := exec.Command(program, "--config", conf)
	var out bytes.Buffer
	daemon.Stdout, daemon.Stderr = &out, &out
	if err := daemon.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		daemon.Process.Signal(syscall.SIGKILL)
		daemon.Wait()
		if t.Failed() {
			log, _ := os.ReadFile(filepath.Join(dir, "log"))
			t.Logf("gammu's log ends:\n%s\n%s", log[max(0, len(log)-3000):], out.String())
		}
	})

	long := strings.Repeat("Creek, Hill and North 40 shut on Sep 1. ", 6) // two parts
	for _, text := range []string{"10 days: Creek shuts Sep 1. Leave 8 in", long} {
		args := []string{"--config", conf, "TEXT", "+15555550142", "-report", "-len", fmt.Sprint(len(text)), "-text", text}
		if b, err := exec.Command(inject, args...).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, b)
		}
	}
	ctx, cancel := context.WithTimeout(t.Context(), 90*time.Second)
	defer cancel()
	sent, err := m.WaitSent(ctx, 3)
	if err != nil {
		t.Fatal(err)
	}
	var joined string
	for _, s := range sent {
		if s.To != "+15555550142" || !s.Report {
			t.Errorf("sent %+v", s)
		}
		if s.Total == 2 {
			joined += s.Text
		}
	}
	if strings.TrimRight(joined, " ") != strings.TrimRight(long, " ") {
		t.Errorf("the long text came as %q", joined)
	}

	m.Receive("+15555550142", "creek 14 8 6 8", time.Now())
	waitFor(t, ctx, func() bool {
		files, _ := filepath.Glob(filepath.Join(dir, "inbox", "IN*"))
		for _, f := range files {
			if b, _ := os.ReadFile(f); strings.Contains(string(b), "creek 14 8 6 8") {
				return true
			}
		}
		return false
	})
	waitFor(t, ctx, func() bool { return m.Stored() == 0 })
	heard := 0
	files, _ := filepath.Glob(filepath.Join(dir, "inbox", "IN*"))
	for _, f := range files {
		if b, _ := os.ReadFile(f); strings.Contains(string(b), "creek 14 8 6 8") {
			heard++
		}
	}
	if heard != 1 {
		t.Errorf("one text came in, gammu heard %d", heard)
	}
	log, _ := os.ReadFile(filepath.Join(dir, "log"))
	if n := strings.Count(string(log), "Delivery report"); n != 3 {
		t.Errorf("gammu heard %d of 3 delivery reports", n)
	}
}

func waitFor(t *testing.T, ctx context.Context, holds func() bool) {
	t.Helper()
	tick := time.NewTicker(50 * time.Millisecond)
	defer tick.Stop()
	for !holds() {
		select {
		case <-tick.C:
		case <-ctx.Done():
			t.Fatal("it did not happen in time")
		}
	}
}
