package season

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season/shut"
)

// ground gathers all that decides why a paddock is shut.
func (l *look) ground(p *Paddock, risks []grass.Hazard, read *readings) shut.Ground {
	g := shut.Ground{Paddock: p.ID, Today: l.Today, Kills: killsOn(p), LastMin: l.lastMin, Reports: l.reports(p)}
	g.Asked = l.asked(p)
	if len(risks) == 0 && len(g.Reports) == 0 && len(g.Asked) == 0 {
		return g
	}
	year := YearOf(l.Today, p.Rule.Spring)
	g.Years = []shut.Year{l.shutYear(p, year-1), l.shutYear(p, year)}
	for _, h := range risks {
		g.Plants = append(g.Plants, l.plant(p, h))
	}
	g.Nights = l.nights
	if of := func(n shut.Night) bool { return n.Only != "" && n.Only != p.ID }; slices.ContainsFunc(l.nights, of) {
		g.Nights = slices.DeleteFunc(slices.Clone(l.nights), of)
	}
	g.Height = func(day civil.Date) (float64, int) { return l.stood(p, read, day) }
	g.Stay = l.stay(p, read)
	if call, ended := l.drought(p, g.Years[1].Turn); call != nil {
		g.Dry, g.Rained = *call, ended
	}
	visits := read.between(l.Today.AddDays(-nightsBack), l.Today.AddDays(1))
	g.Readings = make([]shut.Reading, 0, len(visits))
	for i := range visits {
		v := &visits[i]
		g.Readings = append(g.Readings, shut.Reading{Fact: diary.Fact{ID: v.Fact, Day: v.Day, At: v.at}, Sample: v.Sample, Least: slices.Min(v.Sample.Heights)})
		if n := len(read.cuts); n > 0 && v.seq < read.cuts[n-1].seq {
			g.Uncut = i + 1
		}
	}
	return g
}

// killsOn is the killing freeze of a paddock: 28 F, and the farm's own where that
// is colder.
func killsOn(p *Paddock) frost.Threshold {
	if p.Native() && p.Rule.EndsAt.Colder(frost.KillingFreeze28F) {
		return p.Rule.EndsAt
	}
	return frost.KillingFreeze28F
}

// shutYear is one season's bounds.
func (l *look) shutYear(p *Paddock, year int) shut.Year {
	y := shut.Year{
		Turn: p.Rule.Spring.In(year), Next: p.Rule.Spring.In(year + 1),
		Cold: l.early(p, frost.Frost36F, year), Freeze: l.early(p, killsOn(p), year),
	}
	facts := l.Book.Of(p.ID)
	for _, f := range facts[diary.From(facts, y.Turn):diary.From(facts, y.Next)] {
		if f.Kind == diary.Reading || f.Kind == diary.On {
			y.Stirred = f.Day
			break
		}
	}
	return y
}

// plant is what makes a hazard of a paddock's plant count.
func (l *look) plant(p *Paddock, h grass.Hazard) shut.Plant {
	own := grass.StandHazard(p.Grass).Name == h.Name
	s := shut.Plant{Hazard: h, Own: own, Filed: own || slices.ContainsFunc(p.Hazards, func(f grass.Hazard) bool { return f.Name == h.Name })}
	for _, f := range l.Book.Every(diary.Plant) {
		if f.Concerns(p.ID) && f.Plant == h.Name && !f.Day.After(l.Today) {
			s.Reported = append(s.Reported, f.Day)
		}
	}
	return s
}

// reports are what was told of a paddock that shuts or opens it, oldest first.
func (l *look) reports(p *Paddock) []diary.Fact {
	var all []diary.Fact
	since := l.Today.AddDays(-nightsBack)
	for _, kind := range []diary.Kind{diary.Brown, diary.Regrowth, diary.Danger, diary.Clear, diary.NoFrost, diary.Emergency, diary.Horses} {
		told := l.Book.Every(kind)
		for _, f := range told[diary.From(told, since):diary.From(told, l.Today.AddDays(1))] {
			if f.Concerns(p.ID) && (f.Kind != diary.Emergency || f.Paddock != "" || l.mayBeOf(f, p.ID)) {
				all = append(all, *f)
			}
		}
	}
	slices.SortFunc(all, func(a, b diary.Fact) int {
		if shut.Later(&a, &b) {
			return 1
		}
		return -1
	})
	return all
}

// stood is how tall a stand was on a day, and how old that reading was then, in
// days; negative where nobody read it. A reading of this rest that is too old by
// itself has grown since: then it is the low end of what is to be expected.
func (l *look) stood(p *Paddock, read *readings, day civil.Date) (height float64, age int) {
	v := read.standing(day)
	if v == nil {
		return 0, -1
	}
	height, age = v.Sample.Mean, day.DaysSince(v.Day)
	d := l.datesOf(p, YearOf(day, p.Rule.Spring))
	if age <= grass.StaleReading || d.Cutoff.IsZero() || v.Day.Before(d.Cutoff) || !l.moves.emptyFrom(p.ID, v.Day, day) {
		return height, age
	}
	grows := l.learn(p, YearOf(day, p.Rule.Spring)).growth
	if f := grows.Forecast(grass.Ask{Start: height, Behind: l.grewUnder(l.almanac(v.Day.Year), v.Day, day, p.FrostOffset), Ahead: []float64{0}}); f.Known() {
		return f.Low, 0
	}
	return height, age
}

