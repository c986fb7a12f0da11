package daemon

import (
	"io"
	"log/slog"
	"sync"
	"sync/atomic"
	"time"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/store"
)

// Clock is the machine's.
type Clock interface {
	Now() time.Time
	SinceBoot() time.Duration
	Synced() bool
}

// Store is what the daemon's parts need of the store.
type Store interface {
	scheduler.Store
	notify.Outbox
}

// Options is what a daemon is made with.
type Options struct {
	Farm  *config.Farm
	DB    string    // the database file
	In    io.Reader // the console
	Out   io.Writer
	Clock Clock
	Log   *slog.Logger
	// Through stands between the daemon and its store, where a test cuts the
	// power; nil for none.
	Through func(*store.Store) Store
}

// A Daemon is everything that runs for one farm.
type Daemon struct {
	Options
	runID        string
	store        *store.Store // nil until it could be opened
	proof        *proof       // whether every page of it is good
	suspect      bool         // the last one was not: the next is proved before it is used
	sched        *scheduler.Scheduler
	courier      *notify.Courier
	links        carriers.Links
	watcher      *config.Watcher
	farm         atomic.Pointer[config.Farm] // in force; the file is changed while the daemon runs
	wake         chan struct{}
	brought      chan *brought // to the loop, while it waits
	settle       sync.Once     // lets go of what only the start needed
	untilEOF     bool          // the demo ends with its input
	relinked     bool          // the farm file in force has other carriers or sources than those made at the start
	night        nightly
	state        *state
	alarms       *alarms
	turned       atomic.Int64    // when the last good turn ended, since boot
	seen         time.Time       // when the last run was certain of the time; zero once the outage is noted
	opened       time.Duration   // when the store was opened, since boot
	passedOn     map[string]bool // what the scheduler was told of, by its word
	failingSince *time.Duration  // since when the store fails, since boot; nil: it works
	doubtedSince *time.Duration  // since when the clock is doubted, since boot; nil: it is believed
}

func (d *Daemon) connect() carriers.Links {
	return carriers.Connect(carriers.Options{Farm: d.farm.Load, Now: d.Clock.Now, Sure: d.clockSure, In: d.In, Out: d.Out, Run: d.runID, Log: d.Log})
}

// clockSure reports whether the clock may be believed, as far as anybody knows.
func (d *Daemon) clockSure() bool { return d.sched == nil || d.sched.ClockSure() }

// nudge asks for a turn; one that waits already is enough.
func (d *Daemon) nudge() {
	select {
	case d.wake <- struct{}{}:
	default:
	}
}
