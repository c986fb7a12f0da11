package frost

import "math"

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

// GrowthMethod counts the growth of native warm-season grass: base 46.6 F
// (8.1 C), measured for leaf appearance of big bluestem, little bluestem,
// indiangrass and sideoats grama (Bartholomew, Agricultural Sciences 5(11),
// 2014); the maximum capped at the 86 F of the corn method, the minimum not
// raised (assumption).
var GrowthMethod = Method{Base: 46.6, CapMax: 86}

// counter is a method in whole numbers: 1/5000 F for single temperatures, in
// which a thousandth of a degree C is 9, and 1/10000 F for a day.
type counter struct {
	base                 int64
	capMax, capMin, rise int64
}

const noCap = math.MaxInt32

func (m Method) counter() counter {
	bound := func(f float64, none int64) int64 {
		if f == 0 {
			return none
		}
		return int64(math.Round(f * 5000))
	}
	return counter{
		base:   int64(math.Round(m.Base * 10_000)),
		capMax: bound(m.CapMax, noCap), capMin: bound(m.CapMin, noCap), rise: bound(m.RaiseTo, -noCap),
	}
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
