package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"log/slog"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/email"
	"stubbled/notify/sms"
	"stubbled/scheduler/ladder"
)

// A fault is what is wrong and with what: two mailboxes may fail by themselves.
type fault struct {
	what  string // the alarm's word
	where string
}

// state is how the machine is, for the person and for the service manager.
type state struct {
	clock    clock
	started  time.Time
	mu       sync.Mutex
	lastPass time.Time
	failing  map[fault]time.Time // since when
	told     []string            // what the scheduler knows besides
	sure     bool                // the clock is believed
	backup   time.Time
	unsaid   int
}

func newState(c clock) *state {
	return &state{clock: c, started: c.Now(), failing: map[fault]time.Time{}}
}

// fails notes a fault and gives since when it lasts.
func (s *state) fails(f fault, now time.Time) time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	since, ok := s.failing[f]
	if !ok {
		since = now
		s.failing[f] = now
	}
	return since
}

// well notes that a fault is over: whether there was one, and whether others of
// its kind are left.
func (s *state) well(f fault) (was, others bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, was = s.failing[f]
	delete(s.failing, f)
	for other := range s.failing {
		others = others || other.what == f.what
	}
	return was, others
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

// note keeps what the health socket tells besides.
func (s *state) note(unsaid int, backup time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.unsaid, s.backup = unsaid, backup
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

// line says in a line how the daemon is, and how the store is.
func (s *state) line(store error) string {
	if store != nil {
		return store.Error()
	}
	be := s.wellbeing()
	if len(be.Failing) > 0 {
		return "something fails: " + strings.Join(be.Failing, ", ")
	}
	if !be.Clock {
		return "the clock is not believed yet: reminders wait"
	}
	return "all is well"
}

// look gathers the health of the machine for `status` and the Monday mail.
func (d *daemon) look(ctx context.Context, now time.Time) {
	zone := d.farm.Load().Zone
	h := ladder.Health{Failing: d.state.troubles(), OK: true}
	h.OK = len(h.Failing) == 0
	unsaid, err := d.store.NotSaid(ctx, now.AddDate(0, 0, -7))
	if err != nil {
		d.log.Warn("what could not be said is not known", "err", err)
	}
	for _, u := range unsaid {
		h.NotSaid = append(h.NotSaid, ladder.NotSaid{
			To: u.Notice.To, Paddock: u.Notice.Facts.Name, Why: u.Why, Kind: u.Notice.Kind,
			Day: civil.DateOf(u.Changed.In(zone)),
		})
	}
	h.Unsent = len(h.NotSaid)
	if !d.night.done.IsZero() {
		h.LastBackup = civil.DateOf(d.night.done.In(zone))
	}
	d.state.note(h.Unsent, d.night.done)
	d.sched.SetHealth(h)
}

func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:6])
}

// phone is a whole number within words, such as those of an error.
var phone = regexp.MustCompile(`\+[1-9][0-9]{6,14}\b`)

// logger writes for the journal where there is one, else for a person. Phone
// numbers and addresses are shortened, whoever logs them.
func logger(e *env) *slog.Logger {
	o := &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		switch a.Key {
		case "phone":
			return slog.String(a.Key, sms.PhoneShort(a.Value.String()))
		case "email":
			return slog.String(a.Key, email.Short(a.Value.String()))
		case slog.TimeKey:
			if os.Getenv("JOURNAL_STREAM") != "" {
				return slog.Attr{}
			}
		}
		if text := a.Value.String(); a.Key != slog.TimeKey && phone.MatchString(text) {
			return slog.String(a.Key, phone.ReplaceAllStringFunc(text, sms.PhoneShort))
		}
		return a
	}}
	return slog.New(slog.NewTextHandler(e.err, o))
}
