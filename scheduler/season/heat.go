package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// behind is S from a day of the season to today as far as a forecast may count
// it. Heat that was not measured stands at the mean year's, and measured heat
// is never counted for more than that unless rain is known to have been ample.
func (l *look) behind(from civil.Date, a *almanac, offset int) float64 {
	mean := a.mean(from, l.Today, offset)
	if !from.Before(l.Today) {
		return mean
	}
	if own := l.ownYear(a, l.Today); own != nil {
		return grass.Heat(own.Between(from, l.Today), mean, l.lateRain().Ample())
	}
	return mean
}

// grewUnder is the S that a finished season's growth had, between two of its
// days, in the same unit as an almanac's: observed, gaps at the mean year's.
func (l *look) grewUnder(a *almanac, from, to civil.Date, offset int) float64 {
	if own := l.ownYear(a, to); own != nil {
		return own.Between(from, to)
	}
	return a.mean(from, to, offset)
}

// warmthFrom is what the heat of a record is kept by; the day is zero for that of
// all years.
type warmthFrom struct {
	record *frost.Record
	before int // a year
	until  civil.Date
}

// ownYear is the year's own heat before a day, with gaps at the mean of the years
// before; nil where too little of it is measured, or the almanac counts days.
func (l *look) ownYear(a *almanac, until civil.Date) *frost.YearWarmth {
	if l.Air == nil || a.warmth == nil {
		return nil
	}
	k := warmthFrom{record: l.Air, before: a.Year}
	all := keep(l.Cache, k, func() *frost.Warmth {
		w, _ := l.Air.Warmth(frost.GrowthMethod, a.Year)
		return w
	})
	if all == nil {
		return nil
	}
	k.until = until
	return keep(l.Cache, k, func() *frost.YearWarmth { return all.YearTo(until) })
}

// rainFrom is what is known of the rain is kept by.
type rainFrom struct {
	record *frost.Record
	day    civil.Date
}

// lateRain is what is known of the last 60 days' rain.
func (l *look) lateRain() frost.Rainfall {
	return keep(l.Cache, rainFrom{l.Air, l.Today}, func() (none frost.Rainfall) {
		if l.Air == nil {
			return none
		}
		return l.Air.Rainfall(l.Today, frost.RainDays)
	})
}

// rainMM is the rain between two days; -1 where a tenth of them are missing.
func (l *look) rainMM(from, before civil.Date) float64 {
	days := before.DaysSince(from)
	if l.Air == nil || days <= 0 {
		return -1
	}
	var sum frost.Rain
	missing := 0
	for d := from; d.Before(before); d = d.AddDays(1) {
		if r := l.Air.Day(d).Rain; r.Known() {
			sum += r
		} else {
			missing++
		}
	}
	if missing*10 >= days {
		return -1
	}
	return sum.MM()
}
