package season

import (
	"cmp"
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
)

// A FeedPlan is where the herds eat up to the end of rest.
type FeedPlan struct {
	From, To civil.Date
	Shut     civil.Date // the last cutoff
	Feed     herd.Feed
	// Poor and Good are what comes of it where the ground that nobody read lately has
	// as little grass as is likely, and as much.
	Poor, Good herd.Feed
	// Guessed are the paddocks that nobody read this season within the last 30
	// days: they are taken at the height to begin grazing (assumption).
	Guessed []string
	// Settle is the one of them that a reading of says most; empty where none says
	// much.
	Settle string
	Year   int
	Hay    herd.Hay // as it lies there today
	Winter Winter   // how far the feed goes from then on
}

// ShortDays are the days short with as much grass as is likely, with what is taken,
// and with as little.
func (p FeedPlan) ShortDays() (low, middle, high int) {
	return p.Good.ShortDays, p.Feed.ShortDays, p.Poor.ShortDays
}

// Feed plans where the herds eat this fall, or the next where this one's rest
// is over; false where no paddock rests or no herd is on file.
func Feed(s Sight) (FeedPlan, bool) {
	plan, whole, ok := s.Land().PlanFeed(s.Kept)
	if ok {
		plan = whole()
	}
	return plan, ok
}

// PlanFeed is Feed without what costs as much again, which whole adds: what the plan is
// uncertain by, and how long the feed lasts.
// Kept are the stops of the plan that was told.
func (l Land) PlanFeed(kept []herd.Stop) (plan FeedPlan, whole func() FeedPlan, ok bool) {
	of := *l.l
	of.Kept = kept
	return of.feed()
}

// FeedAsTaken is Feed by the grass that is taken to stand there alone, and how long that
// lasts; for two plans to be held against each other.
func FeedAsTaken(s Sight) (FeedPlan, bool) {
	l := s.look()
	plan, _, ok := l.feed()
	if ok {
		plan.Winter = l.lasts(plan)
	}
	return plan, ok
}

// planAhead is how many days before the first cutoff the plan begins at the earliest.
const planAhead = 60

func (l *look) feed() (plan FeedPlan, whole func() FeedPlan, ok bool) {
	if plan = l.feedDays(); plan.From.IsZero() || len(l.herds) == 0 {
		return plan, nil, false
	}
	herds, spare := l.placed(), l.spare(plan)
	plan.Hay = l.hay()
	fall := func(ground []herd.Ground) herd.Fall {
		return herd.Fall{From: plan.From, To: plan.To, Herds: herds, Ground: ground, Spare: spare, Hay: plan.Hay, Kept: l.Kept, Unread: len(plan.Guessed) > 0}
	}
	grounds := l.grounds(&plan)
	plan.Feed = fall(grounds(likely)).Plan()
	plan.Poor, plan.Good = plan.Feed, plan.Feed
	return plan, func() FeedPlan {
		if len(plan.Guessed) > 0 {
			ground := [...][]herd.Ground{grounds(poor), grounds(likely), grounds(good)}
			plan.Poor, plan.Good = fall(ground[poor]).Plan(), fall(ground[good]).Plan()
			plan.Settle = l.settles(fall(ground[likely]), ground)
		}
		plan.Winter = l.lasts(plan)
		return plan
	}, true
}

// grounds are what the paddocks offer the herds where each that nobody read lately is as
// poor, as likely or as good as taken; it names those in the plan.
func (l *look) grounds(plan *FeedPlan) func(at int) []herd.Ground {
	type offer struct {
		of      *Paddock
		taken   herd.Ground
		guessed bool
	}
	var all []offer
	for i := range l.Farm.Paddocks {
		p := &l.Farm.Paddocks[i]
		if !l.mayFeed(p) {
			continue
		}
		g, guessed := l.groundOf(p, *plan, likely)
		all = append(all, offer{p, g, guessed})
		if guessed {
			plan.Guessed = append(plan.Guessed, p.Name)
		}
	}
	return func(at int) (ground []herd.Ground) {
		for _, o := range all {
			g := o.taken
			if at != likely && o.guessed {
				g, _ = l.groundOf(o.of, *plan, at)
			}
			if g.Standing > 0 || len(g.Grows) > 0 {
				ground = append(ground, g)
			}
		}
		return ground
	}
}

// mostTried is how many paddocks that were not read are tried for what hangs on them.
const mostTried = 12

// settles is the paddock that most of what is not known hangs on: where its grass
// alone is as little or as much as is likely.
func (l *look) settles(fall herd.Fall, ground [3][]herd.Ground) (name string) {
	type unread struct {
		at        int
		low, high herd.Ground
	}
	var by [3]map[string]herd.Ground
	for at, list := range ground {
		by[at] = map[string]herd.Ground{}
		for _, g := range list {
			by[at][g.ID] = g
		}
	}
	all := make([]unread, len(fall.Ground))
	for i, g := range fall.Ground {
		all[i] = unread{i, by[poor][g.ID], by[good][g.ID]}
	}
	slices.SortStableFunc(all, func(a, b unread) int {
		return cmp.Compare(b.high.Standing-b.low.Standing, a.high.Standing-a.low.Standing)
	})
	most := 0.0
	for _, u := range all[:min(len(all), mostTried)] {
		was := fall.Ground[u.at]
		fall.Ground[u.at] = u.low
		swing := fall.Lacks()
		fall.Ground[u.at] = u.high
		swing -= fall.Lacks()
		if fall.Ground[u.at] = was; swing > most {
			p, _ := l.Farm.Paddock(was.ID)
			most, name = swing, p.Name
		}
	}
	return name
}

