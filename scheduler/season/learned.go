package season

import (
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
