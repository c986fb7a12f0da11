package frost

import (
	"github.com/golang-sql/civil"
)

// smoothDays is the width of the moving average that makes the mean year.
const smoothDays = 15

// fewestWarmDays is how many whole days a mean year needs (assumption): one
// July to October. With fewer there is none.
const fewestWarmDays = 123

// Warmth is a station's degree-days through the year: the mean year, and any
// year of its own with the gaps filled from the mean one.
//
// The mean year is a centred moving average of 15 days over all years at once:
// a day stands at the mean of every observed day that lies up to 7 days from it
// in any year, around the turn of the year too. Where no year has a day so near
// the window grows until it has one. Feb 29 takes part as a day of its own.
type Warmth struct {
	record  *Record
	method  Method
	daily   [slots]int64     // the mean year, in 1/10000 F
	through [slots + 1]int64 // its sum over the slots before, Feb 29 at 0
}

// Warmth is the station's degree-days by a method, the mean year taken from the
// years before the given one (0: from all). It is false where those years hold
// fewer than 123 days with both a minimum and a maximum.
func (r *Record) Warmth(m Method, before int) (*Warmth, bool) {
	w := &Warmth{record: r, method: m}
	var sum, count [slots]int64
	c, days := m.counter(), 0
	for i, y := range r.years {
		if y == nil || before != 0 && firstYear+i >= before {
			continue
		}
		for s, low := range y.of[lowest] {
			if n, ok := c.day(low, y.of[highest][s]); ok {
				sum[s] += n
				count[s]++
				days++
			}
		}
	}
	if days < fewestWarmDays {
		return nil, false
	}
	w.smooth(&sum, &count)
	return w, true
}

// smooth makes the mean year of sums and counts by day.
func (w *Warmth) smooth(sum, count *[slots]int64) {
	for s := range w.daily {
		var total, n int64
		for half := smoothDays / 2; n == 0; half++ {
			total, n = 0, 0
			for near := s - half; near <= s+half; near++ {
				at := (near + 2*slots) % slots
				total += sum[at]
				n += count[at]
			}
		}
		w.daily[s] = divRound(total, n)
	}
	for s := range w.daily {
		w.through[s+1] = w.through[s]
		if s != leapSlot {
			w.through[s+1] += w.daily[s]
		}
	}
}

// Mean is the mean year's degree-days from a day up to, and without, another of
// the same year, in F; 0 where to is not after from. Feb 29 adds nothing.
func (w *Warmth) Mean(from, to civil.Date) float64 {
	a, b := edges(from.Year, from, to)
	return float64(w.through[b]-w.through[a]) / 10_000
}

// Year is one year's own degree-days, the gaps filled.
func (w *Warmth) Year(year int) *YearWarmth { return w.fill(w.record, year, slots) }

// YearTo is a year's own degree-days before a day, by a record that may know more of
// it, and the mean year's from that day on: what is known of the season at hand when
// that day begins.
func (w *Warmth) YearTo(own *Record, day civil.Date) *YearWarmth {
	return w.fill(own, day.Year, edge(day.Year, day))
}

// fill puts a year together out of its own days before a slot and the mean
// year's.
func (w *Warmth) fill(r *Record, year, until int) *YearWarmth {
	yw := &YearWarmth{year: year}
	c, own := w.method.counter(), r.year(year)
	for s := range slots {
		value := w.daily[s]
		if s == leapSlot && !isLeap(year) {
			value = 0
		} else if own != nil && s < until {
			if n, ok := c.day(own.of[lowest][s], own.of[highest][s]); ok {
				value = n
			}
		}
		yw.through[s+1] = yw.through[s] + value
	}
	return yw
}

// YearWarmth is one year's degree-days, summed up once so that every Between
// costs the same few steps. It is safe for use by many at once.
type YearWarmth struct {
	year    int
	through [slots + 1]int64 // in 1/10000 F
}

// Between sums from a day up to, and without, another, in F, so that two sums with a
// common end add up. Days outside the year add nothing; 0 where to is not after from.
func (y *YearWarmth) Between(from, to civil.Date) float64 {
	a, b := edges(y.year, from, to)
	return float64(y.through[b]-y.through[a]) / 10_000
}

// edges is the slots of a half-open span, cut to the year.
func edges(year int, from, to civil.Date) (a, b int) {
	a, b = edge(year, from), edge(year, to)
	return a, max(a, b)
}

func edge(year int, d civil.Date) int {
	switch {
	case d.Year < year:
		return 0
	case d.Year > year:
		return slots
	case !d.IsValid():
		return 0
	}
	return slotOf(int(d.Month), d.Day)
}
