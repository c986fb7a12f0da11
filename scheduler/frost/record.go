package frost

import (
	"fmt"
	"slices"

	"github.com/golang-sql/civil"
)

// Rain is a day's precipitation in thousandths of a millimetre. [NoRain]
// stands for a missing value.
type Rain int32

// NoRain is the missing precipitation.
const NoRain = Rain(NoTemp)

// mostRain is the most taken for a real day's rain. The record of the world is
// 1,825 mm in 24 hours (Foc-Foc, 1966; WMO World Weather and Climate Extremes
// Archive).
const mostRain Rain = 2_000_000

// Known says whether r is a value at all.
func (r Rain) Known() bool { return r >= 0 }

// MM is r in millimetres; ask Known first.
func (r Rain) MM() float64 { return float64(r) / 1000 }

// Day is what a record holds of one day: each value may be missing. The zero
// value is not an empty day; start from NoDay.
type Day struct {
	Date civil.Date
	Min  Temp
	Max  Temp
	Rain Rain
}

// NoDay is a day of which nothing is known.
func NoDay(d civil.Date) Day { return Day{Date: d, Min: NoTemp, Max: NoTemp, Rain: NoRain} }

// Record is one station's daily values, by calendar year. Its size depends on
// how many years it spans and not on how long the file was. A Record is safe
// for use by many at once, since nothing changes it after it was read.
type Record struct {
	// Name is the file's name, for messages.
	Name string
	// Station is the station's id as the file has it, empty where it has none.
	Station string
	// Format is what the file was read as.
	Format Format
	// Units is what unit the temperatures were taken to be in and why, where only
	// the values told it; empty where the file or its reader says it.
	Units string
	// Problems is what was wrong in the file and was left out.
	Problems Problems

	years [lastYear - firstYear + 1]*yearDays
}

// yearDays holds one calendar year by slot.
type yearDays struct {
	of   [elements][slots]Temp
	seen [slots]byte // which values had a row already, a bit each
}

// emptyYear is a year of which nothing is known.
var emptyYear = func() (y yearDays) {
	for k := range y.of {
		for slot := range y.of[k] {
			y.of[k][slot] = NoTemp
		}
	}
	return y
}()

// year is the year's days, nil where the record has none.
func (r *Record) year(y int) *yearDays {
	if y < firstYear || y > lastYear {
		return nil
	}
	return r.years[y-firstYear]
}

// openYear is the year's days, made where the record had none. The year is in
// range.
func (r *Record) openYear(y int) *yearDays {
	p := &r.years[y-firstYear]
	if *p == nil {
		days := emptyYear // much faster than filling it day by day
		*p = &days
	}
	return *p
}

// Day is what the record holds of a date, with every value missing where it
// holds nothing.
func (r *Record) Day(d civil.Date) Day {
	y := r.year(d.Year)
	if y == nil || !validDay(d.Year, int(d.Month), d.Day) {
		return NoDay(d)
	}
	s := slotOf(int(d.Month), d.Day)
	return Day{d, y.of[lowest][s], y.of[highest][s], Rain(y.of[rain][s])}
}

// With is the record together with later observations: each value fills a gap
// of the record and never replaces what the record has. The receiver stays as
// it was, and is the answer where no gap is filled. Values beyond any on earth and
// dates outside 1700-2199 are passed over.
func (r *Record) With(days ...Day) *Record {
	if !slices.ContainsFunc(days, r.lacks) {
		return r
	}
	merged := *r
	own := map[int]bool{}
	for _, d := range days {
		if !merged.lacks(d) {
			continue
		}
		if year := d.Date.Year; !own[year] {
			own[year] = true
			merged.copyYear(r, year)
		}
		merged.fill(d)
	}
	return &merged
}

// SameBefore reports whether a record that this one was made of, or that was made of it,
// says the same of the years before one.
func (r *Record) SameBefore(o *Record, year int) bool {
	n := max(0, min(year-firstYear, len(r.years)))
	return slices.Equal(r.years[:n], o.years[:n])
}

// lacks reports whether a day has anything that fills a gap.
func (r *Record) lacks(d Day) bool {
	had := r.Day(d.Date)
	return validDay(d.Date.Year, int(d.Date.Month), d.Date.Day) && (had.Min == NoTemp && lowest.can(d.Min) ||
		had.Max == NoTemp && highest.can(d.Max) || Temp(had.Rain) == NoTemp && rain.can(Temp(d.Rain)))
}

// copyYear gives the record its own copy of another's year.
func (r *Record) copyYear(of *Record, year int) {
	i := year - firstYear
	days := emptyYear
	if old := of.years[i]; old != nil {
		days = *old
	}
	r.years[i] = &days
}

func (r *Record) fill(d Day) {
	y, slot := r.year(d.Date.Year), slotOf(int(d.Date.Month), d.Date.Day)
	for k, v := range [elements]Temp{d.Min, d.Max, Temp(d.Rain)} {
		if to := &y.of[k][slot]; *to == NoTemp && element(k).can(v) {
			*to = v
		}
	}
}

// First is the first date with a usable minimum; the zero date where there is
// none.
func (r *Record) First() civil.Date {
	for i, y := range r.years {
		if y == nil {
			continue
		}
		if s := slices.IndexFunc(y.of[lowest][:], Temp.Known); s >= 0 {
			return dateAt(firstYear+i, s)
		}
	}
	return civil.Date{}
}

// Last is the last date with a usable minimum; the zero date where there is
// none.
func (r *Record) Last() civil.Date {
	for i := len(r.years) - 1; i >= 0; i-- {
		y := r.years[i]
		if y == nil {
			continue
		}
		for s := slots - 1; s >= 0; s-- {
			if y.of[lowest][s] != NoTemp {
				return dateAt(firstYear+i, s)
			}
		}
	}
	return civil.Date{}
}

// WorseThan says in what a record that was fetched again is worse than the one
// from before; empty where it is not. A few days that NOAA took back since are no
// reason, a fall that counted is.
func (r *Record) WorseThan(old *Record, th Threshold) string {
	switch counted := func(r *Record) int { return r.Distribution(th, Pick{}).Counted() }; {
	case r.Station != old.Station:
		return fmt.Sprintf("it is of station %q, not %q", r.Station, old.Station)
	case r.Last().Before(old.Last()):
		return fmt.Sprintf("it ends on %s, not on %s", r.Last(), old.Last())
	case r.First().After(old.First()):
		return fmt.Sprintf("it begins on %s, not on %s", r.First(), old.First())
	case counted(r) < counted(old):
		return fmt.Sprintf("%d falls count, not %d", counted(r), counted(old))
	}
	return ""
}

// Before is the record as it stood when a day began: that day and all later
// ones are left out.
func (r *Record) Before(day civil.Date) *Record {
	until := *r
	for i := range until.years {
		switch year := firstYear + i; {
		case year > day.Year:
			until.years[i] = nil
		case year == day.Year && r.years[i] != nil:
			until.copyYear(r, year)
			y, from := until.years[i], slotOf(int(day.Month), day.Day)
			for k := range y.of {
				copy(y.of[k][from:], emptyYear.of[k][from:])
			}
			clear(y.seen[from:])
		}
	}
	return &until
}
