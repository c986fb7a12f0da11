package scheduler

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// A keptPlan is what the store keeps of a plan: where each herd goes, when that was
// made, and why it goes elsewhere than by the plan before.
type keptPlan struct {
	Stops   []herd.Stop     `json:"stops"`
	Since   time.Time       `json:"since"`
	Changed []season.Change `json:"changed,omitempty"`
}

// Kept are the stops of a plan as the store keeps them, and why they are others than
// those before; none of what cannot be read.
func Kept(plan string) ([]herd.Stop, []season.Change) {
	var k keptPlan
	if json.Unmarshal([]byte(plan), &k) != nil {
		return nil, nil
	}
	return k.Stops, k.Changed
}

// kept is the plan that the store keeps, read where it is another than the last time;
// none of what cannot be read.
func (s *Scheduler) kept(tx *store.Tx) (keptPlan, error) {
	text, err := tx.KeptPlan()
	if err != nil {
		return keptPlan{}, fmt.Errorf("read the kept plan: %w", err)
	}
	if text != s.planText {
		s.planText, s.planKept = text, keptPlan{}
		if err := json.Unmarshal([]byte(text), &s.planKept); text != "" && err != nil {
			s.log.Warn("the plan that was kept cannot be read", "error", err)
			s.planKept = keptPlan{}
		}
	}
	return s.planKept, nil
}

// keep keeps the plan that was made in this pass, where one was and it is another.
func (s *Scheduler) keep(tx *store.Tx, c changes) error {
	plan := s.lookout.sums.made
	if plan == nil {
		return nil
	}
	was, err := s.kept(tx)
	if err != nil {
		return err
	}
	now := keptPlan{Stops: plan.Feed.Stops(), Since: tx.Now(), Changed: was.Changed}
	if slices.EqualFunc(was.Stops, now.Stops, sameStop) {
		return nil
	}
	now.Changed = append(slices.DeleteFunc(slices.Clone(was.Changed), func(old season.Change) bool {
		return tx.Now().Sub(old.At) >= ladder.Stands
	}), c.between(was, now.Stops)...)
	for i := range now.Changed {
		if now.Changed[i].At.IsZero() {
			now.Changed[i].At = tx.Now()
		}
	}
	s.lookout.sums.changed = now.Changed
	made, err := json.Marshal(now)
	if err != nil {
		return fmt.Errorf("write the plan down: %w", err)
	}
	return tx.KeepPlan(string(made))
}

func sameStop(a, b herd.Stop) bool {
	return a.Ground == b.Ground && a.In == b.In && a.Out == b.Out && slices.Equal(a.Herds, b.Herds)
}

// keptNext are those of the kept plan: an answer makes none.
func (h *hearing) keptNext(v *season.View, days int) []string {
	plan, _ := h.kept(h.tx) // the transaction fails by itself
	return nextIn(plan.Stops, v, days)
}

// nextIn are the paddocks to which stops send who stands in one, in order, within so
// many days.
func nextIn(stops []herd.Stop, v *season.View, days int) (paddocks []string) {
	soon := v.Today.AddDays(days)
	for _, s := range stops {
		if s.Ground != v.Paddock.ID && s.Out.After(v.Today) && !s.In.After(soon) && slices.ContainsFunc(s.Herds, func(h string) bool { return slices.Contains(v.Herds.Herds, h) }) {
			paddocks = append(paddocks, s.Ground)
		}
	}
	return paddocks
}

// daysSpokenOf is how far ahead of a move its next ground is named.
const daysSpokenOf = 14

// allSummer is further ahead than any plan reaches.
const allSummer = 366

// nextWithin is how many days ahead a stop may begin to be the next: a plan of the fall
// after is none yet.
const nextWithin = 60

// mostNext is how many grounds ahead a herd is told of that asks where next.
const mostNext = 2

// askedOf answers what was asked of the farm: from the kept plan, and none is kept
// because of it.
func (h *hearing) askedOf(f diary.Fact) ([]ladder.Part, error) {
	plan, err := h.kept(h.tx)
	if err != nil {
		return nil, err
	}
	today := civil.DateOf(h.now.In(h.farm.Zone))
	a := &ladder.AskedFacts{Head: ladder.Head{Day: today}}
	sight := h.sight(h.book, today)
	sight.Kept, sight.Changed = plan.Stops, plan.Changed
	switch f.Kind {
	case diary.FeedLasts:
		a.Feed = sumsOf(sight, sight.Land()).feed()
	case diary.WhereNext:
		a.Pass = nextStops(sight.Kept, h.views(), f.Herd)
		c, err := h.changes()
		if err != nil {
			return nil, err
		}
		a.Changed = c.of(a.Pass)
	default:
		a.Frost, _ = sight.PlannedFrost() // none: it says so
		a.Shuts = h.status("").Shuts
	}
	return []ladder.Part{{Kind: ladder.AnswerAsked, Facts: a}}, nil
}

// nextStops are the grounds that stops send each herd to next, or one of them: those
// that are still open, and where it does not stand already.
func nextStops(stops []herd.Stop, views []season.View, only string) (next []ladder.Stop) {
	told := map[string]int{}
	for _, s := range stops {
		v := viewOf(views, s.Ground)
		if v == nil || !s.Out.After(v.Today) || s.In.DaysSince(v.Today) > nextWithin || v.Perilous() || v.Rests() {
			continue
		}
		to := ladder.Stop{Paddock: s.Ground, Name: v.Paddock.Name, In: s.In, Out: s.Out, Unproved: doubtful(v)}
		for _, id := range s.Herds {
			if (only == "" || only == id) && told[id] < mostNext && !slices.Contains(v.Herds.Herds, id) {
				to.Herds, told[id] = append(to.Herds, id), told[id]+1
			}
		}
		if len(to.Herds) > 0 {
			to.Cautions = harms(v, to.Herds)
			next = append(next, to)
		}
	}
	return next
}

// inPlan reports whether a plan has begun.
func inPlan(plan season.FeedPlan, today civil.Date) bool {
	return !today.Before(plan.From) && !today.After(plan.To)
}
