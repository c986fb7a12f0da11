package frost

import "github.com/golang-sql/civil"

// Published ways to count degree-days that no farm uses: the sums of one's own
// are checked against what others found by these.
var (
	// SimpleMethod is the plain average over base 50 F (Iowa State University,
	// Agron 541).
	SimpleMethod = Method{Base: 50}
	// CappedMethod is the plain average with both temperatures capped at 86 F.
	CappedMethod = Method{Base: 50, CapMax: 86, CapMin: 86}
	// CornMethod is the 86/50 method (Iowa State University, Agron 541; Karhoff,
	// Ohio State University, 2023): both capped at 86 F and raised to 50 F.
	CornMethod = Method{Base: 50, CapMax: 86, CapMin: 86, RaiseTo: 50}
)

// Day is the degree-days of one day, in F; false where the minimum or the
// maximum is missing.
func (m Method) Day(lowest, highest Temp) (float64, bool) {
	n, ok := m.counter().day(lowest, highest)
	return float64(n) / 10_000, ok
}

// Sum is a sum of degree-days, in F, and how many days it could not count.
type Sum struct {
	Total   float64
	Missing int
}

// DegreeDays sums the days from..to, both included. A day without a minimum or
// without a maximum adds 0 and is counted as missing.
func (r *Record) DegreeDays(m Method, from, to civil.Date) (sum Sum) {
	c, total := m.counter(), int64(0)
	for d := from; d.IsValid() && !d.After(to); d = d.AddDays(1) {
		if n, ok := c.day(r.Day(d).Min, r.Day(d).Max); ok {
			total += n
			continue
		}
		sum.Missing++
	}
	sum.Total = float64(total) / 10_000
	return sum
}

// Minima counts the days with a usable minimum.
func (r *Record) Minima() int {
	n := 0
	for _, y := range r.years {
		if y == nil {
			continue
		}
		for _, t := range y.of[lowest] {
			if t != NoTemp {
				n++
			}
		}
	}
	return n
}

// FromF is the temperature of f degrees F, as a file in F is read.
func FromF(f float64) Temp {
	if !(f > -1000 && f < 1000) {
		return NoTemp
	}
	if f < 0 {
		return Fahrenheit.temp(int64(f*10_000 - 0.5))
	}
	return Fahrenheit.temp(int64(f*10_000 + 0.5))
}

// FrostsOnly is the distribution over the falls that had a frost.
func (d Distribution) FrostsOnly() Distribution {
	only := d
	only.falls = d.falls[:d.came]
	return only
}

// Limit is the warmest minimum that still counts.
func (th Threshold) Limit() Temp { return th.limit }

// MeanDay is the mean year's degree-days on one day of the year, in F.
func (w *Warmth) MeanDay(d civil.Date) float64 {
	return float64(w.daily[slotOf(int(d.Month), d.Day)]) / 10_000
}
