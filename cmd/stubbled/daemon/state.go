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
	told     []string      // what the scheduler knows besides
	sure     bool          // the clock is believed
	looked   ladder.Health // at the last turn
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

// has reports whether a fault lasts.
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

// passed notes a pass.
func (s *state) passed(now time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.lastPass = now
}

// knows notes what the scheduler knows: whether the clock is believed, and what
// people are told of.
func (s *state) knows(sure bool, told []ladder.Trouble) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.sure, s.told = sure, nil
	for _, t := range told {
		s.told = append(s.told, t.What)
	}
}

// believed reports whether the clock was believed at the end of the last turn.
func (s *state) believed() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.sure
}

// note keeps how the machine was at a turn.
func (s *state) note(h ladder.Health) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.looked = h
}

// troubles lists what the daemon itself saw fail, by name.
func (s *state) troubles() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.faults(nil)
}

// faults lists what fails by name, each once, with some more.
func (s *state) faults(more []string) []string {
	all := slices.Clone(more)
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
	d.state.note(h)
	d.sched.SetHealth(h)
}
