package season

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season/shut"
)

// How much grass ground that nobody read lately is taken to have.
const (
	poor = iota
	likely
	good
)

// mayFeed reports whether a paddock is ground for a plan. Ground that is shut is
// not: every frost to come makes a hold longer. A question is answered before a plan
// comes to it.
func (l *look) mayFeed(p *Paddock) bool {
	return !slices.ContainsFunc(l.causes(p).now, func(c shut.Cause) bool { return (c.Why != shut.Horses || c.Lifts()) && !c.Why.Asked() })
}

// groundOf is what a paddock offers the herds from the plan's first day on, and
// whether its height was guessed.
func (l *look) groundOf(p *Paddock, plan FeedPlan, at int) (herd.Ground, bool) {
	d, read, risks := l.datesOf(p, plan.Year), l.readings(p), l.risks(p)
	g := herd.Ground{
		ID: p.ID, Native: p.Native(), Cool: p.Grass.CoolSeason(), Until: d.Cutoff, Need: need(p),
		Last: p.Native() && l.failedIn(p, plan.Year-1), Barred: l.barred(risks),
	}
	height, guessed := l.lately(p, d)
	floor, acres := p.Floor(), p.Acres
	eaten := l.learn(p, plan.Year).eaten.Eaten
	if guessed {
		height, eaten = l.guess(p, plan, at, height, eaten)
	}
	switch use, used := l.Farm.UsedIn(p.ID, plan.Year); {
	case !p.Native():
		g.Grows, g.Standing = l.coolGrowth(p, plan, guessed)
	case !d.Ended.IsZero(): // dormant by now
		if guessed {
			return herd.Ground{}, false
		}
		g.Until, floor = d.OutBy, p.Rule.cover(read.end(d.Ended).mean())
	case used:
		g.Until, floor = d.OutBy, l.useFloor(p, plan)
		if use.Acres > 0 {
			acres = use.Acres
		}
	case !d.Cutoff.After(plan.From):
		return herd.Ground{}, false // shut on the first day, or before
	default:
		height = l.grownBy(p, plan.From, height, guessed)
		g.Grows = l.nativeGrowth(p, plan, height, acres*eaten)
	}
	if always(risks) {
		g.Until = diary.EarlierDay(g.Until, l.early(p, frost.Frost36F, plan.Year))
	}
	g.Standing += acres * eaten * max(0, height-floor)
	return g, guessed
}

// guess is a height and the lb eaten per acre-inch of ground that nobody read
// lately: half as far as the height to be left lies under the one to begin grazing,
// down or up (assumption), and within the range of such a stand as long as no grazing has
// taught.
func (l *look) guess(p *Paddock, plan FeedPlan, at int, height, eaten float64) (float64, float64) {
	stand, known := p.Stand.Standing(p.Native()), l.learn(p, plan.Year).eaten
	taught := known.Grazings > 0
	switch at {
	case poor:
		height -= max(0, height-p.Floor()) / 2
		if !taught {
			eaten *= stand.Low / stand.Value
		}
	case good:
		height += max(0, height-p.Floor()) / 2
		if !taught {
			eaten *= stand.High / stand.Value
		}
	}
	return height, eaten
}

// barred are the herds that may stand on ground with such plants at no height:
// horses, where sorghum kin is among them.
func (l *look) barred(risks []grass.Hazard) []string {
	if !slices.ContainsFunc(risks, grass.Hazard.SorghumKin) {
		return nil
	}
	return l.herdsOf(herd.Horse)
}

// grownBy is the height of a native paddock on a day: what was read, or is guessed
// for today, with what has grown and will grow on it until then while it stands
// empty.
func (l *look) grownBy(p *Paddock, day civil.Date, height float64, guessed bool) float64 {
	year := YearOf(day, p.Rule.Spring)
	grows, a := l.learn(p, year).growth, l.almanac(year)
	if !grows.Known() || l.dryNow(p) || a.err != nil {
		return height
	}
	heat := 0.0
	if !guessed {
		_, from := l.moves.grazedDays(p.ID, l.readings(p).standing(l.Today).Day, l.Today)
		heat = l.behind(from, a, p.FrostOffset)
	}
	if day.After(l.Today) {
		heat += a.mean(l.Today, day, p.FrostOffset)
	}
	return grows.Reach(height, heat)
}

