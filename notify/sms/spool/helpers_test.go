package spool

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"stubbled/notify/terms"
)

func makeFolders(t testing.TB, dir string) {
	t.Helper()
	for _, name := range []string{"outgoing", "checked", "sent", "failed", "incoming"} {
		if err := os.MkdirAll(filepath.Join(dir, name), 0o770); err != nil {
			t.Fatal(err)
		}
	}
}

// clock is a clock that a test turns.
type clock struct{ t time.Time }

func (c *clock) now() time.Time { return c.t }

// usual is the spool of a farm file that says nothing more.
func usual(dir string) Options {
	const day = 24 * time.Hour
	return Options{Zone: time.UTC, Spool: terms.Spool{Dir: dir, Queues: []string{"checked"}, Poll: 2 * time.Second, Stale: 5 * time.Minute,
		TakeBack: 6 * time.Hour, Keep: 30 * day, Validity: day, Region: "US"}}
}

// newSpool is a spool without an smsd.
func newSpool(t testing.TB, change ...func(*Options)) (*Spool, *clock) {
	t.Helper()
	dir := t.TempDir()
	makeFolders(t, dir)
	o := usual(dir)
	for _, c := range change {
		c(&o)
	}
	c := &clock{t: time.Date(2026, 8, 22, 6, 30, 0, 0, time.UTC)}
	return New(o, c.now), c
}

// put writes a file of the spool as old as the clock says.
func (c *clock) put(t testing.TB, data string, parts ...string) string {
	t.Helper()
	name := filepath.Join(parts...)
	if err := os.WriteFile(name, []byte(data), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(name, c.t, c.t); err != nil {
		t.Fatal(err)
	}
	return name
}
