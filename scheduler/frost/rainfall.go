package frost

import (
	"slices"

	"github.com/golang-sql/civil"
)

// RainDays is the window over which the station's rain is judged.
const RainDays = 60

// fewestRainYears is how many other years a median of rain needs (assumption,
// as many as an average frost date needs frosts).
const fewestRainYears = 5

// Rainfall is the rain of the last days and what is usual for them.
type Rainfall struct {
	// MM is the sum over the window, in mm, over the days that have a value.
	MM float64
	// Known says whether fewer than 10 % of the window's days are missing
	// (assumption, the rule for a season's minima).
	Known bool
	// Median is the median of the same window over the station's earlier years,
	// in mm, those with fewer than 10 % missing days. MedianKnown needs five
	// (assumption).
	Median      float64
	MedianKnown bool
	Years       int
	// Fifth is what one in five of those years had less than, in mm: Hyndman & Fan's
	// quantile 7, The American Statistician 50:361, 1996.
	Fifth float64
}

// Ample says whether the window is known to have been no drier than usual. An
// unknown window is not ample.
func (f Rainfall) Ample() bool { return f.Known && f.MedianKnown && f.MM >= f.Median }

// Scant says whether the window is known to have had less than half of the usual.
func (f Rainfall) Scant() bool { return f.Known && f.MedianKnown && f.MM < f.Median/2 }

// Rainfall is the rain of the given number of days before today, today left
// out, against the same days of the years before. Days is from 1 to 365.
func (r *Record) Rainfall(today civil.Date, days int) Rainfall {
	days = max(1, min(days, 365))
	sum, missing := r.rainBefore(today, days)
	f := Rainfall{MM: sum.MM(), Known: missing*10 < days}
	var others []float64
	for year := firstYear; year < today.Year; year++ {
		if r.year(year) == nil && r.year(year-1) == nil {
			continue
		}
		day := today
		day.Year = year
		if !day.IsValid() {
			day.Day = 28
		}
		if sum, missing := r.rainBefore(day, days); missing*10 < days {
			others = append(others, sum.MM())
		}
	}
	f.Years = len(others)
	if f.Years >= fewestRainYears {
		slices.Sort(others)
		f.Median, f.MedianKnown, f.Fifth = oneIn(2, others), true, oneIn(5, others)
	}
	return f
}

// oneIn is what one in so many of some numbers in their order is less than.
func oneIn(of int, sorted []float64) float64 {
	at, part := (len(sorted)-1)/of, float64((len(sorted)-1)%of)/float64(of)
	if part == 0 {
		return sorted[at]
	}
	return sorted[at] + part*(sorted[at+1]-sorted[at])
}

// RainKnown is the largest number of days before today, from least to most, of which
// the record knows the rain; least where there is none.
func (r *Record) RainKnown(today civil.Date, least, most int) int {
	days, missing := least, 0
	for n := 1; n <= most; n++ {
		if !r.Day(today.AddDays(-n)).Rain.Known() {
			missing++
		}
		if n >= least && missing*10 < n {
			days = n
		}
	}
	return days
}

// rainBefore sums the days before one.
func (r *Record) rainBefore(day civil.Date, days int) (sum Rain, missing int) {
	year, slot := day.Year, slotOf(int(day.Month), day.Day)
	for y := r.year(year); days > 0; days-- {
		if slot--; slot == leapSlot && !isLeap(year) {
			slot--
		}
		if slot < 0 {
			year, slot = year-1, slots-1
			y = r.year(year)
		}
		if y == nil || !Rain(y.of[rain][slot]).Known() {
			missing++
			continue
		}
		sum += Rain(y.of[rain][slot])
	}
	return sum, missing
}
