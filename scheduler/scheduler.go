// Package scheduler is in charge of deciding: what is due, to whom, and what a
// text means. Pass is its entry: it hears what came in, writes down what was
// measured, and reconciles what should be said with what is queued. Accept keeps
// what comes in besides, in the same transaction where it can.
//
// It never talks to a carrier, makes no words, and reads no clock: the time is
// passed in. Any pass can be run again without anything being said twice.
package scheduler

import (
	"context"
	"fmt"
	"log/slog"
	"reflect"
	"slices"
	"sync"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/notify/reply"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// Store is what the scheduler needs of the store.
type Store interface {
	Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error
	AcceptAnd(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time, then func(*store.Tx) error) error
	Pending(ctx context.Context) ([]store.InRow, error)
}

// A Scheduler decides for one farm. It is safe for use by several goroutines;
// one pass runs at a time.
type Scheduler struct {
	store Store
	log   *slog.Logger
	clock clock

	mu      sync.Mutex
	farm    *config.Farm
	renamed func(diary.Fact) diary.Fact
	reader  *reply.Reader
	cache   *season.Cache
	book    *diary.Book // the diary up to book.Last(); nil: read it again
	air     air
	lookout lookout
	left    *left // nil: the next pass plans
	// planKept is the plan that the store keeps as planText.
	planText string
	planKept keptPlan
	steady   bool // a pass of this run ended well
	badFile  *ladder.BadFile
	health   ladder.Health
	tries    map[int64]int // of texts that could not be heard, by inbox row
	// silenced is when an answer was last left out because a machine seems to write.
	silenced time.Time
	// unsure is when contacts were answered while the clock was doubted, since boot.
	unsure map[string][]time.Duration

	troubles troubles
}

// Options is what a scheduler is made with.
type Options struct {
	Store  Store
	Farm   *config.Farm
	Logger *slog.Logger
	Clock  Clock // nil: always certain
}

// New makes a scheduler.
func New(o Options) *Scheduler {
	if o.Logger == nil {
		o.Logger = slog.New(slog.DiscardHandler)
	}
	s := &Scheduler{store: o.Store, log: o.Logger, clock: clock{source: o.Clock}, cache: &season.Cache{}, unsure: map[string][]time.Duration{}}
	s.use(o.Farm)
	return s
}

// Use puts another farm file in force. bad is nil, or says why the file on disk
// is refused while an older one stays in force.
func (s *Scheduler) Use(farm *config.Farm, bad *ladder.BadFile) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.badFile = bad
	if farm != nil && farm != s.farm {
		s.use(farm)
	}
}

func (s *Scheduler) use(farm *config.Farm) {
	s.farm = farm
	s.reader, s.renamed = ReaderFor(farm), Renames(farm)
	s.air = air{}
	s.forget() // a renamed paddock has its facts under another id
}

// ReaderFor reads the texts of a farm.
func ReaderFor(farm *config.Farm) *reply.Reader {
	places := make([]reply.Place, len(farm.Paddocks))
	for i, p := range farm.Paddocks {
		places[i] = reply.Place{ID: p.ID, Name: p.Name, Aliases: p.Aliases}
		for _, h := range slices.Concat(p.Hazards, p.Grass.HazardsOf()) {
			at := &places[i]
			at.Hazard, at.Kin, at.Cherry = true, at.Kin || h.SorghumKin(), at.Cherry || h.ByEye
		}
	}
	herds := make([]reply.Herd, len(farm.Herds))
	for i, h := range farm.Herds {
		herds[i] = reply.Herd{ID: h.ID, Names: h.Aliases, Kind: h.Kind.Name, Head: h.Head}
	}
	units := reply.Inches
	if farm.Units == config.Centimetres {
		units = reply.Centimetres
	}
	return reply.New(places, herds, units)
}

// SetHealth passes in how the machine is, for status and the Monday mail.
func (s *Scheduler) SetHealth(h ladder.Health) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.health = h
}

// ClockSure reports whether reminders may go out: the clock did not jump.
func (s *Scheduler) ClockSure() bool { return s.clock.sure() }

