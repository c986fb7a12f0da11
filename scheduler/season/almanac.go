package season

import (
	"errors"
	"sync"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// commonRest is the rest of the common-practice pair that growth starts from,
// in days: never the farm's edited rule, else following the advice would change
// the advice.
const commonRest = 45

// An Almanac is what one fall is planned with: frost dates and heat, from the
// seasons finished before it. Without a record heat is counted in days.
type Almanac struct {
	Year    int
	Spread  frost.Distribution
	planned float64 // F as days after Aug 1
	average float64 // the average first frost, days after Aug 1; planned where unknown
	err     error
	warmth  *frost.Warmth // nil without maxima on record
	years   map[int]*frost.YearWarmth
	early   float64 // the 10 % and 90 % dates, days after Aug 1; planned where unknown
	late    float64
}

// A Shelf keeps the almanacs of a farm, so that a pass each minute need not
// read thirty years again. It is safe for use by many at once.
type Shelf struct {
	mu    sync.Mutex
	plan  Plan
	by    map[int]*Almanac
	means map[meanOf]offset
}

type meanOf struct {
	record    *frost.Record
	threshold frost.Threshold
}

type offset struct {
	days float64
	ok   bool
}

// mean is a record's mean first frost at a threshold, in days after Aug 1.
func (s *Shelf) mean(r *frost.Record, th frost.Threshold) (float64, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	k := meanOf{r, th}
	m, known := s.means[k]
	if !known {
		m.days, m.ok = r.Distribution(th, frost.Pick{}).Mean()
		if s.means == nil || len(s.means) > 16 {
			s.means = map[meanOf]offset{} // another record: the old one is not asked for again
		}
		s.means[k] = m
	}
	return m.days, m.ok
}

// Almanac is the one of a season. It is made once for a plan.
func (s *Shelf) Almanac(plan Plan, year int) *Almanac {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.by == nil || s.plan != plan {
		s.plan, s.by = plan, map[int]*Almanac{}
	}
	a := s.by[year]
	if a == nil {
		a = newAlmanac(plan, year)
		s.by[year] = a
	}
	return a
}

func newAlmanac(plan Plan, year int) *Almanac {
	a := &Almanac{Year: year, years: map[int]*frost.YearWarmth{}}
	switch {
	case plan.Hand != nil:
		a.Spread, a.err = frost.HandDistribution(time.Month(plan.Hand.Date.Month), plan.Hand.Date.Day, plan.Hand.Spread)
	case plan.Record != nil:
		a.Spread = plan.Record.Distribution(plan.Threshold, frost.Pick{Before: year})
		a.warmth, _ = plan.Record.Warmth(frost.GrowthMethod, year)
	default:
		a.err = errors.New("no frost date and no station to count back from; give frost: {date: 10-18} or frost: {station: FILE}")
	}
	if a.err != nil {
		return a
	}
	a.planned, a.err = a.Spread.PlanOffset(frost.Level(plan.Level))
	a.average = a.planned
	if mean, ok := a.Spread.Mean(); ok {
		a.average = mean
	}
	a.early, a.late = a.planned, a.planned
	if x, ok := a.Spread.Quantile(10); ok {
		a.early = x
	}
	if x, ok := a.Spread.Quantile(90); ok {
		a.late = x
	}
	if a.warmth != nil {
		for _, f := range a.Spread.Falls() {
			a.years[f.Year] = a.warmth.Year(f.Year)
		}
	}
	return a
}

// Frost is F, the planning frost of the season; the error says why there is
// none.
func (a *Almanac) Frost() (civil.Date, error) {
	if a.err != nil {
		return civil.Date{}, a.err
	}
	return frost.DateIn(a.Year, a.planned), nil
}

// Average is the average first frost of the season's station.
func (a *Almanac) Average() civil.Date { return frost.DateIn(a.Year, a.average) }

// Range is the dates by which the first frost came in 10 and in 90 of 100 falls.
func (a *Almanac) Range() (early, late civil.Date) {
	return frost.DateIn(a.Year, a.early), frost.DateIn(a.Year, a.late)
}

// restHeat is S over the common rest before the average frost of a paddock.
func (a *Almanac) restHeat(offset int) float64 {
	if a.warmth == nil {
		return grass.DaysTaper(commonRest, 0)
	}
	f := a.Average().AddDays(offset)
	return a.warmth.Mean(f.AddDays(-commonRest), f)
}

// mean is S of the mean year between two days of the season. Without a station
// the days taper towards the average frost.
func (a *Almanac) mean(from, to civil.Date, offset int) float64 {
	if a.warmth == nil {
		f := a.Average().AddDays(offset)
		return grass.DaysTaper(f.DaysSince(from), f.DaysSince(to))
	}
	return a.warmth.Mean(from, to)
}

// ahead is S from a day of the season to the frost of each past fall that had
// none yet on that day: its own heat and its own frost together.
func (a *Almanac) ahead(from civil.Date, offset int) []float64 {
	day := frost.OffsetIn(a.Year, from)
	var all []float64
	for _, f := range a.Spread.Shift(offset).StillToCome(day) {
		all = append(all, a.fallHeat(f, day))
	}
	return all
}

// fallHeat is one past fall's S from a day after Aug 1 to its own frost, or to
// Dec 31 where none came.
func (a *Almanac) fallHeat(f frost.Fall, day int) float64 {
	end := f.Offset
	if f.None {
		end = lastDay
	}
	own := a.years[f.Year]
	if own == nil {
		return grass.DaysTaper(end-day, 0)
	}
	aug1 := civil.Date{Year: f.Year, Month: time.August, Day: 1}
	return own.Between(aug1.AddDays(day), aug1.AddDays(end)).Total
}

// lastDay is Dec 31 as days after Aug 1.
const lastDay = 152
