package daemon

import (
	"context"
	"os"
	"strings"
	"sync/atomic"
	"syscall"
	"time"

	"stubbled/store"
)

// What the service manager is told (sd_notify(3)). Outside of a service nobody
// listens.

const (
	// ready is that the start is over: the first turn was made, or the daemon waits for
	// its database and has said so.
	ready    = "READY=1"
	stopping = "STOPPING=1"
	alive    = "WATCHDOG=1" // feeds the watchdog
)

// tellStatus is the line that 'systemctl status' shows.
func tellStatus(line string) { tell("STATUS=" + strings.ReplaceAll(Discreet(line), "\n", "; ")) }

// readyUnheard is that the manager was told of the start and did not hear it: the
// one word that is said once, so it goes along with the next.
var readyUnheard atomic.Bool

// tell never waits: a manager that reads nothing, or is started anew, must not
// hold up a reminder.
func tell(what string) {
	path := os.Getenv("NOTIFY_SOCKET")
	if path == "" {
		return
	}
	owed := readyUnheard.Swap(false) || what == ready
	if owed && what != ready {
		what = ready + "\n" + what
	}
	fd, err := syscall.Socket(syscall.AF_UNIX, syscall.SOCK_DGRAM|syscall.SOCK_NONBLOCK|syscall.SOCK_CLOEXEC, 0)
	if err == nil {
		err = syscall.Sendto(fd, []byte(what), 0, &syscall.SockaddrUnix{Name: path})
		syscall.Close(fd)
	}
	readyUnheard.Store(owed && err != nil)
}

// Watched is a store of which every write that went well says that the daemon
// lives: on a slow disk the many texts of a wet Saturday take more than the
// watchdog's patience, and starting again would make it slower.
type watched struct {
	Store
	alive func()
}

// longTurn is how long one turn may take that way. What writes on and on without
// an end is a fault too.
const longTurn = 10 * time.Minute

func (d *Daemon) stillAlive() {
	if d.Clock.SinceBoot()-time.Duration(d.turned.Load()) < longTurn {
		tell(alive)
	}
}

func (w watched) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	err := w.Store.Update(ctx, now, decide)
	if err == nil {
		w.alive()
	}
	return err
}

func (w watched) AcceptAnd(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time, then func(*store.Tx) error) error {
	err := w.Store.AcceptAnd(ctx, carrier, got, cursor, now, then)
	if err == nil {
		w.alive()
	}
	return err
}

func (w watched) Claim(ctx context.Context, now time.Time, f store.ClaimFor, word func(*store.Envelope) error) ([]*store.Message, error) {
	all, err := w.Store.Claim(ctx, now, f, word)
	if len(all) > 0 {
		w.alive()
	}
	return all, err
}

func (w watched) Settle(ctx context.Context, attempt int64, o store.Outcome, now time.Time) error {
	err := w.Store.Settle(ctx, attempt, o, now)
	if err == nil {
		w.alive()
	}
	return err
}