// Pass hears every text that waits, one at a time in the order received,
// writes down what was measured, and makes the queue what should be said now.
// It gives the next moment at which anything can change by itself.
func (s *Scheduler) Pass(ctx context.Context, now time.Time) (next time.Time, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.clock.check(now)
	waiting, err := s.store.Pending(ctx)
	if err != nil {
		return time.Time{}, fmt.Errorf("read the inbox: %w", err)
	}
	for n := 0; len(waiting) > 0 && !s.last(waiting); waiting = waiting[n:] {
		n = s.together(waiting)
		if err := s.hearAll(ctx, now, waiting[:n]); err != nil {
			return time.Time{}, err
		}
	}
	err = s.update(ctx, now, func(tx *store.Tx) (err error) { next, err = s.hearAndPlan(tx, waiting); return err })
	s.steady = s.steady || err == nil
	if len(waiting) == 0 || !s.ofText(ctx, err) {
		return next, err
	}
	if err := s.hearAll(ctx, now, waiting); err != nil {
		return time.Time{}, err
	}
	err = s.update(ctx, now, func(tx *store.Tx) (err error) { next, err = s.planAll(tx); return err })
	return next, err
}

// planAll writes down what was measured and makes the queue what should be said.
func (s *Scheduler) planAll(tx *store.Tx) (next time.Time, err error) {
	s.answererGone(tx.Now())
	if err := s.clock.recover(tx); err != nil {
		return next, err
	}
	if !s.clock.sure() {
		s.left = nil
		return next, nil // nothing is planned by a clock that may be wrong
	}
	mark, err := tx.Mark()
	if err != nil {
		return next, fmt.Errorf("read how far it has come: %w", err)
	}
	if s.asLeft(tx.Now(), mark) {
		return s.left.next, tx.SetSeen(tx.Now())
	}
	if err := s.measure(tx, mark); err != nil {
		return next, err
	}
	next, changes, err := s.plan(tx)
	if err != nil {
		return next, err
	}
	if s.air.final.After(tx.Now()) && s.air.final.Before(next) {
		next = s.air.final
	}
	if err := s.leave(tx, next, changes); err != nil {
		return next, err
	}
	return next, tx.SetSeen(tx.Now())
}

// left is what a pass left: until the next moment nothing that is said can change
// as long as all of it is the same.
type left struct {
	at, next time.Time
	until    time.Time // the first moment at which anything changes, what nobody plans too
	mark     store.Mark
	badFile  *ladder.BadFile
	health   ladder.Health
	troubles []ladder.Trouble
}

func (s *Scheduler) leave(tx *store.Tx, next time.Time, changes store.Changes) error {
	if s.left = nil; changes.Expired+changes.Withdrawn > 0 {
		return nil // what may have been said counts as said from now on, which can make more due
	}
	end, err := tx.NextEnd() // an answer that nobody could be given expires too
	if err != nil {
		return err
	}
	until := next
	if !end.IsZero() && end.Before(next) {
		until = end.Add(time.Second)
	}
	mark, err := tx.Mark()
	s.left = &left{at: tx.Now(), next: next, until: until, mark: mark, badFile: s.badFile, health: s.health, troubles: s.Troubles()}
	return err
}

// asLeft reports whether a pass would find everything as the last one left it.
func (s *Scheduler) asLeft(now time.Time, mark store.Mark) bool {
	l := s.left
	return l != nil && !now.Before(l.at) && now.Before(l.until) && mark == l.mark && s.badFile == l.badFile &&
		reflect.DeepEqual(s.health, l.health) && slices.Equal(s.Troubles(), l.troubles)
}

// forget lets go of all that was kept of the farm.
func (s *Scheduler) forget() {
	s.book, s.left, s.lookout = nil, nil, lookout{}
	s.air.day = civil.Date{}
}

// update runs one transaction. Where it fails the diary in memory may be ahead
// of the file, so it is read again.
func (s *Scheduler) update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	return s.forgetting(s.store.Update(ctx, now, decide))
}

func (s *Scheduler) forgetting(err error) error {
	if err != nil {
		s.forget()
	}
	return err
}

// diary is the live diary as of this transaction.
func (s *Scheduler) diary(tx *store.Tx) (*diary.Book, error) {
	if s.book == nil {
		s.book = diary.NewBook()
	}
	facts, err := tx.FactsAfter(s.book.Last())
	if err != nil {
		return nil, fmt.Errorf("read the diary: %w", err)
	}
	for _, f := range facts {
		f = s.renamed(f)
		s.lookout.wrote(s.book, f)
		s.book.Add(f)
	}
	return s.book, nil
}

// Renames gives facts of paddocks that were renamed their present ids.
func Renames(farm *config.Farm) func(diary.Fact) diary.Fact {
	now := map[string]string{}
	for i := range farm.Paddocks {
		if p := &farm.Paddocks[i]; p.Was != "" && now[p.Was] == "" {
			now[p.Was] = p.ID
		}
	}
	return func(f diary.Fact) diary.Fact {
		if id, ok := now[f.Paddock]; ok {
			f.Paddock = id
		}
		return f
	}
}
