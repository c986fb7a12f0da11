package season

import (
	"cmp"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season/shut"
)

// nightsBack is how many days of frosts can still shut ground: two seasons.
const nightsBack = 800

// nightFalls is the hour of the farm's clock from which a frost told of is that of
// the night that has begun (assumption).
const nightFalls = 20

// NightOf is the night that a fact speaks of, by the morning on which it ended. An
// instrument's is the day of its minimum. Who says that it froze, or did not, without
// a day or last night, speaks at any hour of the latest night that there was, and from
// the evening on of the one that has begun. Of an earlier day it is that day's morning.
// Where 'yesterday' was meant it is a day too late, which only makes things stricter.
func NightOf(f diary.Fact, zone *time.Location) civil.Date {
	told := f.At.In(zone)
	today := civil.DateOf(told)
	switch {
	case f.Measured() || f.Day != today && f.Day != today.AddDays(-1):
		return f.Day
	case f.Day == today && told.Hour() >= nightFalls:
		return today.AddDays(1)
	}
	return today
}

// zone is that of the farm's clocks; UTC where nobody says.
func (f *Farm) zone() *time.Location {
	if f.Zone == nil {
		return time.UTC
	}
	return f.Zone
}

// nightsFrom is all that the nights of frost can change with.
type nightsFrom struct {
	farm        *Farm
	stand       diary.Version
	first, next int // which of all frosts
}

// nightsFrom is what those of the frosts from a day up to, and without, another are
// made from.
func (s *Sight) nightsFrom(first, next civil.Date) nightsFrom {
	ever := s.Book.FrostsEver()
	return nightsFrom{s.Farm, s.Book.VersionOf(diary.Frost, next.AddDays(-1)), diary.From(ever, first), diary.From(ever, next)}
}

// frosts are the nights of frost up to today, oldest first.
func (s *Sight) frosts() []shut.Night {
	since := s.Today.AddDays(-nightsBack)
	from := s.nightsFrom(since, s.Today.AddDays(1))
	return fresh(s.Cache, 0, from, func() (all []shut.Night) {
		for year := since.Year - 1; year <= s.Today.Year; year++ { // July has none, nor ground that it could shut
			first, next := civil.Date{Year: year, Month: time.July, Day: 1}, civil.Date{Year: year + 1, Month: time.July, Day: 1}
			of := s.nightsFrom(first, diary.EarlierDay(next, s.Today.AddDays(1)))
			if of.first < of.next && next.After(since) {
				all = append(all, fresh(s.Cache, year, of, func() []shut.Night { return s.nights(s.Book.FrostsEver()[of.first:of.next]) })...)
			}
		}
		return slices.DeleteFunc(all, func(n shut.Night) bool { return n.Day.Before(since) })
	})
}

// nights makes one of all that was recorded or told of a night.
func (s *Sight) nights(ever []*diary.Fact) []shut.Night {
	all := make([]shut.Night, 0, len(ever))
	for _, f := range ever {
		only, day := "", NightOf(*f, s.Farm.zone())
		if f.Measured() {
			only = f.Paddock
		}
		i, before := len(all)-1, day.AddDays(-1) // what is told of a day is of its night or the next
		for i >= 0 && !all[i].Day.Before(before) && (all[i].Day != day || all[i].Only != only) {
			i--
		}
		if i < 0 || all[i].Day != day {
			i = len(all)
			all = append(all, shut.Night{Day: day, Only: only, First: f, Min: frost.NoTemp, Stood: frost.NoTemp})
		}
		_, stands := s.Book.Standing(f.ID)
		join(&all[i], f, stands)
	}
	for i := range all {
		n := &all[i]
		n.Since = diary.EarlierDay(n.Day, civil.DateOf(n.First.At.In(s.Farm.zone())))
		slices.SortFunc(n.Again, func(a, b *diary.Fact) int { return cmp.Compare(a.ID, b.ID) })
	}
	slices.SortStableFunc(all, func(a, b shut.Night) int { return a.Day.DaysSince(b.Day) })
	return all
}

// join adds one more word of a night.
func join(n *shut.Night, f *diary.Fact, stands bool) {
	later := f
	if f.ID < n.First.ID {
		later, n.First = n.First, f
	}
	if later.ID != n.First.ID && !later.Measured() {
		n.Again = append(n.Again, later)
	}
	if !f.Measured() {
		n.Told = true
		return
	}
	t := frost.FromC(*f.TempC)
	if !n.Min.Known() || t < n.Min {
		n.Min = t
	}
	if stands && (!n.Stood.Known() || t < n.Stood) {
		n.Stood = t
	}
}