// nativeGrowth is the part of a native paddock's growth to come that counts as feed,
// lb for each day of the plan: half of it, as in days of grass, whether animals
// stand there or not, up to the height that its leaves reach.
func (l *look) nativeGrowth(p *Paddock, plan FeedPlan, height, perInch float64) []float64 {
	grows, a := l.learn(p, plan.Year).growth, l.almanac(plan.Year)
	if !grows.Known() || l.dryNow(p) || a.err != nil {
		return nil
	}
	var lb []float64
	shuts := l.datesOf(p, plan.Year).Cutoff
	for day := plan.From; day.Before(shuts) && !day.After(plan.To); day = day.AddDays(1) {
		in := grows.Rate() * a.mean(day, day.AddDays(1), p.FrostOffset)
		if grows.Ceiling > 0 {
			in = min(in, max(0, grows.Ceiling-height))
		}
		height += in
		lb = append(lb, perInch*herd.Credited(in, 1))
	}
	return lb
}

// coolGrowth is what animals get of the growth of ground that is no native, lb for
// each day of the plan, and of what has grown since its reading while it stood
// empty. Only cool-season grass grows in fall; in a drought none does.
func (l *look) coolGrowth(p *Paddock, plan FeedPlan, guessed bool) (daily []float64, since float64) {
	if !p.Grass.CoolSeason() || l.dryNow(p) {
		return nil, 0
	}
	share := p.Acres * herd.Utilization(len(l.Farm.Paddocks)).Value
	from := l.Today
	if !guessed {
		_, from = l.moves.grazedDays(p.ID, l.readings(p).standing(l.Today).Day, l.Today)
	}
	for day := from; day.Before(plan.From); day = day.AddDays(1) {
		since += share * herd.CoolSeasonGrowth(day)
	}
	for day := plan.From; !day.After(plan.To); day = day.AddDays(1) {
		daily = append(daily, share*herd.CoolSeasonGrowth(day))
	}
	return daily, since
}

// dryNow reports whether a drought lasts on a paddock.
func (l *look) dryNow(p *Paddock) bool {
	call, ended := l.drought(p, p.Rule.Spring.In(YearOf(l.Today, p.Rule.Spring)))
	return call != nil && ended.IsZero()
}

// tooOld is the age in days from which a reading says no more than a guess
// (assumption).
const tooOld = 30

// asItStood reports whether what was read on a day is dormant and was not grazed since.
func (l *look) asItStood(p *Paddock, d Dates, day civil.Date) bool {
	if !p.Native() || d.Ended.IsZero() || day.Before(d.Ended) {
		return false
	}
	grazed, _ := l.moves.grazedDays(p.ID, day, l.Today)
	return grazed == 0
}

// lately is a paddock's height as read this season within the last 30 days, or since it
// is dormant and stands; else the height to begin grazing, guessed.
func (l *look) lately(p *Paddock, d Dates) (height float64, guessed bool) {
	v := l.readings(p).standing(l.Today)
	if v == nil || v.Day.Before(d.Turn) || l.Today.DaysSince(v.Day) > tooOld && !l.asItStood(p, d, v.Day) {
		return p.begin(), true
	}
	return v.Sample.Mean, false
}

// need orders paddocks by soil, then stand, then frost pocket; the lowest needs
// rest first.
func need(p *Paddock) int {
	n := max(-50, min(p.FrostOffset, 50))
	switch p.Soil {
	case grass.Dry:
		n -= 1000
	case grass.Moist:
		n += 1000
	}
	switch p.Stand {
	case grass.Thin:
		n -= 200
	case grass.Dense:
		n += 200
	}
	return n
}

// placed are the herds where the diary has them now; in no paddock where it
// does not know.
func (l *look) placed() []herd.Herd {
	out := slices.Clone(l.herds)
	for i := range out {
		at := l.moves.where[out[i].ID]
		if !slices.Contains(l.moves.Standing(at).Herds, out[i].ID) {
			at = ""
		}
		out[i].Paddock = at
	}
	return out
}
