package season

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// learned is what a paddock's own past says of it, for one season to come.
type learned struct {
	history []Finished
	growth  grass.Growth
	eaten   herd.Taught
}

type learnedOf struct {
	paddock string
	year    int
}

// pastFrom is all that a paddock's finished seasons can change with.
type pastFrom struct {
	farm          *Farm
	air           *frost.Record
	own, farmwide diary.Version
	stays         *ground
	year, now     int  // the season, and today's
	finished      bool // the season before has ended
}

// A past is a paddock's finished seasons, and its growth before they taught. Two that
// say the same are one.
type past struct {
	history []Finished
	grass.Past
}

// pastKept is a past, and what each of its seasons was worked out from.
type pastKept struct {
	*past
	from []pastFrom
}

// seasonsKept is how many seasons are kept of what was known before each: those of
// years ago are hardly asked for, and would fill the memory of a daemon that runs on.
const seasonsKept = 4

// past is that of a paddock before a season. It is worked out anew only where
// something in it changed.
func (l *look) past(p *Paddock, year int) *past {
	now := YearOf(l.Today, p.Rule.Spring)
	from := pastFrom{
		farm: l.Farm, air: l.airBefore(year), own: l.Book.Version(p.ID, l.Today), farmwide: l.farmwide, stays: l.moves.ground[p.ID],
		year: year, now: now, finished: year <= now || !l.datesOf(p, year-1).Ended.IsZero(),
	}
	return renew(l.Cache, learnedOf{p.ID, year}, from, func(old kept[pastFrom, pastKept]) pastKept {
		long := learnedOf{p.ID, year - seasonsKept}
		forget[learnedOf, pastFrom, pastKept](l.Cache, long)
		forget[learnedOf, learnedFrom, learned](l.Cache, long)
		out, a := pastKept{past: &past{}}, l.almanac(year)
		if p.Native() && a.err == nil {
			out.history, out.from = l.history(p, l.readings(p), a, old.value)
			out.Growth, out.Seasons = l.prior(p, a), taught(out.history)
		}
		if was := old.value.past; was != nil && old.from.farm == from.farm && slices.Equal(was.history, out.history) {
			out.past = was
		}
		return out
	}).past
}

// airBefore is what was measured before a year, one as long as it says the same.
func (l *look) airBefore(year int) *frost.Record {
	if l.Air == nil {
		return nil
	}
	type before int
	return renew(l.Cache, before(year), l.Air, func(old kept[*frost.Record, *frost.Record]) *frost.Record {
		if old.value != nil && l.Air.SameBefore(old.value, year) {
			return old.value
		}
		return l.Air
	})
}

// mostTogether is how many native paddocks, the first of the file, teach for the
// whole farm: more would say little more.
const mostTogether = 24

// teachTogether is what the finished seasons of a farm's natives teach of all of them,
// for a season to come.
func (l *look) teachTogether(year int) grass.Farmwide {
	if known, ok := l.common[year]; ok {
		return known
	}
	var from [mostTogether]*past
	n := 0
	for i := range l.Farm.Paddocks {
		if n == mostTogether {
			break
		}
		if p := &l.Farm.Paddocks[i]; p.Native() {
			from[n] = l.past(p, year)
			n++
		}
	}
	l.common[year] = fresh(l.Cache, year, from, func() grass.Farmwide {
		var farm []grass.Past
		for _, one := range from {
			if one != nil && len(one.Seasons) > 0 {
				farm = append(farm, one.Past)
			}
		}
		return grass.Together(farm)
	})
	return l.common[year]
}

// learnedFrom is all that it can change with.
type learnedFrom struct {
	farm       *Farm
	past       *past
	common     grass.Farmwide
	own, heads diary.Version
	stays      *ground
}

// learn is what a paddock's finished seasons and grazings before a season teach
// of it, and those of the whole farm.
func (l *look) learn(p *Paddock, year int) learned {
	from := learnedFrom{
		farm: l.Farm, past: l.past(p, year), own: l.Book.Version(p.ID, l.Today), heads: l.Book.VersionOf(diary.Head, l.Today), stays: l.moves.ground[p.ID],
	}
	if p.Native() {
		from.common = l.teachTogether(year)
	}
	return fresh(l.Cache, learnedOf{p.ID, year}, from, func() (known learned) {
		if from.past.Growth.Known() {
			known.growth = from.common.In(from.past.Growth)
		}
		known.history = slices.Clone(from.past.history)
		known.growth = teach(known.growth, known.history)
		known.eaten = l.learnEaten(p, l.readings(p), known.growth, l.almanac(year))
		return known
	})
}

// prior is how a paddock's leaves grow as long as nobody has measured it.
func (l *look) prior(p *Paddock, a *almanac) grass.Growth {
	return grass.Prior(p.Grass, a.restHeat(p.FrostOffset), p.Soil)
}

