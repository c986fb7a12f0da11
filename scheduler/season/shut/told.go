package shut

import (
	"cmp"
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// greenWait is how long a killing freeze or brown tops must lie back, and the last
// frost before a height that shows regrowth safe, in days: the longest published
// wait of standing sorghum kin.
const greenWait = 14

// fewPlants is how many plants a height needs at least to show new shoots grown out
// (assumption): two may both be of the tall ones.
const fewPlants = 3

// greened are the holds of regrowth that was seen. No calendar ends one: only a
// height that is safe, the death of the shoots, or a person.
func (g *Ground) greened() []Cause {
	var all []Cause
	for _, p := range g.shoots() {
		c := Cause{Why: Regrowth, Plant: p.Name, Danger: grass.PrussicAcid}
		for i := range g.Reports {
			f := &g.Reports[i]
			if f.Kind != diary.Regrowth || f.Plant != "" && f.Plant != p.Name || g.lifted(f) || g.grownOut(p, f) {
				continue
			}
			if c.First.ID == 0 {
				c.First, c.Since = *f, f.Day
			}
			c.Last, c.Until = *f, g.shootsDead(p, f)
			c.Marks = append(c.Marks, Mark{f.Day, c.Until})
		}
		if c.First.ID > 0 {
			all = append(all, c)
		}
	}
	return all
}

// shootsOf reports whether regrowth of a plant was seen that nothing has ended.
func (g *Ground) shootsOf(p *Plant) bool {
	return slices.ContainsFunc(g.greened(), func(c Cause) bool { return c.Plant == p.Name && c.Until.IsZero() })
}

// shoots are the plants whose regrowth is feared; one without a name where a
// report is of ground that none is known of.
func (g *Ground) shoots() []*Plant {
	var all []*Plant
	named := map[string]bool{}
	for i := range g.Plants {
		if p := &g.Plants[i]; p.Danger == grass.PrussicAcid && !p.ByEye {
			all, named[p.Name] = append(all, p), true
		}
	}
	for _, f := range g.Reports {
		if f.Kind == diary.Regrowth && !named[f.Plant] && (f.Plant != "" || len(all) == 0) {
			h, _ := grass.Hazards.Find(f.Plant)
			h.Name, named[f.Plant] = f.Plant, true
			all = append(all, &Plant{Hazard: h})
		}
	}
	return all
}

// grownOut reports whether a height read since shows the regrowth safe: every plant
// of it at or above the safe height, enough of them, and two weeks after the last frost.
func (g *Ground) grownOut(p *Plant, f *diary.Fact) bool {
	safe := p.Safe
	if !safe.Known() {
		safe = p.Tall
	}
	return safe.Known() && slices.ContainsFunc(g.Readings, func(r Reading) bool {
		return r.Plants() >= fewPlants && !r.TodayOnly(safe.Value) && r.Least >= safe.Value && Later(&r.Fact, f) && len(g.nights(r.Day.AddDays(-greenWait+1), r.Day.AddDays(1))) == 0
	})
}

// shootsDead is the last day shut because of a report of regrowth: two weeks after
// the killing freeze or brown tops that came later, and after each frost within
// that; zero while the shoots live.
func (g *Ground) shootsDead(p *Plant, f *diary.Fact) (until civil.Date) {
	for i := range g.Reports {
		b := &g.Reports[i]
		if y := g.yearOf(b.Day); b.Kind == diary.Brown && Later(b, f) && y != nil && g.Believes(y, b.Day) {
			until = diary.EarlierDay(until, b.Day.AddDays(greenWait))
		}
	}
	for i := range g.Nights {
		n := &g.Nights[i]
		if y := g.yearOf(n.Day); n.Day.After(f.Day) && y != nil && !n.Day.Before(y.Freeze) && g.killedBy(p, n) {
			until = diary.EarlierDay(until, n.Day.AddDays(greenWait))
		}
	}
	for i := range g.Nights {
		if day := g.Nights[i].Day; !until.IsZero() && day.After(until.AddDays(-greenWait)) && !day.After(until) {
			until = day.AddDays(greenWait)
		}
	}
	return until
}

// wilted are the holds of wild cherry that is down or wilted: until a person has
// seen the leaves brown and dry, since no wait in days is published.
func (g *Ground) wilted() []Cause {
	var all []Cause
	for i := range g.Reports {
		f := &g.Reports[i]
		if f.Kind != diary.Danger || g.lifted(f) {
			continue
		}
		plant := cmp.Or(f.Plant, "wild cherry")
		if n := len(all); n > 0 && all[n-1].Plant == plant {
			all[n-1].Last, all[n-1].Marks = *f, append(all[n-1].Marks, Mark{Day: f.Day})
			continue
		}
		all = append(all, Cause{
			Why: Wilted, Plant: plant, Danger: grass.PrussicAcid, Since: f.Day, First: *f, Last: *f, Marks: []Mark{{Day: f.Day}},
		})
	}
	return all
}

// How long what is known of the nights holds good, in days.
const (
	goodNights = 2 // a record without a minimum for so many nights has stopped
	goodWord   = 7 // a person's word
	deadAfter  = 14
)

// notKnown is the wait of ground on which a frost would turn something and nobody
// knows whether it came: from the early side of 36 F until two weeks after its
// plants died, at the latest the year's turn.
func (g *Ground) notKnown() (all []Cause) {
	y := g.yearOf(g.Today)
	if y == nil || y.Cold.IsZero() || g.Today.Before(y.Cold) {
		return nil
	}
	since := y.Cold
	if !Stopped(g.LastMin, g.Today) {
		return nil
	}
	for _, known := range []civil.Date{after(g.LastMin, goodNights), after(g.word(), goodWord)} {
		if known.After(g.Today) {
			return nil
		}
		since = diary.LaterDay(since, known)
	}
	for i := range g.Plants {
		p := &g.Plants[i]
		if !g.up(p, y, g.Today) || !g.heldOn(p, g.Today) {
			continue
		}
		if dead := g.dead(p, y); dead.IsZero() || !g.Today.After(dead.AddDays(deadAfter)) {
			all = append(all, Cause{Why: NotKnown, Plant: p.Name, Danger: p.Danger, Since: since, Marks: []Mark{{Day: since}}})
		}
	}
	return all
}

// Stopped reports whether a record whose latest minimum is of a day says nothing any
// more: a record that stopped is no source.
func Stopped(last, today civil.Date) bool { return !after(last, goodNights).After(today) }

// after is the first day on which what was known of a day no longer holds; zero
// where nothing was.
func after(day civil.Date, days int) civil.Date {
	if day.IsZero() {
		return day
	}
	return day.AddDays(days + 1)
}

// word is the latest day that a person spoke of: a frost, none, or ground that was
// checked.
func (g *Ground) word() (last civil.Date) {
	for i := range g.Reports {
		if f := &g.Reports[i]; (f.Kind == diary.NoFrost || f.Kind == diary.Clear) && f.Day.After(last) {
			last = f.Day
		}
	}
	for i := range g.Nights {
		if n := &g.Nights[i]; n.Told && n.Since.After(last) {
			last = n.Since
		}
	}
	return last
}
