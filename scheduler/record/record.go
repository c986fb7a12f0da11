// Package record is in charge of what a farm can show of a year's grazing: who
// stood in a paddock from when to when, what they came to in animal-unit days,
// what was left, and whether it had its rest. It is made from the diary alone:
// what nobody said is a gap, and stays one.
//
// It judges no more than whether a height is above another, and says nothing to
// anybody.
package record

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// A Page is one paddock's year, from its turn up to the next.
type Page struct {
	Paddock  *season.Paddock
	From, To civil.Date // To is not counted in
	Stays    []Stay
	// UnitDays is the animal-unit days of all stays that could be counted.
	UnitDays float64
	Gaps     bool         // some could not be
	Taken    []diary.Fact // hay and fire
	Cutoff   civil.Date   // zero where it has no rest
	// RestDays is the days from the last off to the end of rest; 0 where unknown or
	// not over.
	RestDays int
	// RestBegan and AtFrost are the heights in inches that rest began and ended
	// with; 0 where nobody read them.
	RestBegan, AtFrost float64
}

// PerAcre is animal-unit days an acre.
func (p *Page) PerAcre(unitDays float64) float64 { return unitDays / p.Paddock.Acres }

// LeaveKept is whether rest began with the height to leave; unknown where the
// ground has no rest, or nobody read it.
func (p *Page) LeaveKept() Answer {
	return notUnder(p.RestBegan, p.Paddock.Rule.Leave, p.Paddock.Native())
}

// RestKept is whether the rest was as long as the paddock's rule.
func (p *Page) RestKept() Answer {
	return notUnder(float64(p.RestDays), float64(p.Paddock.Rule.RestDays), p.Paddock.Native())
}

// FloorKept is whether a stay left the lowest stubble that spares the growing
// point, or the residual of ground that is no native.
func (p *Page) FloorKept(s Stay) Answer {
	floor := p.Paddock.Floor()
	if p.Paddock.Native() {
		floor = p.Paddock.Rule.Min
	}
	return notUnder(s.HeightOut, floor, true)
}

// An Answer is yes, no, or that nobody knows.
type Answer string

const (
	Yes     Answer = "yes"
	No      Answer = "no"
	Unknown Answer = ""
)

func notUnder(x, least float64, asked bool) Answer {
	switch {
	case !asked || x <= 0:
		return Unknown
	case x >= least:
		return Yes
	}
	return No
}

// Year is a farm's record of one year, a page for every paddock in file order, as
// far as it is known on the sight's day.
func Year(s season.Sight, year int) []Page {
	moves := season.Follow(s.Farm, s.Book, s.Today)
	pages := make([]Page, len(s.Farm.Paddocks))
	for i := range pages {
		p := &s.Farm.Paddocks[i]
		pages[i] = Page{Paddock: p, From: p.Rule.Spring.In(year), To: p.Rule.Spring.In(year + 1)}
		pages[i].fill(s, moves)
	}
	return pages
}

func (p *Page) fill(s season.Sight, moves *season.Moves) {
	today := s.Today
	if s.Today.Before(p.From) {
		return
	}
	s.Today = diary.EarlierDay(s.Today, p.To.AddDays(-1))
	view := season.LookAt(s, p.Paddock)
	p.Cutoff, p.AtFrost = view.Dates.Cutoff, view.EndHeight
	if f := view.Finished; f != nil {
		p.RestDays, p.RestBegan = f.RealRest, f.Start
	}
	w := writer{Sight: s, page: p, visits: view.Visits, today: today}
	for _, period := range moves.Periods(p.Paddock.ID) {
		w.take(period)
	}
	if p.RestBegan == 0 && p.Paddock.Native() && !s.Today.Before(p.Cutoff) {
		p.RestBegan = w.atCutoff()
	}
	for _, f := range s.Book.Of(p.Paddock.ID) {
		if f.Kind.Row().Cuts && p.holds(f.Day) {
			p.Taken = append(p.Taken, *f)
		}
	}
}

func (p *Page) holds(day civil.Date) bool { return !day.Before(p.From) && day.Before(p.To) }
