package herd

import (
	"sort"

	"github.com/golang-sql/civil"
)

// ExactPaddocks is the most paddocks for which every order is tried.
const ExactPaddocks = 8

// Ahead is one paddock that is still open before its rest.
type Ahead struct {
	ID string
	Grass
	Ceiling float64    // greatest leaf height, inches; 0 for none
	Cutoff  civil.Date // first day of rest: it must be empty by then
	// Urgency ranks the paddocks: 1 is visited first and so rests longest
	// (driest, thinnest, in a frost pocket). Equal ranks may go in any order.
	Urgency int
}

// Bunch is one herd, or several that stand together: they move as one.
type Bunch struct {
	Herds  []string
	Demand float64 // lb a day
	At     string  // paddock where it stands; may be empty
}

// Stop is one visit on the last pass.
type Stop struct {
	Paddock string
	Bunch   int        // index into the bunches asked about
	In, Out civil.Date // first day in; day they are out, at the latest the cutoff
	Days    int
	Left    float64 // days of grass above the floor that the cutoff leaves uneaten
}

// Want is the days before the last cutoff on which a bunch has no open paddock
// with a day of grass left.
type Want struct {
	Bunch int
	From  civil.Date
	Days  int
}

// Pass is the last pass before rest: who goes where, in order of the days.
type Pass struct {
	Stops   []Stop
	Wants   []Want   // none: every bunch is fed to the last cutoff and every cutoff is met
	Skipped []string // paddocks no bunch gets to, in order of urgency
	Exact   bool     // every order was tried; else earliest cutoff first
}

// LastPass finds the order and the days in which each bunch visits the paddocks
// before they shut. A paddock is visited once, by one bunch; a visit lasts whole
// days, until its grass is down to the floor or its cutoff comes, whichever is
// first; grass waiting for its visit grows by its full daily growth, up to the
// ceiling. No paddock is ever grazed past its cutoff: what cannot be met shows
// as days that a bunch wants, and as grass left.
//
// Of all orders the one is taken that, in this order of importance,
//
//  1. leaves the bunches the fewest days without grass before the last cutoff,
//  2. first uses up the paddock where a bunch already stands,
//  3. visits the more urgent paddocks sooner, and skips the less urgent.
//
// Up to 8 paddocks every order and every share-out is tried, so the result is
// exact; above that the paddocks are taken by earliest cutoff and then urgency,
// each by the bunch that is free first, which is a rule of thumb and may want a
// day more. Bunches that eat nothing and paddocks that are shut, bare or without
// ground are left out; so nothing to plan gives an empty Pass.
func LastPass(today civil.Date, bunches []Bunch, paddocks []Ahead) Pass {
	p := newPlan(today, bunches, paddocks)
	if len(p.ground) == 0 || len(p.eaters) == 0 {
		return Pass{Exact: true}
	}
	if len(p.ground) <= ExactPaddocks {
		return p.exact()
	}
	return p.byCutoff()
}

// plan is one last pass being worked out.
type plan struct {
	today   civil.Date
	bunches []Bunch
	eaters  []int // bunches that eat
	ground  []Ahead
	shut    []int // days from today to each cutoff
	horizon int   // days from today to the last cutoff
}

func newPlan(today civil.Date, bunches []Bunch, paddocks []Ahead) *plan {
	p := &plan{today: today, bunches: bunches}
	for i, b := range bunches {
		if positive(b.Demand) {
			p.eaters = append(p.eaters, i)
		}
	}
	for _, a := range paddocks {
		grazeable := a.Days(1).Known() && a.Height > atLeast0(a.Floor)
		if grazeable && !a.Cutoff.IsZero() && a.Cutoff.After(today) {
			p.ground = append(p.ground, a)
		}
	}
	sort.SliceStable(p.ground, func(i, j int) bool { return p.ground[i].Urgency < p.ground[j].Urgency })
	for _, a := range p.ground {
		d := min(a.Cutoff.DaysSince(today), 366)
		p.shut = append(p.shut, d)
		p.horizon = max(p.horizon, d)
	}
	return p
}

// home is the paddock a bunch stands in, or -1 where it stands on none of them.
func (p *plan) home(bunch int) int {
	for g, a := range p.ground {
		if a.ID == p.bunches[bunch].At {
			return g
		}
	}
	return -1
}

// stay is the whole days a bunch can stand in a paddock from day on, and the
// days of grass it leaves at the cutoff.
func (p *plan) stay(bunch, paddock, day int) (days int, left float64) {
	open := p.shut[paddock] - day
	if open <= 0 {
		return 0, 0
	}
	a := p.ground[paddock]
	a.Height = a.grown(day)
	d := a.daysUpTo(p.bunches[bunch].Demand, 366)
	whole := d.Whole()
	if whole > open {
		return open, d.Days - float64(open)
	}
	return whole, 0
}

// grown is the height after so many days of rest.
func (a Ahead) grown(days int) float64 {
	top := maxHeight
	if a.Ceiling > 0 {
		top = min(a.Ceiling, top)
	}
	return min(a.Height+atLeast0(a.Regrowth)*float64(days), max(top, a.Height))
}

// pass writes out the orders chosen, one list of paddocks for each eater.
func (p *plan) pass(orders [][]int, exact bool) Pass {
	out := Pass{Exact: exact}
	seen := make([]bool, len(p.ground))
	for e, order := range orders {
		bunch, day := p.eaters[e], 0
		for _, g := range order {
			days, left := p.stay(bunch, g, day)
			if days == 0 {
				continue
			}
			seen[g] = true
			out.Stops = append(out.Stops, Stop{
				Paddock: p.ground[g].ID, Bunch: bunch, Days: days, Left: left,
				In: p.today.AddDays(day), Out: p.today.AddDays(day + days),
			})
			day += days
		}
		if day < p.horizon {
			out.Wants = append(out.Wants, Want{bunch, p.today.AddDays(day), p.horizon - day})
		}
	}
	for i, s := range seen {
		if !s {
			out.Skipped = append(out.Skipped, p.ground[i].ID)
		}
	}
	sort.SliceStable(out.Stops, func(i, j int) bool { return out.Stops[i].In.Before(out.Stops[j].In) })
	return out
}

// byCutoff is the rule of thumb for many paddocks.
func (p *plan) byCutoff() Pass {
	order := make([]int, len(p.ground))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return p.shut[order[i]] < p.shut[order[j]] })
	lists := make([][]int, len(p.eaters))
	free := make([]int, len(p.eaters))
	taken := make([]bool, len(p.ground))
	give := func(e, g int) {
		if days, _ := p.stay(p.eaters[e], g, free[e]); days > 0 && !taken[g] {
			lists[e], taken[g] = append(lists[e], g), true
			free[e] += days
		}
	}
	for e, b := range p.eaters {
		if g := p.home(b); g >= 0 {
			give(e, g)
		}
	}
	for _, g := range order {
		first := 0
		for e := range free {
			if free[e] < free[first] {
				first = e
			}
		}
		give(first, g)
	}
	return p.pass(lists, false)
}
