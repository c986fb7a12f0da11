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
	rests   learnedFrom
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
	own, farmwide stamp
	stays         stamp
	finished      bool // the season before has ended
}

// A stamp changes whenever a list of facts does: facts never change, and a new
// one has a higher id than any before.
type stamp struct {
	facts int
	ids   int64
}

func stampOf(facts []diary.Fact, today civil.Date) (s stamp) {
	for i := range facts {
		if !facts[i].Day.After(today) {
			s.facts++
			s.ids += facts[i].ID
		}
	}
	return s
}

// stamp changes whenever the stays on a paddock do, or what is known of them.
func (m *Moves) stamp(paddock string) stamp {
	g := m.ground[paddock]
	if g == nil {
		return stamp{}
	}
	s := stamp{facts: len(g.stays) + len(g.offs)}
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
		farm: l.farm, book: l.book, air: l.air,
		own: stampOf(l.book.Of(p.ID), l.today), farmwide: l.farmwide, stays: l.moves.stamp(p.ID),
		finished: year <= YearOf(l.today, p.Rule.Spring) || !l.datesOf(p, year-1).Ended.IsZero(),
	}
	k := learnedOf{p.ID, year}
	if known, ok := l.shelf.learnedBefore(k, from); ok {
		return known
	}
	a, read := l.almanac(year), l.readings(p)
	known := learned{rests: from}
	if p.Native() && a.err == nil {
		known.history = l.history(p, read, a)
		known.growth = teach(l.prior(p, a), known.history)
	}
	known.eaten = l.learnEaten(p, read, known.growth, a)
	l.shelf.learn(k, known)
	return known
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

// learnedBefore is what was learned, if nothing changed since.
func (s *Shelf) learnedBefore(k learnedOf, from learnedFrom) (learned, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	known, ok := s.learned[k]
	return known, ok && known.rests == from
}

func (s *Shelf) learn(k learnedOf, known learned) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.learned == nil {
		s.learned = map[learnedOf]learned{}
	}
	s.learned[k] = known
}

// followed is where the herds have been, and what that was followed from.
type followed struct {
	farm  *Farm
	book  *diary.Book
	moved stamp
	moves *Moves
}

// follow replays the moves where there are new ones.
func (s *Shelf) follow(l *look) *Moves {
	s.mu.Lock()
	defer s.mu.Unlock()
	if f := s.follows; f.moves == nil || f.farm != l.farm || f.book != l.book || f.moved != l.moved {
		s.follows = followed{l.farm, l.book, l.moved, Follow(l.farm, l.book, l.today)}
	}
	return s.follows.moves
}

// A reader is the readings of a paddock and what they were read from.
type reader struct {
	book *diary.Book
	own  stamp
	read *readings
}

// readings are the heights of a paddock that were read up to today.
func (l *look) readings(p *Paddock) *readings {
	facts := l.book.Of(p.ID)
	own := stampOf(facts, l.today)
	l.shelf.mu.Lock()
	defer l.shelf.mu.Unlock()
	known, ok := l.shelf.readers[p.ID]
	if ok && known.book == l.book && known.own == own {
		return known.read
	}
	for len(facts) > 0 && facts[len(facts)-1].Day.After(l.today) {
		facts = facts[:len(facts)-1]
	}
	if l.shelf.readers == nil {
		l.shelf.readers = map[string]reader{}
	}
	known = reader{l.book, own, readFacts(facts)}
	l.shelf.readers[p.ID] = known
	return known.read
}

// prior is how a paddock's leaves grow as long as nobody has measured it.
func (l *look) prior(p *Paddock, a *Almanac) grass.Growth {
	return grass.Prior(p.Grass, a.restHeat(p.FrostOffset), p.Soil)
}
