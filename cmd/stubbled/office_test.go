package main

import (
	"bytes"
	"log/slog"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
	"stubbled/store"
)

// An office is a farm's machine: a daemon that the test turns by hand, and a
// keyboard.
type office struct {
	t        *testing.T
	d        *daemon.Daemon
	farm     *config.Farm
	db       string
	clock    *farmtest.Clock
	screen   bytes.Buffer
	patience time.Duration // how long a typed command waits for the daemon
}

func newOffice(t *testing.T, file, at string) *office {
	t.Helper()
	farm, err := config.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	o := &office{t: t, farm: farm, db: filepath.Join(filepath.Dir(file), "stubbled.db"), clock: &farmtest.Clock{}}
	o.clock.Time = o.when(at)
	if o.d, err = daemon.Open(t.Context(), o.options(o.clock)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { o.d.Close() })
	return o
}

func (o *office) options(clock daemon.Clock) daemon.Options {
	return daemon.Options{
		Farm: o.farm, DB: o.db, In: strings.NewReader(""), Out: &o.screen, Clock: clock, Log: slog.New(slog.DiscardHandler),
	}
}

func (o *office) when(text string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", text, o.farm.Zone)
	if err != nil {
		o.t.Fatal(err)
	}
	return at
}

// turn lets the daemon turn once at a time and gives what it said.
func (o *office) turn(at string) string {
	o.t.Helper()
	o.clock.Time = o.when(at)
	o.screen.Reset()
	if err := o.d.Turn(o.t.Context()); err != nil {
		o.t.Fatal(err)
	}
	return o.screen.String()
}

// says is a text from somebody's phone.
func (o *office) says(name, text string) {
	o.t.Helper()
	s, err := store.OpenBeside(o.t.Context(), o.db)
	if err != nil {
		o.t.Fatal(err)
	}
	defer s.Close()
	c, _ := o.farm.Contact(name)
	in := store.In{ID: o.clock.Time.String() + text, From: c.Phone, Contact: c.Name, Text: text, Sent: o.clock.Time}
	if err := s.Accept(o.t.Context(), "console", []store.In{in}, "", o.clock.Time); err != nil {
		o.t.Fatal(err)
	}
}

// typed runs a command of the program on a farm as somebody at the machine
// would.
func (o *office) typed(args ...string) (string, int) {
	var out bytes.Buffer
	e := &env{in: strings.NewReader(""), out: &out, err: &out, clock: o.clock, patience: o.patience}
	root := newRoot(e)
	root.SetArgs(append(args, "--farm", o.farm.File))
	if err := root.ExecuteContext(o.t.Context()); err != nil {
		return out.String() + err.Error(), exitFailed
	}
	return out.String(), exitFine
}

// underManager puts the test's daemons under a manager of services that nobody
// listens for.
func underManager(t *testing.T) {
	t.Helper()
	t.Setenv("NOTIFY_SOCKET", filepath.Join(t.TempDir(), "notify"))
	t.Setenv("RUNTIME_DIRECTORY", t.TempDir())
}
