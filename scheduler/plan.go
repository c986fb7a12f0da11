package scheduler

import (
	"fmt"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// plan makes the queue what should be said now, and gives the next moment at
// which that can change, and what it changed itself.
func (s *Scheduler) plan(tx *store.Tx) (next time.Time, changes store.Changes, err error) {
	in, err := s.input(tx)
	if err != nil {
		return next, changes, err
	}
	wanted, next := s.lookout.plan(in)
	if err := s.keep(tx, s.changes(in.Book, in.Said, in.Now)); err != nil {
		return next, changes, fmt.Errorf("keep the plan of where the herds eat: %w", err)
	}
	if changes, err = tx.Reconcile(wanted); err != nil {
		return next, changes, fmt.Errorf("reconcile %d notices: %w", len(wanted), err)
	}
	if changes.Any() {
		s.log.Info("planned", "inserted", changes.Inserted, "refreshed", changes.Refreshed,
			"withdrawn", changes.Withdrawn, "expired", changes.Expired)
	}
	return next, changes, nil
}

// input gathers everything that decides what should be said now.
func (s *Scheduler) input(tx *store.Tx) (in ladder.Input, err error) {
	now := tx.Now()
	book, err := s.diary(tx)
	if err != nil {
		return in, err
	}
	today := civil.DateOf(now.In(s.farm.Zone))
	o := s.look(book, today)
	said, err := o.hears(tx, s.farm.Zone)
	if err != nil {
		return in, err
	}
	if o.sums == nil {
		kept, err := s.kept(tx)
		if err != nil {
			return in, err
		}
		sight := s.sight(book, today)
		sight.Kept, sight.Changed = kept.Stops, kept.Changed
		o.sums = sumsOf(sight, o.land)
		if o.rain != nil {
			o.sums.rain = o.rain
		}
	}
	views := o.views
	changed := s.changes(book, said, now)
	in = ladder.Input{
		Now: now, Zone: s.farm.Zone, Morning: s.farm.Morning, Farm: s.farm.Name,
		Contacts: s.farm.Contacts, Calls: s.farm.Carriers.Call != nil, Rungs: s.farm.Rungs, Tell: s.farm.Tell, Views: views, Book: book, Said: said,
		Moves:    o.land.Moves(),
		OptedOut: map[string]bool{},
		MoveTo: func(paddock string, frost bool) ladder.Sends {
			return changed.sends(paddock, moveTo(views, s.planned(views, paddock), paddock, frost, false))
		},
		Changed: changed.of,
		BadFile: s.badFile,
		Nights:  s.air.ahead,
		Rain:    o.sums.rain, Head: s.headOn(book),
		Lesson: o.land.Lesson, Prospect: o.land.Prospect, Springs: o.land.Springs, Feed: o.sums.feed, LastPass: o.sums.lastPass,
	}
	last := map[string]time.Time{}    // of a contact's opt-outs
	for _, o := range s.air.optOuts { // oldest first
		if c, address, ok := ladder.OwnerOf(s.farm.Contacts, o.Address); ok {
			in.OptedOut[address], last[c.Name] = true, o.At
		}
	}
	for _, c := range s.farm.Contacts { // who still gets texts is not gone
		if at, some := last[c.Name]; some && !slices.ContainsFunc(c.Addresses(), func(a string) bool { return !in.OptedOut[a] }) {
			in.OptOuts = append(in.OptOuts, ladder.OptOut{Contact: c.Name, At: at})
		}
	}
	s.nobodyLeft(in.OptedOut, now)
	in.Alarms = s.Troubles()
	health := s.wellbeing()
	in.Health = &health
	return in, nil
}

// sight is what the farm is looked at with.
func (s *Scheduler) sight(book *diary.Book, today civil.Date) season.Sight {
	return season.Sight{Farm: &s.farm.Farm, Book: book, Today: today, Cache: s.cache, Air: s.air.record(s.farm, today)}
}

// mostChoices is how many places to go a text names.
const mostChoices = 3

// planned are the paddocks that the plan sends the herd of one to; none where it has
// not begun.
func (s *Scheduler) planned(views []season.View, from string) []string {
	v := viewOf(views, from)
	if plan, ok := s.lookout.sums.plan(); ok && v != nil && inPlan(plan, v.Today) {
		return nextIn(plan.Feed.Stops(), v, daysSpokenOf)
	}
	return nil
}

// moveTo lists the paddocks that can take a herd, best first: where the plan has it
// next, then ground without a rest to spoil, then natives; in summer natives that are
// tall enough before it. frost leaves out those whose plants a frost can turn.
func moveTo(views []season.View, planned []string, from string, frost, summer bool) []string {
	var can []*season.View
	of := viewOf(views, from)
	for i := range views {
		v := &views[i]
		if v.Paddock.ID == from || v.Perilous() || v.Rests() || tooSoon(v) || of != nil && v.Bars(of) {
			continue
		}
		if frost && len(v.AtRisk) > 0 || bare(v) && !slices.Contains(planned, v.Paddock.ID) {
			continue
		}
		if v.Verdict.Say == season.Wait && v.Verdict.Action != season.ReadIt {
			continue
		}
		can = append(can, v)
	}
	for _, worse := range []func(*season.View) bool{doubtful, released, unwalked} {
		if clean := slices.DeleteFunc(slices.Clone(can), worse); len(clean) > 0 {
			can = clean
		}
	}
	slices.SortStableFunc(can, func(a, b *season.View) int {
		return rankMove(a, of, planned, summer) - rankMove(b, of, planned, summer)
	})
	var names []string
	for _, v := range can[:min(len(can), mostChoices)] {
		names = append(names, v.Paddock.Name)
	}
	return names
}

// regrown is how many days ground that was read eaten down is no place to go: a height
// that has become old makes no grass (a month's rest is common practice).
const regrown = 30

// bare reports whether ground was read eaten down less than a month ago.
func bare(v *season.View) bool {
	r := v.Reading
	return r != nil && v.Verdict.Action == season.ReadIt && r.Sample.Mean <= v.Paddock.Floor() && v.Today.DaysSince(r.Day) < regrown
}

// doubtful reports whether ground has plants that can poison and no height by which
// animals may go in: nobody is sent there while other ground will do.
func doubtful(v *season.View) bool { return len(v.AtRisk) > 0 && v.Verdict.Say != season.Go }

// released reports whether the calendar alone ended a hold on ground: who grazes there
// is told to look first, so nobody is sent there the same morning.
func released(v *season.View) bool { return len(v.Caution) > 0 }

// warned says what may harm the animals of a paddock where they go first, and leaves
// out the other ground that may: a place is never named without its caution.
func warned(views []season.View, from string, s ladder.Sends) ladder.Sends {
	of := viewOf(views, from)
	if of == nil || len(s.MoveTo) == 0 {
		return s
	}
	harms := func(name string) []season.Caution {
		if v := named(views, name); v != nil {
			return v.CautionsFor(of)
		}
		return nil
	}
	s.Cautions = harms(s.MoveTo[0])
	s.MoveTo = append(s.MoveTo[:1:1], slices.DeleteFunc(slices.Clone(s.MoveTo[1:]), func(name string) bool { return len(harms(name)) > 0 })...)
	return s
}

// harms are the cautions of ground for some herds that are to go there.
func harms(v *season.View, herds []string) []season.Caution {
	return v.CautionsFor(&season.View{Herds: season.Standing{Occupancy: season.Grazed, Herds: herds}})
}

// unwalked reports whether ground is dormant and nobody has read it since: the word that
// its rest is over asks for a walk before anybody grazes there.
func unwalked(v *season.View) bool {
	return v.Phase == season.Dormant && v.Verdict.Action == season.ReadIt
}

// unproved is the same of a stop: not of ground where those herds stand already.
func unproved(v *season.View, herds []string) bool {
	return doubtful(v) && !slices.ContainsFunc(herds, func(h string) bool { return slices.Contains(v.Herds.Herds, h) })
}

// tooSoon reports whether a paddock shuts itself within three days.
func tooSoon(v *season.View) bool {
	return v.Phase == season.Open && !v.Dates.Cutoff.IsZero() && v.Dates.Cutoff.DaysSince(v.Today) < 3
}

func rankMove(v, of *season.View, planned []string, summer bool) int {
	if i := slices.Index(planned, v.Paddock.ID); i >= 0 {
		return i - len(planned) - 1
	}
	switch {
	case v.Failed:
		return 4 // last of all
	case of != nil && slices.ContainsFunc(v.CautionsFor(of), func(c season.Caution) bool { return c.Why == season.RiskLiver || c.Why == season.RiskBloat }):
		return 3 // its own grass may harm them
	case summer && v.Paddock.Native() && v.Verdict.Say == season.Go:
		return -1
	case !v.Paddock.Native():
		return 0
	case v.Verdict.Say == season.Go:
		return 1
	}
	return 2
}
