package spool

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"go.uber.org/goleak"

	"stubbled/notify"
)

var shut = notify.Envelope{ID: "m-41", Address: ana, Text: "Shut today: Creek. When done text: off creek"}

func TestAMessageIsOneFileAsSmsdReadsIt(t *testing.T) {
	s, _ := newSpool(t, func(o *Options) { o.Validity = 36 * time.Hour })
	if out := s.Deliver(t.Context(), shut); out.State != notify.Sent {
		t.Fatalf("%+v", out)
	}
	name := s.path("outgoing", "m-41")
	got, err := os.ReadFile(name)
	want := "To: 15555550142\nStubbled: m-41\nAlphabet: ISO\nReport: yes\nAutosplit: 3\nValidity: 36 hour\n\n" + shut.Text
	if err != nil || string(got) != want {
		t.Errorf("got  %q, %v\nwant %q", got, err, want)
	}
	if info, _ := os.Stat(name); info.Mode().Perm() != 0o644 {
		t.Errorf("smsd, which has another group, could not read it: %v", info.Mode())
	}
	if left, _ := os.ReadDir(s.path("done", "new")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}

func TestAMessageIsHandedOverOnceWhereverItStands(t *testing.T) {
	for folder, want := range map[string]notify.State{
		"outgoing": notify.Sent, "checked": notify.Sent, "sent": notify.Sent, "failed": notify.Permanent,
		"done/sent": notify.Sent, "done/failed": notify.Permanent, "done/back": notify.Permanent, "done/told": notify.Permanent,
		"fast": notify.Sent,
	} {
		t.Run("it is in "+folder, func(t *testing.T) {
			s, c := newSpool(t, func(o *Options) { o.Queues = []string{"checked", "fast"} })
			for _, f := range []string{folder, "fast"} {
				if err := os.MkdirAll(s.path(f), 0o770); err != nil {
					t.Fatal(err)
				}
			}
			c.put(t, "To: 15555550142\nStubbled: m-41\nFail_reason: +CMS ERROR: 1 (Unassigned number)\n\nx", s.path(folder, "m-41"))
			out := s.Deliver(t.Context(), shut)
			if out.State != want {
				t.Errorf("got %+v, want state %v", out, want)
			}
			if strings.HasSuffix(folder, "failed") && (out.Code != "+CMS ERROR: 1" || out.Detail == "") {
				t.Errorf("the failure is not told: %+v", out)
			}
			if now, _ := os.ReadDir(s.path("outgoing")); folder != "outgoing" && len(now) > 0 {
				t.Errorf("handed over again: %v", now)
			}
		})
	}
}

func TestWhatNoFileCanBeMadeOfIsRefusedForGood(t *testing.T) {
	s, _ := newSpool(t)
	for name, e := range map[string]notify.Envelope{
		"an id with a path in it":           {ID: "../m", Address: ana, Text: "x"},
		"a hidden id":                       {ID: ".m", Address: ana, Text: "x"},
		"an id like a lock":                 {ID: "m.LOCK", Address: ana, Text: "x"},
		"no id":                             {Address: ana, Text: "x"},
		"a header behind the number":        {ID: "m", Address: ana + "\nFlash: yes", Text: "x"},
		"a national number":                 {ID: "m", Address: "5555550142", Text: "x"},
		"an empty text":                     {ID: "m", Address: ana, Text: " \n"},
		"a text that is longer than a page": {ID: "m", Address: ana, Text: strings.Repeat("x", 2000)},
		"a NUL":                             {ID: "m", Address: ana, Text: "a\x00b"},
	} {
		t.Run(name, func(t *testing.T) {
			out := s.Deliver(t.Context(), e)
			if out.State != notify.Permanent || out.Down || out.Detail == "" || strings.Contains(out.Detail, "0142") {
				t.Errorf("got %+v", out)
			}
			if left, _ := os.ReadDir(s.path("outgoing")); len(left) > 0 {
				t.Errorf("written all the same: %v", left)
			}
		})
	}
}

func TestASpoolInTroubleIsDownAndSaysTheMend(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(t *testing.T, s *Spool)
		says  string
	}{
		"a folder is missing":  {func(t *testing.T, s *Spool) { os.Remove(s.path("outgoing")) }, "is missing"},
		"sent has gone astray": {func(t *testing.T, s *Spool) { os.Remove(s.path("sent")) }, "is missing"},
		"done is no folder":    {func(t *testing.T, s *Spool) { os.WriteFile(s.path("done"), nil, 0o600) }, "not a directory"},
	} {
		t.Run(name, func(t *testing.T) {
			s, _ := newSpool(t)
			c.spoil(t, s)
			out := s.Deliver(t.Context(), shut)
			if out.State != notify.Temporary || !out.Down || !strings.Contains(out.Detail, c.says) {
				t.Errorf("got %+v, want down and %q", out, c.says)
			}
		})
	}
}

func TestTheWordsOfADiskError(t *testing.T) {
	for errno, says := range map[syscall.Errno]string{
		syscall.ENOSPC: "is full", syscall.EACCES: "group smsd", syscall.ENOENT: "is missing", syscall.EROFS: "ReadWritePaths",
		syscall.EXDEV: "another disk", syscall.EIO: "input/output",
	} {
		err := mend(&os.PathError{Op: "write", Path: "/var/spool/stubbled-sms/outgoing/m", Err: errno})
		if !strings.Contains(err.Error(), says) || !errors.Is(err, errno) {
			t.Errorf("%v: got %q, want %q", errno, err, says)
		}
	}
}