// feedDays are the fall to plan for and its days: from today, or from the weeks
// before the first cutoff, to the last end of rest. A paddock grazed on purpose
// shuts nobody out.
func (l *look) feedDays() FeedPlan {
	var plan FeedPlan
	rests := slices.DeleteFunc(l.Farm.natives(), func(p *Paddock) bool {
		_, used := l.Farm.UsedIn(p.ID, l.fallOf(p))
		return used || l.datesOf(p, l.fallOf(p)).Cutoff.IsZero()
	})
	for _, p := range rests {
		if year := l.fallOf(p); plan.Year == 0 || year < plan.Year {
			plan.Year = year
		}
	}
	for _, p := range rests {
		d := l.datesOf(p, plan.Year)
		if !d.Ended.IsZero() {
			continue
		}
		plan.From = diary.EarlierDay(plan.From, d.Cutoff.AddDays(-planAhead))
		plan.Shut, plan.To = diary.LaterDay(plan.Shut, d.Cutoff), diary.LaterDay(plan.To, l.likelyEnd(p, d))
	}
	if l.Today.After(plan.From) && !plan.From.IsZero() {
		plan.From = l.Today
	}
	return plan
}

// fallOf is the fall to plan for: this season's until its rest has ended.
func (l *look) fallOf(p *Paddock) int {
	year := YearOf(l.Today, p.Rule.Spring)
	if d := l.datesOf(p, year); !d.Ended.IsZero() {
		return year + 1
	}
	return year
}

// useFloor is the height to which a paddock grazed through its rest may be eaten
// on the plan's first day so that it still makes its height at frost, and never
// below the height to leave.
func (l *look) useFloor(p *Paddock, plan FeedPlan) float64 {
	a := l.almanac(plan.Year)
	planned := l.datesOf(p, plan.Year).Frost
	if planned.IsZero() {
		return max(p.Floor(), p.Rule.AtFrost)
	}
	grows := l.learn(p, plan.Year).growth.Rate() * a.mean(plan.From, planned, p.FrostOffset)
	return max(p.Floor(), p.Rule.AtFrost-grows)
}

// spare are the native paddocks that could be used on purpose, best first, with
// what may be eaten of each so that it still makes its height at frost. What is
// already used on purpose this fall counts against what is allowed.
func (l *look) spare(plan FeedPlan) []herd.Spare {
	left := herd.AllowedFallUse(l.Farm.acres())
	taken := false
	for _, u := range l.Farm.FallUse {
		if p, ok := l.Farm.Paddock(u.Paddock); ok && u.Year == plan.Year && p.Native() {
			left, taken = left-p.Acres, true
		}
	}
	var out []herd.Spare
	for _, offer := range l.uses(plan.Year) {
		p, _ := l.Farm.Paddock(offer.ID)
		_, used := l.Farm.UsedIn(p.ID, plan.Year)
		d := l.datesOf(p, plan.Year)
		if used || offer.Use <= 0 || taken && offer.Acres > left || always(l.risks(p)) || !d.Ended.IsZero() || d.givenBack(plan.From) {
			continue
		}
		height, _ := l.lately(p, d)
		out = append(out, herd.Spare{
			ID:       p.ID,
			Standing: offer.Use * l.learn(p, plan.Year).eaten.Eaten * max(0, height-l.useFloor(p, plan)),
		})
	}
	return out
}

// Uses ranks the native paddocks for fall use in the coming fall, best first.
func Uses(s Sight) []herd.Offer {
	l := s.look()
	year := 0
	for _, p := range l.Farm.natives() {
		if next := l.nextFall(p); year == 0 || next < year {
			year = next
		}
	}
	return l.uses(year)
}

// uses ranks them for one fall.
func (l *look) uses(year int) []herd.Offer {
	native, grazed := l.Farm.acres()
	var candidates []herd.Candidate
	for _, p := range l.Farm.natives() {
		if l.failedIn(p, year-1) {
			continue // it needs this fall's rest
		}
		candidates = append(candidates, herd.Candidate{
			ID: p.ID, Acres: p.Acres, Since: l.sinceUsed(p, year), Chance: l.ruleChance(p, year),
		})
	}
	return herd.RankFallUse(native, grazed, candidates)
}

// sinceUsed is how many falls before a fall a paddock was last used on purpose;
// 0 is never. One that is already chosen for the fall after is never used the
// fall before, so it counts as used last fall.
func (l *look) sinceUsed(p *Paddock, year int) int {
	since := 0
	for _, u := range l.Farm.FallUse {
		if u.Paddock != p.ID {
			continue
		}
		if u.Year == year+1 {
			return 1
		}
		if ago := year - u.Year; ago > 0 && (since == 0 || ago < since) {
			since = ago
		}
	}
	return since
}

// ruleChance is the chance that a paddock makes its height under its own rule;
// 0 where nothing is known.
func (l *look) ruleChance(p *Paddock, year int) float64 {
	g := l.learn(p, year).growth
	rule, ok := l.ruleOf(p, year, g)
	if !ok {
		return 0
	}
	return g.Chance(rule.ask)
}
