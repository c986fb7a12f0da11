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
	mean := a.mean(from, l.today, offset)
	if !from.Before(l.today) || l.air == nil || a.warmth == nil {
		return mean
	}
	own := l.shelf.fall(l.air, a.Year, l.today)
	if own == nil {
		return mean
	}
	return grass.Heat(own.Between(from, l.today).Total, mean, l.shelf.ample(l.air, l.today))
}

// grewUnder is the S that a finished season's growth had, between two of its
// days, in the same unit as an almanac's: observed, gaps at the mean year's.
func (l *look) grewUnder(a *almanac, from, to civil.Date, offset int) float64 {
	if l.air == nil || a.warmth == nil {
		return a.mean(from, to, offset)
	}
	own := l.shelf.fall(l.air, a.Year, to)
	if own == nil {
		return a.mean(from, to, offset)
	}
	return own.Between(from, to).Total
}

// rainMM is the rain between two days; -1 where a tenth of them are missing.
func (l *look) rainMM(from, before civil.Date) float64 {
	days := before.DaysSince(from)
	if l.air == nil || days <= 0 {
		return -1
	}
	var sum frost.Rain
	missing := 0
	for d := from; d.Before(before); d = d.AddDays(1) {
		if r := l.air.Day(d).Rain; r.Known() {
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
