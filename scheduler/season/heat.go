package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/dry"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/season/shut"
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
	k := warmthFrom{record: l.airBefore(a.Year), before: a.Year}
	all := keep(l.Cache, k, func() *frost.Warmth {
		w, _ := k.record.Warmth(frost.GrowthMethod, a.Year)
		return w
	})
	if all == nil {
		return nil
	}
	k.record, k.until = l.Air, until
	return keep(l.Cache, k, func() *frost.YearWarmth { return all.YearTo(l.Air, until) })
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

// How a drought ends by rain: so much within so many days. Ours.
const (
	breakingMM   = 38.1 // 1.5 in
	breakingDays = 14
)

// drought is whether a drought lasts on a paddock, by the newest word of this
// season that there is one, and the day on which it ended; zero while it lasts,
// or where there was none. It begins with the manager's word and ends with it, or
// once enough rain was told or recorded.
func (l *look) drought(p *Paddock, turn civil.Date) (call *diary.Fact, ended civil.Date) {
	if call = l.newest(p, diary.Dry, turn); call == nil {
		return nil, civil.Date{}
	}
	if over := l.newest(p, diary.DryOver, call.Day); over != nil && shut.Later(over, call) {
		return call, over.Day // also where rain on record ended it before: the poison is waited out from the later day
	}
	return call, l.rained(p, call.Day)
}

// newest is the latest fact of a rare kind that concerns a paddock, from a day on.
func (l *look) newest(p *Paddock, kind diary.Kind, from civil.Date) (newest *diary.Fact) {
	for _, f := range l.Book.Every(kind) {
		if f.Concerns(p.ID) && !f.Day.Before(from) && !f.Day.After(l.Today) {
			newest = f
		}
	}
	return newest
}

// rained is the first day from a day on by which enough rain had fallen to end a
// drought. Of what was told of a day and what was recorded the most counts: it is the
// same rain.
func (l *look) rained(p *Paddock, from civil.Date) civil.Date {
	told := dry.Told(l.Book.Every(diary.Rain), p.ID)
	var fell [breakingDays]float64
	sum := 0.0
	for day, i := from, 0; !day.After(l.Today); day, i = day.AddDays(1), (i+1)%breakingDays {
		mm := told[day]
		if l.Air != nil {
			if r := l.Air.Day(day).Rain; r.Known() {
				mm = max(mm, r.MM())
			}
		}
		sum += mm - fell[i]
		fell[i] = mm
		if sum > breakingMM-1e-6 {
			return day
		}
	}
	return civil.Date{}
}
