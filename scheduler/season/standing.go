package season

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
)

// Occupancy is whether animals are in a paddock.
type Occupancy string

const (
	Grazed  Occupancy = "grazed"
	Empty   Occupancy = "empty"
	Unknown Occupancy = "unknown"
)

// Standing is who stands in a paddock.
type Standing struct {
	Occupancy Occupancy
	Herds     []string    // ids of the herds that are in
	Since     civil.Date  // the first of those days; zero where unknown
	LastOff   civil.Date  // the last day that animals left; zero where never told
	Entered   *diary.Fact // the latest `on` of those that stand there; its ID is 0 where the farm file put them there
}

// Standing is who stands in a paddock now.
func (m *Moves) Standing(paddock string) Standing {
	g := m.ground[paddock]
	if g == nil {
		if !m.herds {
			return Standing{Occupancy: Unknown}
		}
		return Standing{Occupancy: Empty}
	}
	s := Standing{Occupancy: Empty}
	if n := len(g.offs); n > 0 {
		s.LastOff = g.offs[n-1]
	}
	for n, i := range g.open {
		stay := g.stays[i]
		if stay.Herd != "" {
			s.Herds = append(s.Herds, stay.Herd)
		}
		if n == 0 || stay.From.Before(s.Since) {
			s.Since = stay.From
		}
		if s.Entered == nil || stay.On.ID > s.Entered.ID {
			s.Entered = stay.On
		}
	}
	slices.Sort(s.Herds)
	switch {
	case len(g.open) > 0:
		s.Occupancy = Grazed
	case g.unsure():
		s.Occupancy = Unknown
	}
	return s
}

// Periods lists who stood in a paddock, in the order they came.
func (m *Moves) Periods(paddock string) []Period {
	if g := m.ground[paddock]; g != nil {
		return g.stays
	}
	return nil
}

// emptyFrom reports whether a paddock is known to have been empty on every day
// from from to to, both counted in. The day that animals left is not counted
// as grazed.
func (m *Moves) emptyFrom(paddock string, from, to civil.Date) bool {
	g := m.ground[paddock]
	if g == nil {
		return m.herds
	}
	return !slices.ContainsFunc(g.stays, func(s Period) bool { return touches(s.From, s.To, from, to) }) &&
		!slices.ContainsFunc(g.doubts, func(d doubt) bool { return touches(d.from, d.to, from, to) })
}

// grazedOn reports whether animals were known to stand in a paddock as a day
// began.
func (m *Moves) grazedOn(paddock string, day civil.Date) bool {
	return slices.ContainsFunc(m.Periods(paddock), func(s Period) bool { return s.From.Before(day) && (s.To.IsZero() || s.To.After(day)) })
}

// mayHaveStood reports whether animals stood in a paddock, or may have, when a fact
// was told, or had left it that day.
func (m *Moves) mayHaveStood(paddock string, f *diary.Fact) bool {
	g := m.ground[paddock]
	if g == nil {
		return !m.herds
	}
	before := f.Day.AddDays(-1)
	return slices.ContainsFunc(g.stays, func(s Period) bool { return s.On.ID < f.ID && touches(s.From, s.To, before, f.Day) }) ||
		slices.ContainsFunc(g.doubts, func(d doubt) bool { return touches(d.from, d.to, before, f.Day) })
}

// touches reports whether days from a up to, and without, b have one in common
// with the days from from to to. Zero is open at either end.
func touches(a, b, from, to civil.Date) bool {
	return (b.IsZero() || b.After(from)) && (a.IsZero() || !a.After(to))
}

// lastOff is the last day on which animals left a paddock before its rest
// ended, or on which somebody last said so; false where they were still in, or
// nobody knows. Where it stood empty all season by the diary it is the year's
// turn.
func (m *Moves) lastOff(paddock string, turn, ended civil.Date) (civil.Date, bool) {
	last, g := turn, m.ground[paddock]
	if g == nil {
		return last, m.herds
	}
	for _, s := range g.stays {
		if !s.From.IsZero() && !s.From.Before(ended) {
			continue
		}
		if s.To.IsZero() || s.To.After(ended) {
			return civil.Date{}, false
		}
		last = diary.LaterDay(last, s.To)
	}
	for _, u := range g.doubts {
		if u.from.Before(ended) && (u.to.IsZero() || u.to.After(ended)) {
			return civil.Date{}, false
		}
	}
	for _, day := range g.offs {
		if day.After(last) && !day.After(ended) {
			last = day
		}
	}
	return last, true
}

// grazedDays counts the days on which animals were known to stand in a paddock
// from a day on, before today, and gives the first day on which it stood empty
// again: that day itself where no animal came, today where they are still in.
func (m *Moves) grazedDays(paddock string, from, today civil.Date) (days int, empty civil.Date) {
	empty = from
	for _, s := range m.Periods(paddock) {
		if !touches(s.From, s.To, from, today) {
			continue
		}
		begin, end := diary.LaterDay(s.From, empty), diary.EarlierDay(s.To, today) // another herd may have been in already
		days += max(0, end.DaysSince(begin))
		empty = diary.LaterDay(empty, end)
	}
	return days, empty
}

// HerdsOn are a farm's herds as the diary has them on a day.
func (f *Farm) HerdsOn(book *diary.Book, day civil.Date) []herd.Herd {
	return herdsOn(f.Herds, book, day)
}
