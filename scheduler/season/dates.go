package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// YearOf is the season that a day belongs to: the year of the last turn on or
// before it.
func YearOf(day civil.Date, turn MonthDay) int {
	if day.Before(turn.In(day.Year)) {
		return day.Year - 1
	}
	return day.Year
}

// Cutoff is C, the first day of rest: F less R days, or the day the paddock
// must be given back where that is earlier.
//
// Common practice: frost Oct 16 with 45 days of rest is Sep 1; frost Oct 20
// with 60 days is Aug 21.
func Cutoff(planned civil.Date, restDays int, outBy civil.Date) civil.Date {
	c := planned.AddDays(-restDays)
	if !outBy.IsZero() && outBy.Before(c) {
		return outBy
	}
	return c
}

// datesOf are the dates of a paddock's season as they stand today.
func (l *look) datesOf(p *Paddock, year int) Dates {
	turn := p.Rule.Spring
	d := Dates{Turn: turn.In(year), Next: turn.In(year + 1)}
	if !p.OutBy.IsZero() {
		d.OutBy = p.OutBy.In(year)
		if d.OutBy.Before(d.Turn) {
			d.OutBy = p.OutBy.In(year + 1)
		}
	}
	if !p.Native() {
		d.Cutoff = d.OutBy
		return d
	}
	a := l.almanac(year)
	planned, err := a.Frost()
	if err != nil {
		return d
	}
	d.Frost = planned.AddDays(p.FrostOffset)
	d.Cutoff = Cutoff(d.Frost, p.Rule.RestDays, d.OutBy)
	early, late := a.Range()
	d.Early, d.Late = early.AddDays(p.FrostOffset), late.AddDays(p.FrostOffset)
	d.Ended, d.EndedBy = l.ending(p, year, d.Cutoff)
	return d
}

// ending is the first dormant day of a season and what brought it; zero while
// it has not come.
func (l *look) ending(p *Paddock, year int, cutoff civil.Date) (civil.Date, Ending) {
	frosts, turn := l.book.Frosts(), civil.Date{Year: year + 1, Month: time.January, Day: 1}
	var end civil.Date
	var by Ending
	for _, f := range frosts {
		if inFrostSeason(f.Day, year) && !f.Day.After(l.today) && endsRest(f, p) {
			end, by = f.Day, ByFreeze
			break
		}
	}
	if b, ok := l.firstBrown(p.ID, cutoff, turn); ok && (end.IsZero() || b.Before(end)) {
		end, by = b, ByBrown
	}
	if end.IsZero() && !l.today.Before(turn) {
		end, by = turn, ByYear
	}
	return end, by
}

// firstBrown is the first day from the cutoff on that a person saw brown tops.
// Tops that brown before it are drought, not dormancy.
func (l *look) firstBrown(paddock string, from, before civil.Date) (civil.Date, bool) {
	var first civil.Date
	for _, facts := range [][]diary.Fact{l.book.Of(paddock), l.book.Farm()} {
		for _, f := range facts {
			if f.Kind != diary.Brown || f.Day.Before(from) || !f.Day.Before(before) || f.Day.After(l.today) {
				continue
			}
			if first.IsZero() || f.Day.Before(first) {
				first = f.Day
			}
			break
		}
	}
	return first, !first.IsZero()
}

// endsRest reports whether a frost is the freeze that ends rest. A person's
// frost is a light one, which is enough only where the farm's rule is 32 F or
// above.
func endsRest(f diary.Fact, p *Paddock) bool {
	if f.Paddock != "" && f.Paddock != p.ID {
		return false
	}
	if f.TempC == nil {
		return p.Rule.EndsAt.Reached(frost.FromC(0))
	}
	return p.Rule.EndsAt.Reached(frost.FromC(*f.TempC))
}

// reaches reports whether a measured frost is one at the planning threshold.
func reaches(f diary.Fact, plan Plan) bool {
	return f.TempC != nil && plan.Threshold.Reached(frost.FromC(*f.TempC))
}

// inFrostSeason reports whether a day is in the fall of a year, Aug 1 to Dec 31.
func inFrostSeason(day civil.Date, year int) bool {
	return day.Year == year && day.Month >= time.August
}

// phaseOf is where the paddock stands. Ground that is no native is open until
// it must be given back.
func phaseOf(d Dates, today civil.Date, native bool) Phase {
	switch {
	case native && !d.Ended.IsZero() && !today.Before(d.Ended):
		return Dormant
	case !d.Cutoff.IsZero() && !today.Before(d.Cutoff):
		return Rest
	}
	return Open
}
