package scheduler

import (
	"iter"
	"maps"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// changes tells why herds are sent to other ground than was said within a week.
type changes struct {
	farm  *config.Farm
	views []season.View
	moves *season.Moves
	book  *diary.Book
	said  *ladder.Said
	now   time.Time
	kept  []season.Change // why the plan kept is another than the one before
	saves func() float64  // days of feed that the plan saves against the one kept; nil for none
}

// changes is what tells them of the farm as it was looked at last.
func (s *Scheduler) changes(book *diary.Book, said *ladder.Said, now time.Time) changes {
	o := &s.lookout
	return changes{farm: s.farm, views: o.views, moves: o.land.Moves(), book: book, said: said, now: now, kept: o.sums.changed, saves: o.sums.saves}
}

// changes is the same for an answer. One as of an earlier moment changes nothing.
func (h *hearing) changes() (changes, error) {
	c := changes{farm: h.farm, views: h.views(), book: h.book, now: h.now}
	if h.earlier() {
		return c, nil
	}
	plan, err := h.kept(h.tx)
	if err != nil {
		return c, err
	}
	c.kept = plan.Changed
	c.moves = h.lookout.land.Moves()
	c.said, err = h.lookout.hears(h.tx, h.farm.Zone)
	return c, err
}

// leastSaved is how many days of feed another order must save to be a reason.
const leastSaved = 1

// sends is where the herds of a paddock can go, best first: the ground told before
// stays the best as long as they can go there and nothing speaks for another.
func (c changes) sends(paddock string, to []string) ladder.Sends {
	s := ladder.Sends{MoveTo: to}
	v := viewOf(c.views, paddock)
	if v == nil || len(to) == 0 {
		return s
	}
	s.Herds = v.Herds.Herds
	for _, h := range s.Herds {
		was, at, told := c.sentTo(h)
		if !told || was == s.MoveTo[0] {
			continue
		}
		change := c.change(h, was, at)
		if i := slices.Index(s.MoveTo, was); i >= 0 {
			s.MoveTo = slices.Delete(slices.Clone(s.MoveTo), i, i+1) // what is changed from is not offered beside
			if change == nil || change.Fact != nil && !c.replanned(h, was) {
				s.MoveTo = slices.Insert(s.MoveTo, 0, was) // whatever happened, they can go there still
				continue
			}
		}
		s.Changed = c.add(s.Changed, h, was, s.MoveTo[0], change)
	}
	return warned(c.views, paddock, s)
}

// of is why stops send herds to other ground than was said; none where they do not.
func (c changes) of(stops []ladder.Stop) (all []season.Change) {
	done := map[string]bool{}
	today := civil.DateOf(c.now.In(c.farm.Zone))
	for _, leg := range ladder.LegsOf(stops) {
		if done[leg.Herd] || !leg.Out.After(today) || c.been(leg.Herd, leg.Ground, c.now) {
			continue
		}
		done[leg.Herd] = true
		if was, at, told := c.sentTo(leg.Herd); told && was != leg.Ground {
			all = c.add(all, leg.Herd, was, leg.Ground, c.change(leg.Herd, was, at))
		}
	}
	return all
}

func (c changes) sentTo(herd string) (ground string, at time.Time, ok bool) {
	return c.said.SentTo(herd, c.now, civil.DateOf(c.now.In(c.farm.Zone)), func(ground string, since time.Time) bool {
		return c.been(herd, ground, since)
	})
}

// been reports whether a herd stands on a ground, or came there since an instant.
func (c changes) been(herd, ground string, since time.Time) bool {
	v := named(c.views, ground)
	return v != nil && (slices.Contains(v.Herds.Herds, herd) || slices.ContainsFunc(c.moves.Periods(v.Paddock.ID), func(p season.Period) bool {
		return p.Herd == herd && p.On.At.After(since)
	}))
}

// add adds a herd to the changes from one ground to another.
func (c changes) add(all []season.Change, herd, was, now string, why *season.Change) []season.Change {
	if why == nil {
		why = &season.Change{Why: season.Anew}
	}
	for i := range all {
		if all[i].Was == was && all[i].Now == now {
			all[i].Herds = append(all[i].Herds, herd)
			return all
		}
	}
	why.Herds, why.Was, why.Now = []string{herd}, was, now
	return append(all, *why)
}

// between are the changes from the plan kept to other stops: those of each herd's next
// ground.
func (c changes) between(was keptPlan, now []herd.Stop) (all []season.Change) {
	next := maps.Collect(c.next(was.Stops))
	for h, ground := range c.next(now) {
		if old := next[h]; old != "" && old != ground {
			all = c.add(all, h, old, ground, c.change(h, old, was.Since))
		}
	}
	return all
}

// next yields each herd's first ground in stops that is still to come and where it does
// not stand, as people say it.
func (c changes) next(stops []herd.Stop) iter.Seq2[string, string] {
	return func(yield func(herd, ground string) bool) {
		done := map[string]bool{}
		for _, s := range stops {
			v := viewOf(c.views, s.Ground)
			for _, h := range s.Herds {
				if v == nil || done[h] || !s.Out.After(v.Today) || slices.Contains(v.Herds.Herds, h) {
					continue
				}
				if done[h] = true; !yield(h, v.Paddock.Name) {
					return
				}
			}
		}
	}
}

// change is why a ground is not the one that a herd goes to any more; nil where nothing
// says so.
func (c changes) change(herd, was string, since time.Time) *season.Change {
	v := named(c.views, was)
	if v == nil {
		return nil
	}
	if why := closedFor(v); why != "" {
		return &season.Change{Why: why, Day: v.Dates.Cutoff}
	}
	if f := c.news(v.Paddock.ID, since); f != nil {
		return &season.Change{Fact: f, Names: namesIn(c.farm, []diary.Fact{*f})}
	}
	if undone, _ := c.book.TakenBack(since); len(undone) > 0 {
		f := undone[len(undone)-1]
		return &season.Change{Why: season.TakenBy, Fact: &f, Names: namesIn(c.farm, undone)}
	}
	if i := c.keptOf(herd, was); i >= 0 && c.kept[i].Why != season.Anew {
		why := c.kept[i]
		why.At = time.Time{}
		return &why
	}
	if c.saves != nil && c.saves() >= leastSaved {
		return &season.Change{Why: season.Saves, Days: int(c.saves())}
	}
	if v.Verdict.Say == season.Wait && v.Verdict.Action != season.ReadIt {
		return &season.Change{Why: season.Waits}
	}
	return nil
}

// keptOf is where among its changes the plan kept leaves a ground for another with a
// herd; -1 where it does not.
func (c changes) keptOf(herd, was string) int {
	return slices.IndexFunc(c.kept, func(k season.Change) bool { return k.Was == was && slices.Contains(k.Herds, herd) })
}

// replanned reports whether it does.
func (c changes) replanned(herd, was string) bool { return c.keptOf(herd, was) >= 0 }

// closedFor is why no herd is sent to a ground whatever its height; empty where it may.
func closedFor(v *season.View) season.Cause {
	switch {
	case v.Hold != nil:
		return season.Held
	case v.Perilous(), doubtful(v):
		return season.Poison
	case !v.Dates.OutBy.IsZero() && !v.Today.Before(v.Dates.OutBy):
		return season.Back
	case v.Rests():
		return season.Resting
	case tooSoon(v):
		return season.Shuts
	}
	return ""
}

// news is the newest fact since an instant that a plan rests on, those of one paddock
// first; nil for none.
func (c changes) news(paddock string, since time.Time) (newest *diary.Fact) {
	take := func(paddock string, farm bool) {
		for f := range c.book.Since(paddock, since) {
			if f.At.After(since) && f.Kind.Row().Feeds && (farm || f.Paddock == paddock) && (newest == nil || f.ID > newest.ID) {
				newest = f
			}
		}
	}
	if take(paddock, false); newest != nil {
		return newest
	}
	for i := range c.views {
		take(c.views[i].Paddock.ID, true)
	}
	return newest
}

// named is the view of a paddock as people say it.
func named(views []season.View, name string) *season.View {
	i := slices.IndexFunc(views, func(v season.View) bool { return v.Paddock.Name == name })
	if i < 0 {
		return nil
	}
	return &views[i]
}
