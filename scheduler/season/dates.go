package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/figure"
	"stubbled/scheduler/frost"
)

// Dates are the civil dates of one season of a paddock.
type Dates struct {
	Frost   civil.Date // F, the planning frost; zero for ground that is no native
	Cutoff  civil.Date // C, the first day of rest; zero where there is no rest
	OutBy   civil.Date // the day it must be given back; zero where none
	Ended   civil.Date // the day rest ended; zero while it has not
	EndedBy Ending
	Doubted civil.Date // a killing freeze that came too soon to be believed; zero where none did
	// Early and Late are the dates by which the first frost came in 10 and in
	// 90 of 100 falls; LikelyEnd is when rest will probably end.
	Early, Late, LikelyEnd civil.Date
	Cold                   civil.Date // by which 10 of 100 falls had 36 F
	Turn                   civil.Date // the year's turn that begins the season
	Next                   civil.Date // the turn that ends it
}

// givenBack reports whether the ground is somebody else's until the year's turn.
func (d Dates) givenBack(today civil.Date) bool {
	return !d.OutBy.IsZero() && !today.Before(d.OutBy)
}

// Phase is where a paddock stands in its year.
type Phase string

// The phases. Ground that is no native stays Open.
const (
	Open    Phase = "open"
	Rest    Phase = "rest"
	Dormant Phase = "dormant"
)

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

// datesOf is a paddock's season.
type datesOf struct {
	paddock *Paddock
	year    int
}

// datesOf are the dates of a paddock's season as they stand today. Ground that
// is no native, and a native without a frost date, has no cutoff but the day it
// must be given back.
func (l *look) datesOf(p *Paddock, year int) Dates {
	of := datesOf{p, year}
	d, known := l.dates[of]
	if !known {
		d = l.datesIn(p, year)
		l.dates[of] = d
	}
	return d
}

func (l *look) datesIn(p *Paddock, year int) Dates {
	d := Dates{Turn: p.Rule.Spring.In(year), Next: p.Rule.Spring.In(year + 1)}
	if !p.OutBy.IsZero() {
		d.OutBy = p.OutBy.In(year)
		if !d.OutBy.After(d.Turn) {
			d.OutBy = p.OutBy.In(year + 1)
		}
	}
	d.Cutoff, d.Cold = d.OutBy, l.early(p, frost.Frost36F, year)
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
		d.Ended, d.EndedBy, d.Doubted = l.ending(p, year)
	}
	return d
}

// UsualRest is R in days, where neither the farm nor a paddock has its own: 45 to 60 are
// common practice. The range is that of the sources: USDA-ARS 45, K-State Extension
// 42-56, 30 commonly repeated.
var UsualRest = figure.Of(45, 30, 60, figure.CommonPractice, "")

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

// How far two thresholds lie apart in days where no record says.
const (
	// gapAfter is how long after the first freeze the killing one comes: the mean
	// gap between 32 F and 28 F over 28 towns is 10.8 days (derived from NWS
	// Kansas City, 2009).
	gapAfter = 11
	// coldBefore is how long before it a frost of 36 F comes (derived from NWS
	// Louisville, 1981-2010: Oct 25 and Nov 4).
	coldBefore = 10
)

// likelyEnd is when a rest that goes on will probably end: with the freeze that
// ends it; zero without a frost date.
func (l *look) likelyEnd(p *Paddock, d Dates) civil.Date {
	switch {
	case d.Frost.IsZero():
		return civil.Date{}
	case p.Rule.EndsAt.Colder(l.Farm.Plan.Threshold):
		return l.expect(p, p.Rule.EndsAt, d.Frost, gapAfter)
	}
	return l.expect(p, p.Rule.EndsAt, d.Frost, 0)
}

// expect is the mean date of a fall's first frost at a threshold on a paddock,
// over the past falls that had none by today. Without a record, or past its
// latest fall, it is so many days after the planning frost. It is never before
// tomorrow nor, for that, after Dec 31.
func (l *look) expect(p *Paddock, th frost.Threshold, planned civil.Date, after int) civil.Date {
	year := planned.Year
	likely := planned.AddDays(after)
	if r := l.Farm.Plan.Record; r != nil {
		if mean, ok := l.meanAfter(r, th, year, frost.OffsetIn(year, l.Today)-p.FrostOffset); ok {
			likely = frost.DateIn(year, mean).AddDays(p.FrostOffset)
		}
	}
	tomorrow, last := l.Today.AddDays(1), civil.Date{Year: year, Month: time.December, Day: 31}
	if likely.Before(tomorrow) && !tomorrow.After(last) {
		return tomorrow
	}
	return likely
}

// meanFrom is what a mean first frost is kept by.
type meanFrom struct {
	record      *frost.Record
	threshold   frost.Threshold
	last        int
	before, day int
}

// A fallDay is in days after Aug 1, where it is known.
type fallDay struct {
	days  float64
	known bool
}

// meanAfter is the mean first frost over the falls before a year that had one
// later than a day, both counted from Aug 1; false where none had.
func (l *look) meanAfter(r *frost.Record, th frost.Threshold, before, day int) (float64, bool) {
	m := keep(l.Cache, meanFrom{r, th, l.Farm.Plan.Years, before, day}, func() fallDay {
		sum, n := 0, 0
		for _, f := range r.Distribution(th, frost.Pick{Before: before, Last: l.Farm.Plan.Years}).StillToCome(day) {
			if !f.None {
				sum += f.Offset
				n++
			}
		}
		return fallDay{float64(sum) / float64(max(n, 1)), n > 0}
	})
	return m.days, m.known
}

// earlyPercent is the share of falls that had a frost by its early side.
const earlyPercent = 10

// earlyFrom is what an early side is kept by.
type earlyFrom struct {
	record    *frost.Record
	threshold frost.Threshold
	before    int
}

// early is the early side of a frost on a paddock: the date by which 10 of 100
// falls had it. Without a record of its own it lies as far from the planning
// frost's as the two lie apart; zero without a frost date.
func (l *look) early(p *Paddock, th frost.Threshold, year int) civil.Date {
	if r := l.Farm.Plan.Record; r != nil {
		e := keep(l.Cache, earlyFrom{r, th, year}, func() fallDay {
			days, ok := r.Distribution(th, frost.Pick{Before: year}).Quantile(earlyPercent)
			return fallDay{days, ok}
		})
		if e.known {
			return frost.DateIn(year, e.days).AddDays(p.FrostOffset)
		}
	}
	a := l.almanac(year)
	if a.err != nil {
		return civil.Date{}
	}
	return frost.DateIn(year, a.early).AddDays(p.FrostOffset + apart(th) - apart(l.Farm.Plan.Threshold))
}

// apart is how many days after a freeze of 32 F another threshold is reached,
// where no record says.
func apart(th frost.Threshold) int {
	switch {
	case !th.Colder(frost.Frost36F):
		return -coldBefore
	case th.Colder(frost.Freeze32F):
		return gapAfter
	}
	return 0
}
