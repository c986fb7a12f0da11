package season

import (
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

// learnedFrom is all that it can change with.
type learnedFrom struct {
	farm          *Farm
	book          *diary.Book
	air           *frost.Record
	own, farmwide version
	stays         *ground
	finished      bool // the season before has ended
}

// learn is what a paddock's finished seasons and grazings before a season teach
// of it. It is worked out anew only where one of them changed.
func (l *look) learn(p *Paddock, year int) learned {
	from := learnedFrom{
		farm: l.Farm, book: l.Book, air: l.Air,
		own: versionOf(l.Book.Of(p.ID), l.Book.Rewritten(p.ID), l.Today), farmwide: l.farmwide, stays: l.moves.ground[p.ID],
		finished: year <= YearOf(l.Today, p.Rule.Spring) || !l.datesOf(p, year-1).Ended.IsZero(),
	}
	return fresh(l.Cache, learnedOf{p.ID, year}, from, func() (known learned) {
		a, read := l.almanac(year), l.readings(p)
		if p.Native() && a.err == nil {
			known.history = l.history(p, read, a)
			known.growth = teach(l.prior(p, a), known.history)
		}
		known.eaten = l.learnEaten(p, read, known.growth, a)
		return known
	})
}

// prior is how a paddock's leaves grow as long as nobody has measured it.
func (l *look) prior(p *Paddock, a *almanac) grass.Growth {
	return grass.Prior(p.Grass, a.restHeat(p.FrostOffset), p.Soil)
}

// teach is a growth with what the seasons taught, and marks those that in the
// end did not.
func teach(g grass.Growth, seasons []Finished) grass.Growth {
	var taught []grass.Finished
	for _, f := range seasons {
		if f.Teaches {
			taught = append(taught, grass.Finished{Year: f.Year, Start: f.Start, End: f.End, S: f.Heat})
		}
	}
	if len(taught) == 0 {
		return g
	}
	g = g.With(taught)
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

// together joins the stays on a paddock that overlap.
func (l *look) together(paddock string) []grazing {
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
		then := weaned([]herd.Herd{h}, l.Book, s.To)[0]
		for d := s.From; d.Before(s.To); d = d.AddDays(1) {
			lb += then.Demand(d)
		}
		return lb, true
	}
	return 0, false
}
