package frost

import (
	"math"
)

// Method is a way to count a day's growing degree-days from its maximum and
// minimum, all in degrees F: the mean of the two less the base, and not below
// 0.
type Method struct {
	// Base is taken off the mean.
	Base float64
	// CapMax and CapMin are what a warmer maximum or minimum is cut down to;
	// 0 is no cap.
	CapMax, CapMin float64
	// RaiseTo is what a colder maximum or minimum is raised to; 0 raises none.
	RaiseTo float64
}

var (
	// GrowthMethod counts the growth of native warm-season grass: base 46.6 F
	// (8.1 C), measured for leaf appearance of big bluestem, little bluestem,
	// indiangrass and sideoats grama (Bartholomew, Agricultural Sciences 5(11),
	// 2014); the maximum capped at the 86 F of the corn method, the minimum not
	// raised (assumption).
	GrowthMethod = Method{Base: 46.6, CapMax: 86}
)

// counter is a method in whole numbers: 1/5000 F for single temperatures, in
// which a thousandth of a degree C is 9, and 1/10000 F for a day.
type counter struct {
	base                 int64
	capMax, capMin, rise int64
}

const noCap = math.MaxInt32

func (m Method) counter() counter {
	c := counter{
		base:   int64(math.Round(m.Base * 10_000)),
		capMax: noCap, capMin: noCap, rise: -noCap,
	}
	if m.CapMax != 0 {
		c.capMax = int64(math.Round(m.CapMax * 5000))
	}
	if m.CapMin != 0 {
		c.capMin = int64(math.Round(m.CapMin * 5000))
	}
	if m.RaiseTo != 0 {
		c.rise = int64(math.Round(m.RaiseTo * 5000))
	}
	return c
}

// day is a day's degree-days in 1/10000 F; false where the minimum or the
// maximum is missing.
func (c counter) day(lowest, highest Temp) (int64, bool) {
	if lowest == NoTemp || highest == NoTemp {
		return 0, false
	}
	low := max(c.rise, min(c.capMin, int64(lowest)*9+160_000))
	high := max(c.rise, min(c.capMax, int64(highest)*9+160_000))
	return max(0, low+high-c.base), true
}

// Sum is a sum of degree-days, in F, and how many days it could not count.
type Sum struct {
	Total float64
	// Missing counts the days without a minimum or without a maximum. In a sum
	// over the record they add 0; in a Warmth they stand at the mean year's.
	Missing int
}
