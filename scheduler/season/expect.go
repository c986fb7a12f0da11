package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
)

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

// firstCold is the day from which hazard plants must be expected to hold a
// paddock; zero where nothing says.
func (l *look) firstCold(p *Paddock, year int) civil.Date {
	planned, err := l.almanac(year).frost()
	if err != nil {
		return civil.Date{}
	}
	return l.expect(p, frost.Frost36F, planned.AddDays(p.FrostOffset), -coldBefore)
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
	before, day int
}

type meanDay struct {
	days  float64
	known bool
}

// meanAfter is the mean first frost over the falls before a year that had one
// later than a day, both counted from Aug 1; false where none had.
func (l *look) meanAfter(r *frost.Record, th frost.Threshold, before, day int) (float64, bool) {
	m := keep(l.Cache, meanFrom{r, th, before, day}, func() meanDay {
		sum, n := 0, 0
		for _, f := range r.Distribution(th, frost.Pick{Before: before}).StillToCome(day) {
			if !f.None {
				sum += f.Offset
				n++
			}
		}
		return meanDay{float64(sum) / float64(max(n, 1)), n > 0}
	})
	return m.days, m.known
}
