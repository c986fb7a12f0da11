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
var commonRest = int(UsualRest.Value)

// An almanac is what one fall is planned with: frost dates and heat, from the
// seasons finished before it. Without a record heat is counted in days. It is
// safe for use by many at once.
type almanac struct {
	Year    int
	Spread  frost.Distribution
	planned float64 // F as days after Aug 1
	average float64 // the average first frost, days after Aug 1; planned where unknown
	early   float64 // the 10 % and 90 % dates, days after Aug 1; planned where unknown
	late    float64
	err     error
	falls   []frost.Fall
	warmth  *frost.Warmth // nil without maxima on record
	years   map[int]*frost.YearWarmth

	mu   sync.Mutex
	sums map[sumsOf][]float64
}

// almanacOf is what an almanac is kept by.
type almanacOf struct {
	plan Plan
	year int
}

func newAlmanac(plan Plan, year int) *almanac {
	a := &almanac{Year: year, years: map[int]*frost.YearWarmth{}, sums: map[sumsOf][]float64{}}
	switch {
	case plan.Hand != nil:
		a.Spread, a.err = frost.HandDistribution(time.Month(plan.Hand.Date.Month), plan.Hand.Date.Day, plan.Hand.Spread)
	case plan.Record != nil:
		a.Spread = plan.Record.Distribution(plan.Threshold, frost.Pick{Before: year, Last: plan.Years})
		a.warmth, _ = plan.Record.Warmth(frost.GrowthMethod, year)
	default:
		a.err = errors.New("no frost date and no station to count back from; give frost: {date: 10-18} or frost: {station: FILE}")
	}
	if a.err != nil {
		return a
	}
	a.planned, a.err = a.Spread.PlanOffset(frost.Level(plan.Level))
	known := func(x float64, ok bool) float64 {
		if ok {
			return x
		}
		return a.planned
	}
	a.average, a.early, a.late = known(a.Spread.Mean()), known(a.Spread.Quantile(10)), known(a.Spread.Quantile(90))
	a.falls = a.Spread.Falls()
	if a.warmth != nil {
		for _, f := range a.falls {
			a.years[f.Year] = a.warmth.Year(f.Year)
		}
	}
	return a
}

// frost is F, the planning frost of the season; the error says why there is
// none.
func (a *almanac) frost() (civil.Date, error) {
	if a.err != nil {
		return civil.Date{}, a.err
	}
	return frost.DateIn(a.Year, a.planned), nil
}

// averageFrost is the average first frost of the season's station.
func (a *almanac) averageFrost() civil.Date { return frost.DateIn(a.Year, a.average) }

// restHeat is S over the common rest before the average frost of a paddock.
func (a *almanac) restHeat(offset int) float64 {
	f := a.averageFrost().AddDays(offset)
	return a.mean(f.AddDays(-commonRest), f, offset)
}

// mean is S of the mean year from a day up to, and without, another of the same
// year, whichever year that is. Without a station the days taper to 0 at the
// paddock's average frost.
func (a *almanac) mean(from, to civil.Date, offset int) float64 {
	if a.warmth != nil {
		return a.warmth.Mean(from, to)
	}
	f := frost.DateIn(from.Year, a.average).AddDays(offset)
	return grass.DaysTaper(f.DaysSince(from), f.DaysSince(to))
}

// sumsOf is what sums over the falls are kept by.
type sumsOf struct {
	day, offset int
	every       bool
}

// mostSums is how many of them are kept: the days of a season, for a few frost
// pockets.
const mostSums = 512

// ahead is S from a day of the season to the frost of each past fall that had
// none yet on that day: its own heat and its own frost together. The result
// must not be changed.
func (a *almanac) ahead(from civil.Date, offset int) []float64 {
	return a.over(sumsOf{frost.OffsetIn(a.Year, from), offset, false})
}

// every is the same over all past falls, 0 for those whose frost had come by
// that day: what a rule is judged by before the season.
func (a *almanac) every(from civil.Date, offset int) []float64 {
	return a.over(sumsOf{frost.OffsetIn(a.Year, from), offset, true})
}

func (a *almanac) over(k sumsOf) []float64 {
	a.mu.Lock()
	defer a.mu.Unlock()
	if all, known := a.sums[k]; known {
		return all
	}
	var all []float64
	for _, f := range a.falls {
		end := f.Offset + k.offset
		if f.None {
			end = frost.LastOffset
		}
		switch {
		case f.None || end > k.day:
			all = append(all, a.fallHeat(f.Year, k.day, end, k.offset))
		case k.every:
			all = append(all, 0)
		}
	}
	if len(a.sums) >= mostSums {
		clear(a.sums)
	}
	a.sums[k] = all
	return all
}

// fallHeat is one past fall's S between two days, both counted from Aug 1.
func (a *almanac) fallHeat(year, day, end, offset int) float64 {
	own := a.years[year]
	if own == nil {
		f := frost.OffsetIn(a.Year, a.averageFrost()) + offset
		return grass.DaysTaper(f-day, f-end)
	}
	aug1 := civil.Date{Year: year, Month: time.August, Day: 1}
	return own.Between(aug1.AddDays(day), aug1.AddDays(end))
}
