package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// Ending is what ended a rest.
type Ending string

// The endings.
const (
	ByFreeze Ending = "freeze"   // a killing freeze, measured, or a frost that was enough by the farm's rule
	ByBrown  Ending = "brown"    // a person saw brown tops
	ByYear   Ending = "no frost" // Dec 31 was the last day of rest
)

// ending is the first dormant day of a season, rested from a day on, and what
// brought it; zero while it has not come. Where neither came Dec 31 was the last day of rest.
func (l *look) ending(p *Paddock, year int, rested civil.Date) (civil.Date, Ending) {
	newYear := civil.Date{Year: year + 1, Month: time.January, Day: 1}
	var end civil.Date
	var by Ending
	for _, f := range l.frosts[year] {
		if !f.Day.After(l.Today) && f.Concerns(p.ID) && p.EndsRest(f) {
			end, by = f.Day, ByFreeze
			break
		}
	}
	if b, ok := l.firstBrown(p.ID, rested, newYear); ok && (end.IsZero() || b.Before(end)) {
		end, by = b, ByBrown
	}
	if end.IsZero() && !l.Today.Before(newYear) {
		end, by = newYear, ByYear
	}
	return end, by
}

// firstBrown is the first day from the cutoff on that a person saw brown tops.
// Tops that brown before it are drought, not dormancy.
func (l *look) firstBrown(paddock string, from, before civil.Date) (civil.Date, bool) {
	var first civil.Date
	for f := range l.Book.About(paddock, diary.Brown, from) {
		if f.Day.Before(before) && !f.Day.After(l.Today) {
			first = earlier(first, f.Day)
		}
	}
	return first, !first.IsZero()
}

// frostCame reports whether the season's first frost has come to a paddock, so
// that nothing more grows.
func (l *look) frostCame(p *Paddock, year int) bool {
	first := l.firstFrost(p, year)
	return !first.IsZero() && !first.After(l.Today)
}

// firstFrost is the season's first frost at the planning threshold on a
// paddock, at which its growth ends; zero while none came. What was measured is
// moved by the paddock's offset as the station's past falls are; what a person
// saw is not.
//
// The station's own date counts where its record holds up to it. Else it is the
// first that the record or anybody has: a person's frost counts as 32 F, on a
// night that the station has no minimum of.
func (l *look) firstFrost(p *Paddock, year int) civil.Date {
	first, sure := l.stationFrost(year)
	if !first.IsZero() {
		first = first.AddDays(p.FrostOffset)
	}
	if sure {
		return first
	}
	for _, f := range l.frosts[year] {
		if f.Day.After(l.Today) || !f.Concerns(p.ID) {
			continue
		}
		day := f.Day
		switch {
		case f.TempC == nil:
			if !l.Farm.Plan.Threshold.Reached(frost.FromC(0)) || l.Air != nil && l.Air.Day(f.Day).Min.Known() {
				continue
			}
		case !l.Farm.Plan.Threshold.Reached(frost.FromC(*f.TempC)):
			continue
		default:
			day = day.AddDays(p.FrostOffset)
		}
		if first.IsZero() || day.Before(first) {
			first = day
		}
	}
	return first
}

// stationFrost is the first frost of a fall that was observed and not taken
// back; sure where few days before it are missing.
func (l *look) stationFrost(year int) (first civil.Date, sure bool) {
	if l.Air == nil {
		return civil.Date{}, false
	}
	s, ok := l.station[year]
	if !ok {
		s = l.observedFrost(year)
		l.station[year] = s
	}
	return s.first, s.sure
}

func (l *look) observedFrost(year int) stationFall {
	th := l.Farm.Plan.Threshold
	s, ok := l.Air.Season(year, th)
	if !ok || !s.Came() {
		return stationFall{}
	}
	day := s.First
	for day.Year == year && (l.takenBack[day] || !th.Reached(l.Air.Day(day).Min)) {
		day = day.AddDays(1)
	}
	if day.Year != year || !day.Before(l.Today) {
		return stationFall{}
	}
	return stationFall{day, s.Counted}
}
