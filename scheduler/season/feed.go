package season

import (
	"math"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/herd"
)

// killingAfter is how many days a killing freeze follows the first freeze where
// no record says: the mean gap between 32 F and 28 F over 28 towns is 10.8 days
// (derived from NWS Kansas City, 2009).
const killingAfter = 11

// A FeedPlan is where the herd eats from the first cutoff to the end of rest.
type FeedPlan struct {
	From, To civil.Date
	Feed     herd.Feed
	// Guessed are the paddocks whose height nobody read this season: they are
	// taken at the height to begin grazing (assumption).
	Guessed []string
	Year    int
}

// Feed plans where the herds eat this fall, or the next where this one's rest
// is over; false where no paddock rests or no herd is on file.
func Feed(s Sight) (FeedPlan, bool) { return s.look().feed() }

func (l *look) feed() (FeedPlan, bool) {
	plan := FeedPlan{}
	fall := herd.Fall{Herds: l.herds}
	for i := range l.farm.Paddocks {
		p := &l.farm.Paddocks[i]
		if !p.Native() {
			continue
		}
		d := l.datesOf(p, l.fallOf(p))
		if d.Cutoff.IsZero() {
			continue
		}
		if plan.From.IsZero() || d.Cutoff.Before(plan.From) {
			plan.From, plan.Year = d.Cutoff, l.fallOf(p)
		}
		if end := l.likelyEnd(p, d); end.After(plan.To) {
			plan.To = end
		}
	}
	if plan.From.IsZero() || len(l.herds) == 0 {
		return plan, false
	}
	if l.today.After(plan.From) && !l.today.After(plan.To) {
		plan.From = l.today
	}
	fall.From, fall.To = plan.From, plan.To
	for i := range l.farm.Paddocks {
		p := &l.farm.Paddocks[i]
		g, guessed := l.ground(p, plan)
		if guessed {
			plan.Guessed = append(plan.Guessed, p.Name)
		}
		if g.Standing > 0 || g.Cool {
			fall.Ground = append(fall.Ground, g)
		}
	}
	fall.Spare = l.spare(plan)
	plan.Feed = fall.Plan()
	return plan, true
}

// fallOf is the fall to plan for: this season's until its rest has ended.
func (l *look) fallOf(p *Paddock) int {
	year := YearOf(l.today, p.Rule.Spring)
	if d := l.datesOf(p, year); !d.Ended.IsZero() {
		return year + 1
	}
	return year
}

// likelyEnd is when a rest will probably end: as long after the planning frost
// as killing freezes follow it on record.
func (l *look) likelyEnd(p *Paddock, d Dates) civil.Date {
	return d.Frost.AddDays(l.gapTo(p.Rule.EndsAt))
}

// gapTo is the mean gap in days between the planning threshold and a colder one.
func (l *look) gapTo(th frost.Threshold) int {
	plan := l.farm.Plan
	if plan.Record == nil || !th.Colder(plan.Threshold) {
		return killingAfter
	}
	cold, okCold := l.shelf.mean(plan.Record, th)
	first, ok := l.shelf.mean(plan.Record, plan.Threshold)
	if !ok || !okCold {
		return killingAfter
	}
	return max(0, int(math.Round(cold-first)))
}

// ground is what a paddock offers the herd through the fall.
func (l *look) ground(p *Paddock, plan FeedPlan) (herd.Ground, bool) {
	year := l.fallOf(p)
	d := l.datesOf(p, year)
	g := herd.Ground{
		ID: p.ID, Acres: p.Acres, Native: p.Native(), Cool: p.Grass.CoolSeason(),
		Share: herd.Utilization(len(l.farm.Paddocks)).Value, Until: d.Cutoff,
	}
	height, floor, guessed := p.begin(), p.Floor(), true
	if v := lastVisit(l.visits(p.ID, d.Turn), l.today); v != nil {
		height, guessed = v.Sample.Mean, false
	}
	if use, ok := l.farm.UsedIn(p.ID, year); ok && p.Native() {
		g.Until = civil.Date{}
		if use.Acres > 0 {
			g.Acres = use.Acres
		}
		floor = max(floor, p.Rule.AtFrost-l.grownByFrost(p, year, plan.From))
	} else if p.Native() && !d.Cutoff.After(plan.From) {
		return g, false // shut on the first day, or before
	}
	if len(hazardsOf(p)) > 0 {
		g.Until = earlier(g.Until, l.firstCold(p, year))
	}
	g.Standing = g.Acres * l.eaten(p, l.growth(p, year)).Eaten * max(0, height-floor)
	return g, guessed
}

// firstCold is the day from which hazard plants must be expected to hold a
// paddock: the average first frost of 36 F, or the planning frost where no
// record says.
func (l *look) firstCold(p *Paddock, year int) civil.Date {
	if r := l.farm.Plan.Record; r != nil {
		if mean, ok := l.shelf.mean(r, frost.Frost36F); ok {
			return frost.DateIn(year, mean).AddDays(p.FrostOffset)
		}
	}
	f, err := l.almanac(year).Frost()
	if err != nil {
		return civil.Date{}
	}
	return f
}

// grownByFrost is the mean leaf growth in inches from a day to the planning
// frost.
func (l *look) grownByFrost(p *Paddock, year int, from civil.Date) float64 {
	a := l.almanac(year)
	planned, err := a.Frost()
	if err != nil {
		return 0
	}
	return l.growth(p, year).Rate() * a.mean(from, planned.AddDays(p.FrostOffset), p.FrostOffset)
}

// spare are the native paddocks that could be used on purpose, best first, with
// what may be eaten of each so that it still makes its height at frost.
func (l *look) spare(plan FeedPlan) []herd.Ground {
	var out []herd.Ground
	for _, offer := range l.uses() {
		p, ok := l.farm.Paddock(offer.ID)
		if _, used := l.farm.UsedIn(offer.ID, plan.Year); !ok || used || offer.Use <= 0 {
			continue
		}
		height := p.begin()
		if v := lastVisit(l.visits(p.ID, l.datesOf(p, plan.Year).Turn), l.today); v != nil {
			height = v.Sample.Mean
		}
		floor := max(p.Floor(), p.Rule.AtFrost-l.grownByFrost(p, plan.Year, plan.From))
		out = append(out, herd.Ground{
			ID: p.ID, Acres: offer.Use, Native: true,
			Standing: offer.Use * l.eaten(p, l.growth(p, plan.Year)).Eaten * max(0, height-floor),
		})
	}
	return out
}

func earlier(a, b civil.Date) civil.Date {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}
