// Package spool is in charge of texting through a modem in this machine: it
// writes messages into the file spool of Debian's smstools and reads what
// comes back. smsd of that package owns the modem.
//
// It never opens the modem, and never decides anything. Invariants: a message
// is one file named by its envelope, so it is handed over once however often
// this program dies; what came in is accepted before its file is moved; a
// file that is not ours, half written or locked is left where it is.
//
// Folders of the spool, by whom they are filled:
//
//	outgoing   by us; smsd takes from here
//	checked    by smsd: waiting for the modem (there may be more such queues)
//	sent       by smsd: given to the network
//	failed     by smsd: refused
//	incoming   by smsd: texts and delivery reports
//	done       by us: new (being written), sent, failed, back (taken back
//	           unsent) and told (so, and recorded), heard (accepted), odd (not
//	           understood)
package spool

import (
	"cmp"
	"log/slog"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"

	"stubbled/notify"
	"stubbled/notify/terms"
	"stubbled/scheduler/ladder"
)

// carrier is its name in the farm file and the logs.
const carrier = "sms"

// Options say where the spool is and how patient to be.
type Options struct {
	terms.Spool
	Zone *time.Location // of smsd's stamps
	Log  *slog.Logger   // nil: none
}

// A Spool is a carrier, a receiver and a checker.
type Spool struct {
	o   Options
	now func() time.Time

	handing sync.Mutex // one handover or taking back at a time
	looking sync.Mutex // one look at smsd's own files at a time
	ledger  ledger     // which message a delivery report speaks of
	watch   watch
	bell    bell
	quiet   time.Duration   // between looks at folders that are watched
	odd     map[string]bool // files already complained about
	// stuck names the files that were accepted but could not be moved away.
	stuck map[string]bool
	// at is called between the steps of a handover; a test dies there.
	at func(step string)
}

// Proof that a Spool fits.
var (
	_ notify.Carrier  = (*Spool)(nil)
	_ notify.Receiver = (*Spool)(nil)
	_ notify.Checker  = (*Spool)(nil)
)

// New makes a carrier over a spool that the farm file was checked to describe;
// nothing is touched yet.
func New(o Options, now func() time.Time) *Spool {
	o.Queues = slices.Clone(o.Queues)
	for i, q := range o.Queues {
		if !filepath.IsAbs(q) {
			o.Queues[i] = filepath.Join(o.Dir, q)
		}
	}
	o.Log = cmp.Or(o.Log, slog.New(slog.DiscardHandler)).With("carrier", carrier)
	s := &Spool{o: o, now: now, quiet: max(quiet, o.Poll), odd: map[string]bool{}, stuck: map[string]bool{}}
	s.bell.open = fsnotify.NewWatcher
	s.watch.first = map[string]time.Time{}
	return s
}

// Name is the carrier's name in the farm file and the logs.
func (s *Spool) Name() string { return carrier }

// Medium is text.
func (s *Spool) Medium() ladder.Medium { return ladder.Text }

// Retry is safe: a file's name is handed over once.
func (s *Spool) Retry() notify.Retry { return notify.Safe }

// path names a file of one of the spool's own folders.
func (s *Spool) path(parts ...string) string {
	return filepath.Join(append([]string{s.o.Dir}, parts...)...)
}

var aName = regexp.MustCompile(`^[A-Za-z0-9_-][A-Za-z0-9._-]{0,119}$`)

// goodName reports whether an envelope's ID may be a file's name.
func goodName(id string) bool {
	return aName.MatchString(id) && !strings.HasSuffix(id, lockSuffix)
}

// lockSuffix is added by smsd to the name of a file that it works on.
const lockSuffix = ".LOCK"
