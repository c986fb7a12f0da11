package daemon

import (
	"context"
	"slices"
	"sync"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/ladder"
)

// A fault is what is wrong and with what: two mailboxes may fail by themselves.
type fault struct {
	what  string // the alarm's word
	where string
}

// A failure is since when a fault lasts, since boot, and what it is.
type failure struct {
	since     time.Duration
	medium    ladder.Medium // by which nobody can be told; empty for none
	detail    string        // with the mend
	elsewhere bool          // people are told of it another way than by the alarm list
}

// state is how the machine is, for the person and for the service manager.
type state struct {
	clock    Clock
	started  time.Time
	mu       sync.Mutex
	lastPass time.Time
	failing  map[fault]failure
	told     []ladder.Trouble // what the scheduler knows besides
	sure     bool             // the clock is believed
	looked   ladder.Health    // at the last turn
}

// fails notes a fault; one that was noted keeps its beginning.
func (s *state) fails(f fault, how failure) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if old, ok := s.failing[f]; ok {
		how.since = old.since
	}
	s.failing[f] = how
}

func (s *state) has(f fault) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, has := s.failing[f]
	return has
}

// mended notes that a fault is over, and whether there was one.
func (s *state) mended(f fault) (was bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, was = s.failing[f]
	delete(s.failing, f)
	return was
}

// longest is the failure of a kind that lasts longest; of any kind where that is
// empty.
func (s *state) longest(what string) (longest failure, found bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for f, one := range s.failing {
		if (what == "" || f.what == what) && (!found || one.since < longest.since) {
			longest, found = one, true
		}
	}
	return longest, found
}

// learn takes what a turn found out.
func (s *state) learn(what func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	what()
}

// believed reports whether the clock was believed at the end of the last turn.
func (s *state) believed() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.sure
}

// troubles lists what the daemon itself saw fail, by name.
func (s *state) troubles() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.faults(nil)
}

// faults lists what fails by name, each once, with some more.
func (s *state) faults(more []ladder.Trouble) (all []string) {
	for _, t := range more {
		all = append(all, t.What)
	}
	for f := range s.failing {
		all = append(all, f.what)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// look gathers the health of the machine for `status` and the Monday mail.
func (d *Daemon) look(ctx context.Context, now time.Time) {
	d.onConsole()
	zone := d.farm.Load().Zone
	h := ladder.Health{Failing: d.state.troubles(), OK: true}
	h.OK = len(h.Failing) == 0
	unsaid, err := d.store.NotSaid(ctx, now.AddDate(0, 0, -7))
	if err != nil {
		d.Log.Warn("what could not be said is not known", "err", err)
	}
	for _, u := range unsaid {
		h.NotSaid = append(h.NotSaid, ladder.NotSaid{
			To: u.Notice.To, Paddock: u.Notice.About().Name, Why: u.Why, Kind: u.Notice.Kind,
			Day: civil.DateOf(u.Changed.In(zone)),
		})
	}
	h.Unsent = len(h.NotSaid)
	if !d.night.done.IsZero() {
		h.LastBackup = civil.DateOf(d.night.done.In(zone))
	}
	d.state.learn(func() { d.state.looked = h })
	d.sched.SetHealth(h)
}
