package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/herd"
)

// A Winter is the feed from the end of rest, or from today, until grass greens up: how
// many days of what the herds want each part of it is.
type Winter struct {
	From, GreenUp civil.Date
	Stockpile     int // cool-season grass that stands for winter, days
	Native        int // dormant natives above the cover they keep
	Hay           int // on hand, or what the fall leaves of it
	// RunsOut is the day on which all of it is gone; zero where it lasts until GreenUp.
	RunsOut civil.Date
	Unread  []string // dormant natives that nobody has read, which count for nothing
	Guessed []string // ground that nobody has read lately, at the height to begin grazing
}

// lossDays is how many days of winter take the whole standing loss: November to March.
const lossDays = 151

// lasts is how far the feed goes after the end of rest. It is fed from what
// the plan leaves on open ground, from dormant natives down to the cover they keep,
// and from the hay that the fall leaves; what the fall lacks is taken to be bought.
func (l *look) lasts(plan FeedPlan) (w Winter) {
	year := YearOf(l.Today, l.Farm.Rule.Spring)
	w.GreenUp = l.Farm.Rule.Spring.In(year + 1)
	winter := FeedPlan{From: l.Today, To: w.GreenUp.AddDays(-1), Year: year}
	hay, left := l.hay().Feeds(), map[string]float64{}
	if plan.To.IsZero() {
		return w // nobody knows when rest ends
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
		g, guessed := l.groundOf(p, winter, likely)
		switch lb, planned := left[p.ID]; {
		case planned:
			g.ID, g.Cool, g.Standing, g.Until = p.ID, p.Grass.CoolSeason(), lb, l.datesOf(p, year).OutBy
		case plan.Year != year:
			if g.ID == "" { // dormant, and nobody has read it
				w.Unread = append(w.Unread, p.Name)
				continue
			}
			if guessed {
				w.Guessed = append(w.Guessed, p.Name)
			}
		case p.Native():
			g = herd.Ground{ID: p.ID, Native: true, Standing: l.dormant(p, year), Until: l.datesOf(p, year).OutBy}
		default:
			continue // it is no ground any more when rest ends
		}
		g.Standing *= 1 - herd.StandingLoss.Value*min(1, float64(winter.To.DaysSince(winter.From)+1)/lossDays)
		fall.Ground = append(fall.Ground, g)
	}
	fed := fall.Eaten()
	w.From, w.RunsOut = winter.From, fed.Lasts(max(0, hay))
	w.count(fed, fall.Ground, max(0, hay))
	return w
}

// count is what each part comes to in days, eaten one after the other.
func (w *Winter) count(fed herd.Feed, ground []herd.Ground, hay float64) {
	var stock, native float64
	for _, g := range ground {
		lb := g.Standing
		for _, more := range g.Grows {
			lb += more
		}
		if g.Native {
			native += lb
		} else {
			stock += lb
		}
	}
	grass, all := fed.DaysOf(stock+native), fed.DaysOf(stock+native+hay)
	w.Stockpile = fed.DaysOf(stock)
	w.Native, w.Hay = grass-w.Stockpile, all-grass
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