// taught are the seasons that teach growth.
func taught(seasons []Finished) (all []grass.Finished) {
	for _, f := range seasons {
		if f.Teaches {
			all = append(all, grass.Finished{Year: f.Year, Start: f.Start, End: f.End, S: f.Heat, Mid: f.Mid, MidS: f.MidHeat})
		}
	}
	return all
}

// teach is a growth with what the seasons taught, and marks those that in the
// end did not.
func teach(g grass.Growth, seasons []Finished) grass.Growth {
	all := taught(seasons)
	if len(all) == 0 {
		return g
	}
	g = g.With(all)
	for _, left := range g.Effect.Left {
		for i := range seasons {
			if seasons[i].Year == left.Year {
				seasons[i].Teaches, seasons[i].WhyNot = false, string(left.Why)
			}
		}
	}
	return g
}

// learnEaten is lb eaten per acre-inch of a paddock: the default of its stand
// and the farm's rotation, corrected by its own finished grazings.
func (l *look) learnEaten(p *Paddock, read *readings, grows grass.Growth, a *almanac) herd.Taught {
	standard := herd.EatenPerAcreInch(p.Stand.Standing(p.Native()).Value, herd.Utilization(len(l.Farm.Paddocks)).Value)
	return herd.LearnEaten(p.Acres, standard, l.grazings(p, read, grows, a))
}

// A grazing is the days on which a paddock was grazed without a break, by one
// herd or by several.
type grazing struct {
	from, to civil.Date // zero where unknown, or where it goes on
	told     bool
	lb       float64 // what the animals took; 0 where nobody knows
	unknown  bool    // animals of no herd on file were in
}

// grazings are the finished grazings of a paddock that were read at both ends.
func (l *look) grazings(p *Paddock, read *readings, grows grass.Growth, a *almanac) []herd.Grazing {
	var out []herd.Grazing
	for _, g := range l.together(p.ID) {
		if g.from.IsZero() || g.to.IsZero() || !g.told || g.unknown {
			continue
		}
		on, off := read.near(g.from, nearEnough), read.near(g.to, nearEnough)
		days := g.to.DaysSince(g.from)
		if on == nil || off == nil || on.seq >= off.seq || days < 1 || read.cutWithin(on.seq, off.Day) != nil {
			continue
		}
		rate := 0.0
		if a.err == nil {
			rate = grows.Rate() * a.mean(g.from, g.to, p.FrostOffset) / float64(days)
		}
		out = append(out, herd.Grazing{
			On: on.Sample.Mean, Off: off.Sample.Mean, PlantsOn: on.Sample.Plants(), PlantsOff: off.Sample.Plants(),
			Days: days, DemandLb: g.lb, Regrown: herd.Credited(rate, float64(days)),
		})
	}
	return out
}

// nearEnough is how many days a reading may lie from the day that animals came
// or left (assumption).
const nearEnough = 2

// eatenFrom is all that what was eaten in the stays on a paddock can change with.
type eatenFrom struct {
	farm  *Farm
	stays *ground
	heads diary.Version
}

// together joins the stays on a paddock that overlap; not to be changed.
func (l *look) together(paddock string) []grazing {
	from := eatenFrom{l.Farm, l.moves.ground[paddock], l.Book.VersionOf(diary.Head, l.Today)}
	return fresh(l.Cache, paddock, from, func() []grazing { return l.joined(paddock) })
}

func (l *look) joined(paddock string) []grazing {
	var out []grazing
	for _, s := range l.moves.Periods(paddock) {
		lb, known := l.taken(s)
		n := len(out) - 1
		if n < 0 || !out[n].to.IsZero() && !s.From.Before(out[n].to) {
			out = append(out, grazing{from: s.From, to: s.To, told: s.Told, lb: lb, unknown: !known})
			continue
		}
		g := &out[n]
		g.lb += lb
		g.unknown = g.unknown || !known
		if g.to.IsZero() {
			continue
		}
		if s.To.IsZero() || s.To.After(g.to) {
			g.to, g.told = s.To, s.Told
		}
	}
	return out
}

// taken is what a herd took during one finished stay, in lb; false where the
// herd is not on file.
func (l *look) taken(s Period) (lb float64, known bool) {
	for _, h := range l.Farm.Herds {
		if h.ID != s.Herd {
			continue
		}
		if s.From.IsZero() || s.To.IsZero() {
			return 0, true
		}
		then := herdsOn([]herd.Herd{h}, l.Book, s.To)[0]
		for d := s.From; d.Before(s.To); d = d.AddDays(1) {
			lb += then.Demand(d)
		}
		return lb, true
	}
	return 0, false
}
