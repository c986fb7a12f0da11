package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/herd"
)

// standingLoss is the part of what stands in fall that is gone by spring (Oregon
// State Univ., tall fescue monograph: about 25 %).
const standingLoss = 0.25

// lasts is the day on which the feed runs out after the end of rest, and the turn of
// the year, when grass greens up; zero where it lasts until then. It is fed from what
// the plan leaves on open ground, from dormant natives down to the cover they keep,
// and from the hay that the fall leaves; what the fall lacks is taken to be bought.
func (l *look) lasts(plan FeedPlan) (out, greenUp civil.Date) {
	year := YearOf(l.Today, l.Farm.Rule.Spring)
	greenUp = l.Farm.Rule.Spring.In(year + 1)
	winter := FeedPlan{From: l.Today, To: greenUp.AddDays(-1), Year: year}
	hay, left := l.Farm.Hay.Feeds(), map[string]float64{}
	if plan.To.IsZero() {
		return out, greenUp // nobody knows when rest ends
	}
	if plan.Year == year {
		winter.From = plan.To.AddDays(1)
		hay -= plan.Feed.Short
		for _, b := range plan.Feed.Left {
			left[b.Ground] = b.Lb
		}
	}
	fall := herd.Fall{From: winter.From, To: winter.To, Herds: l.placed()}
	for i := range l.Farm.Paddocks {
		p := &l.Farm.Paddocks[i]
		if !l.mayFeed(p) || plan.Year == year && p.Native() && always(l.risks(p)) {
			continue
		}
		g, _ := l.groundOf(p, winter, likely)
		switch lb, planned := left[p.ID]; {
		case planned:
			g.ID, g.Cool, g.Standing, g.Until = p.ID, p.Grass.CoolSeason(), lb, l.datesOf(p, year).OutBy
		case plan.Year != year:
		case p.Native():
			g = herd.Ground{ID: p.ID, Native: true, Standing: l.dormant(p, year), Until: l.datesOf(p, year).OutBy}
		default:
			continue // it is no ground any more when rest ends
		}
		g.Standing *= 1 - standingLoss
		fall.Ground = append(fall.Ground, g)
	}
	return fall.Plan().Lasts(max(0, hay)), greenUp
}

// dormant is what a native that rests now, or will, is likely to offer once it is
// dormant, lb: down to what must stay, which is more where it falls short.
func (l *look) dormant(p *Paddock, year int) float64 {
	if _, used := l.Farm.UsedIn(p.ID, year); used {
		return 0
	}
	d, known := l.datesOf(p, year), l.learn(p, year)
	height := p.Rule.Leave
	switch v := l.view(p); {
	case v.Ahead != nil && v.Phase == Rest:
		height = v.Ahead.Mean
	case known.growth.Known() && !d.Frost.IsZero() && !l.dryNow(p):
		height = known.growth.Reach(height, l.almanac(year).mean(d.Cutoff, d.Frost, p.FrostOffset))
	}
	return p.Acres * known.eaten.Eaten * max(0, height-p.Rule.cover(height))
}