// lastMinimum is the latest day before today whose minimum is on record; zero where
// none of the last month is.
func (l *look) lastMinimum() civil.Date {
	var last civil.Date
	for _, n := range l.nights {
		if n.Only == "" && n.Min.Known() {
			last = n.Day
		}
	}
	for d := l.Today.AddDays(-1); l.Air != nil && d.After(l.Today.AddDays(-31)) && d.After(last); d = d.AddDays(-1) {
		if l.Air.Day(d).Min.Known() {
			return d
		}
	}
	return last
}

// risks lists the hazard plants that can hold a paddock, each once: what its own
// grass is, looked up once for each species, those that the farm file names, and
// those that somebody reported, whoever it was: that only makes things stricter.
func (l *look) risks(p *Paddock) []grass.Hazard {
	own, known := l.stands[p.Grass.Name]
	if !known {
		own = p.Grass.HazardsOf()
		l.stands[p.Grass.Name] = own
	}
	weeds := l.weeds(p)
	if len(weeds) == 0 {
		return own
	}
	weeds = slices.DeleteFunc(slices.Clone(weeds), func(h grass.Hazard) bool { return h.StandOnly })
	return withPlants(weeds, own)
}

// weeds are the hazard plants of a paddock besides its own grass: of the farm
// file and of the diary.
func (l *look) weeds(p *Paddock) []grass.Hazard {
	weeds := p.Hazards
	for _, f := range l.Book.Every(diary.Plant) {
		if h, ok := grass.Hazards.Find(f.Plant); ok && f.Paddock == p.ID && !f.Day.After(l.Today) {
			weeds = withPlants(slices.Clip(weeds), []grass.Hazard{h})
		}
	}
	return weeds
}

// withPlants adds plants that are not yet listed.
func withPlants(plants, more []grass.Hazard) []grass.Hazard {
	for _, h := range more {
		if !slices.ContainsFunc(plants, func(k grass.Hazard) bool { return k.Name == h.Name }) {
			plants = append(plants, h)
		}
	}
	return plants
}

// always reports whether one of the plants is dangerous after frost however
// tall it stands.
func always(risks []grass.Hazard) bool {
	return slices.ContainsFunc(risks, func(h grass.Hazard) bool { return !h.Tall.Known() })
}

// stay is who stands on a paddock, as far as plants that kill without a frost go.
// On empty ground it is the herd that would go in.
func (l *look) stay(p *Paddock, read *readings) shut.Stay {
	at := l.moves.Standing(p.ID)
	s := shut.Stay{In: at.Occupancy == Grazed, Since: at.Since}
	if at.Entered != nil {
		s.Last = at.Entered.Day
	}
	next, named := l.goesIn(read.standing(l.Today))
	s.Horse = (named || !s.In) && next.Kind.Is == herd.Horse
	for _, h := range l.herds {
		s.Horse = s.Horse || h.Kind.Is == herd.Horse && slices.Contains(at.Herds, h.ID)
	}
	return s
}

// goesIn is the herd that would go in: the one that today's reading names, else the
// largest on file.
func (l *look) goesIn(read *Visit) (next herd.Herd, named bool) {
	most := 0.0
	for _, h := range l.herds {
		if read != nil && read.Day == l.Today && read.Herd == h.ID {
			return h, true
		}
		if d := h.Demand(l.Today); d > most {
			most, next = d, h
		}
	}
	return next, false
}

// answerWithin is how many days a question about a danger shuts ground while nobody
// answers it: as long as a person's word about the nights is good. By then such a word
// is asked for anew.
const answerWithin = 7

// asked are the facts about a paddock that somebody was asked about and has not
// answered. Whether it froze is answered by a record of that night as well.
func (l *look) asked(p *Paddock) (open []diary.Fact) {
	for _, asked := range l.Book.Asked() {
		f := *asked
		f.Kind, _ = f.Kind.About()
		switch night := NightOf(f, l.Farm.zone()); {
		case !f.Concerns(p.ID) || f.Day.After(l.Today) || l.Today.DaysSince(f.Day) > answerWithin:
		case f.Kind == diary.Frost && !l.lastMin.Before(night):
		case f.Kind == diary.Emergency && f.Paddock == "" && !l.mayBeOf(&f, p.ID):
		default:
			open = append(open, f)
		}
	}
	return open
}

// mayBeOf reports whether an emergency of which nobody said where may be of a paddock:
// animals stood there by then, or may have. Told again with its place it is of that.
func (l *look) mayBeOf(f *diary.Fact, paddock string) bool {
	return l.moves.mayHaveStood(paddock, f) && !slices.ContainsFunc(l.Book.Every(diary.Emergency), func(o *diary.Fact) bool {
		return o.Paddock != "" && o.ID > f.ID && o.At.Sub(f.At).Abs() <= toldWhereFor && !o.Day.After(l.Today)
	})
}

// toldWhereFor is how long after an emergency one that names a paddock says where it
// was (assumption).
const toldWhereFor = 24 * time.Hour