// steps are the places in a handover at which a process can die.
var steps = []string{"start", "opened", "filled", "written", "moved", "end"}

// TestMain lets the test binary be the child that dies in a handover, and where
// $MODEMTEST names a folder the modem of another machine.
func TestMain(m *testing.M) {
	if dir := os.Getenv("MODEMTEST"); dir != "" {
		fmt.Fprintln(os.Stderr, serveMachine(dir))
		os.Exit(1)
	}
	if dir := os.Getenv("SPOOL_DIE_DIR"); dir != "" {
		s := New(usual(dir), time.Now)
		s.at = func(step string) {
			if step == os.Getenv("SPOOL_DIE_AT") {
				syscall.Kill(os.Getpid(), syscall.SIGKILL)
			}
		}
		s.Deliver(context.Background(), shut)
		os.Exit(0)
	}
	if dir := os.Getenv("SPOOL_RIGHTS_DIR"); dir != "" {
		if os.Getenv("SPOOL_RIGHTS_ASK") != "" {
			os.Exit(askChild(dir))
		}
		os.Exit(rightsChild(dir))
	}
	flag.Parse()
	if err := flag.Set("test.parallel", "16"); err != nil { // they mostly wait for smsd
		panic(err)
	}
	goleak.VerifyTestMain(m)
}

func TestADeathAtAnyStepOfAHandoverSaysItOnce(t *testing.T) {
	for _, step := range steps {
		t.Run("killed at "+step, func(t *testing.T) {
			s, _ := newSpool(t)
			child := exec.Command(os.Args[0])
			child.Env = append(os.Environ(), "SPOOL_DIE_DIR="+s.o.Dir, "SPOOL_DIE_AT="+step)
			err := child.Run()
			var exit *exec.ExitError
			if !errors.As(err, &exit) || exit.Sys().(syscall.WaitStatus).Signal() != syscall.SIGKILL {
				t.Fatalf("the child was not killed: %v", err)
			}
			// smsd, quicker than our restart, may already have taken what is there.
			for _, e := range entries(t, s.path("outgoing")) {
				if got, _ := os.ReadFile(s.path("outgoing", e)); !strings.HasSuffix(string(got), shut.Text) {
					t.Errorf("half a message was handed over: %q", got)
				}
				if err := os.Rename(s.path("outgoing", e), s.path("sent", e)); err != nil {
					t.Fatal(err)
				}
			}
			if out := s.Deliver(t.Context(), shut); out.State != notify.Sent {
				t.Fatalf("after the restart: %+v", out)
			}
			all := append(entries(t, s.path("outgoing")), entries(t, s.path("sent"))...)
			if len(all) != 1 {
				t.Errorf("handed over %d times: %v", len(all), all)
			}
		})
	}
}

func entries(t *testing.T, folder string) (names []string) {
	t.Helper()
	got, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range got {
		names = append(names, e.Name())
	}
	return names
}

// BenchmarkHandover measures texts handed over against the same file written,
// synced and moved with nothing else.
func BenchmarkHandover(b *testing.B) {
	s, _ := newSpool(b)
	plain := filepath.Join(b.TempDir(), "plain")
	if err := os.Mkdir(plain, 0o770); err != nil {
		b.Fatal(err)
	}
	var ours, bare time.Duration
	data := s.file(shut)
	for i := 0; b.Loop(); i++ {
		id := "m-" + string(rune('a'+i%26)) + time.Duration(i).String()
		e := shut
		e.ID = id
		start := time.Now()
		if out := s.Deliver(context.Background(), e); out.State != notify.Sent {
			b.Fatal(out)
		}
		ours += time.Since(start)
		start = time.Now()
		temp := filepath.Join(plain, ".new")
		if err := errors.Join(writeSynced(temp, data, func(string) {}), os.Rename(temp, filepath.Join(plain, id)), syncDir(plain)); err != nil {
			b.Fatal(err)
		}
		bare += time.Since(start)
	}
	b.ReportMetric(float64(bare)/float64(ours), "of-bare-rate")
	b.ReportMetric(float64(b.N)/ours.Seconds(), "texts/s")
}

func TestAMessageIsGoneOnceTheNetworkHasIt(t *testing.T) {
	for folder, want := range map[string]struct {
		gone   bool
		failed string
	}{"outgoing": {}, "checked": {}, "sent": {gone: true}, "done/sent": {gone: true}, "failed": {failed: "Unassigned"}, "done/back": {failed: "taken back unsent"}} {
		s, c := newSpool(t, func(o *Options) { o.Queues = []string{"checked"} })
		if err := os.MkdirAll(s.path(folder), 0o770); err != nil {
			t.Fatal(err)
		}
		c.put(t, "To: 15555550142\nStubbled: m-41\nFail_reason: +CMS ERROR: 1 (Unassigned number)\n\nx", s.path(folder, "m-41"))
		gone, err := s.Gone("m-41")
		if gone != want.gone || (err == nil) != (want.failed == "") || err != nil && !strings.Contains(err.Error(), want.failed) && want.failed != "Unassigned" {
			t.Errorf("in %s: %v, %v", folder, gone, err)
		}
	}
}
