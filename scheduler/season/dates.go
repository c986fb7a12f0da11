package season

import (
	"github.com/golang-sql/civil"

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

// cutoff is C, the first day of rest: F less R days, or the day the paddock
// must be given back where that is earlier.
//
// Common practice: frost Oct 16 with 45 days of rest is Sep 1; frost Oct 20
// with 60 days is Aug 21.
func cutoff(planned civil.Date, restDays int, outBy civil.Date) civil.Date {
	c := planned.AddDays(-restDays)
	if !outBy.IsZero() && outBy.Before(c) {
		return outBy
	}
	return c
}

// datesOf are the dates of a paddock's season as they stand today. Ground that
// is no native, and a native without a frost date, has no cutoff but the day it
// must be given back.
func (l *look) datesOf(p *Paddock, year int) Dates {
	d := Dates{Turn: p.Rule.Spring.In(year), Next: p.Rule.Spring.In(year + 1)}
	if !p.OutBy.IsZero() {
		d.OutBy = p.OutBy.In(year)
		if !d.OutBy.After(d.Turn) {
			d.OutBy = p.OutBy.In(year + 1)
		}
	}
	d.Cutoff = d.OutBy
	if !p.Native() {
		return d
	}
	a := l.almanac(year)
	planned, err := a.frost()
	if now := l.almanac(YearOf(l.Today, p.Rule.Spring)); err != nil && year < now.Year {
		// The record was too short then. What is known by now will do for a
		// season that is over.
		a, planned, err = now, frost.DateIn(year, now.planned), now.err
	}
	if err == nil {
		d.Frost = planned.AddDays(p.FrostOffset)
		d.Cutoff = cutoff(d.Frost, p.Rule.RestDays, d.OutBy)
		d.Early = frost.DateIn(year, a.early).AddDays(p.FrostOffset)
		d.Late = frost.DateIn(year, a.late).AddDays(p.FrostOffset)
	}
	if !d.Cutoff.IsZero() {
		d.Ended, d.EndedBy = l.ending(p, year, d.Cutoff)
	}
	return d
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

// givenBack reports whether the ground is somebody else's until the year's turn.
func (d Dates) givenBack(today civil.Date) bool {
	return !d.OutBy.IsZero() && !today.Before(d.OutBy)
}
