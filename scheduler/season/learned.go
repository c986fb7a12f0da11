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
	stays         version
	finished      bool // the season before has ended
}

// version changes whenever the stays on a paddock do, or what is known of them.
func (m *Moves) version(paddock string) version {
	g := m.ground[paddock]
	if g == nil {
		return version{}
	}
	s := version{facts: len(g.stays) + len(g.offs)}
	add := func(d civil.Date) { s.ids = s.ids*31 + int64(d.Year*400+int(d.Month)*32+d.Day) }
	for i := range g.stays {
		add(g.stays[i].From)
		add(g.stays[i].To)
		s.ids += g.stays[i].On.ID
		if g.stays[i].Told {
			s.ids++
		}
	}
	for _, d := range g.doubts {
		add(d.from)
		add(d.to)
	}
	for _, d := range g.offs {
		add(d)
	}
	return s
}

// learn is what a paddock's finished seasons and grazings before a season teach
// of it. It is worked out anew only where one of them changed.
func (l *look) learn(p *Paddock, year int) learned {
	from := learnedFrom{
		farm: l.Farm, book: l.Book, air: l.Air,
		own: versionOf(l.Book.Of(p.ID), l.Today), farmwide: l.farmwide, stays: l.moves.version(p.ID),
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
				seasons[i].Teaches, seasons[i].WhyNot = false, left.Why.String()
			}
		}
	}
	return g
}

// movedFrom is all that the moves can change with.
type movedFrom struct {
	farm  *Farm
	book  *diary.Book
	moved version
}

// follow replays the moves where there are new ones.
func (l *look) follow() *Moves {
	from := movedFrom{l.Farm, l.Book, versionOf(l.Book.Moves(), l.Today)}
	return fresh(l.Cache, struct{}{}, from, func() *Moves { return Follow(l.Farm, l.Book, l.Today) })
}

// readFrom is all that the readings of a paddock can change with.
type readFrom struct {
	book *diary.Book
	own  version
}

// readings are the heights of a paddock that were read up to today.
func (l *look) readings(p *Paddock) *readings {
	facts := l.Book.Of(p.ID)
	return fresh(l.Cache, p.ID, readFrom{l.Book, versionOf(facts, l.Today)}, func() *readings {
		for len(facts) > 0 && facts[len(facts)-1].Day.After(l.Today) {
			facts = facts[:len(facts)-1]
		}
		return readFacts(facts)
	})
}

// prior is how a paddock's leaves grow as long as nobody has measured it.
func (l *look) prior(p *Paddock, a *almanac) grass.Growth {
	return grass.Prior(p.Grass, a.restHeat(p.FrostOffset), p.Soil)
}
