package grass

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// MaxHeight is the greatest leaf height believed, inches.
const MaxHeight = 120.0

// EnoughPlants is how many plants a reading needs before it may stand for more
// than today. Walks of 20-30 plants are advised (Lewandowski, Ohio State
// Extension, 2009; Univ. of Georgia B1567 asks 15-20).
const EnoughPlants = 10

// MostToAsk is the most further plants anybody is asked to read.
const MostToAsk = 20

// Believable reports whether a leaf height in inches can be one: above 0, at
// most [MaxHeight], and a number at all.
func Believable(h float64) bool { return h > 0 && h <= MaxHeight }

// Sample is one reading: the leaf heights of one or more plants, inches.
type Sample struct {
	Heights []float64
	Mean    float64
	SD      float64 // of the plants, n-1 form; 0 for a single plant
}

// NewSample makes a reading of the heights, inches. No heights, or one that
// cannot be a leaf height, is an error that names it.
func NewSample(heights ...float64) (Sample, error) {
	if len(heights) == 0 {
		return Sample{}, fmt.Errorf("no heights in the reading: give at least one plant, in inches")
	}
	for _, h := range heights {
		if !Believable(h) {
			return Sample{}, fmt.Errorf("height %g in cannot be a leaf height: it must be above 0 and at most %g", h, MaxHeight)
		}
	}
	s := Sample{Heights: append([]float64(nil), heights...)}
	if len(heights) == 1 {
		s.Mean = heights[0]
		return s, nil
	}
	s.Mean, s.SD = stat.MeanStdDev(s.Heights, nil)
	return s, nil
}

// Plants is how many plants were read.
func (s Sample) Plants() int { return len(s.Heights) }

// Interval is the 95 % t interval of the mean, mean -+ t(n-1) sd / sqrt(n). A
// single plant has none. Where all plants are equal it is that one height.
func (s Sample) Interval() (low, high float64, ok bool) {
	n := len(s.Heights)
	if n < 2 {
		return 0, 0, false
	}
	half := tTwoSided(n-1) * s.SD / math.Sqrt(float64(n))
	return s.Mean - half, s.Mean + half, true
}

// Settles reports whether the reading decides on which side of a height the
// paddock is: its interval does not straddle the height. A single plant never
// settles anything.
func (s Sample) Settles(height float64) bool {
	low, high, ok := s.Interval()
	return ok && !(low < height && height < high)
}

// TodayOnly reports whether an answer from this reading holds for today only:
// a single plant always, and fewer than [EnoughPlants] that do not settle the
// deciding height.
func (s Sample) TodayOnly(height float64) bool {
	return s.Plants() == 1 || s.Plants() < EnoughPlants && !s.Settles(height)
}

// MoreToSettle is how many plants are still to read until the reading would
// settle the height, should mean and spread stay as they are: the least m with
// t(n+m-1) sd / sqrt(n+m) <= |mean - height|, at most [MostToAsk]. 0 where it is
// settled. A single plant shows no spread, so it is asked up to [EnoughPlants].
func (s Sample) MoreToSettle(height float64) int {
	n := s.Plants()
	if n < 2 {
		return EnoughPlants - n
	}
	if s.Settles(height) {
		return 0
	}
	for m := 1; m < MostToAsk; m++ {
		if half := tTwoSided(n+m-1) * s.SD / math.Sqrt(float64(n+m)); half <= math.Abs(s.Mean-height) {
			return m
		}
	}
	return MostToAsk
}

// Patchy reports whether more than a quarter of the plants are under the lowest
// stubble that spares the growing point. One plant is no patch.
func (s Sample) Patchy(lowest float64) bool {
	under := 0
	for _, h := range s.Heights {
		if h < lowest {
			under++
		}
	}
	return len(s.Heights) > 1 && 4*under > len(s.Heights)
}

// t95 holds the two-sided 95 % t values for 1 to 20 degrees of freedom.
var t95 = [...]float64{12.7062047, 4.3026527, 3.1824463, 2.7764451, 2.5705818, 2.4469119, 2.3646243, 2.3060041, 2.2621572, 2.2281389,
	2.2009852, 2.1788128, 2.1603687, 2.1447867, 2.1314495, 2.1199053, 2.1098156, 2.1009220, 2.0930241, 2.0859634}

// tTwoSided is the two-sided 95 % t value with df degrees of freedom, 1 or more,
// right to 3e-7: tabulated, and beyond the table the expansion 26.7.5 of
// Abramowitz and Stegun (1964).
func tTwoSided(df int) float64 {
	if df <= len(t95) {
		return t95[df-1]
	}
	const z = 1.9599639845 // the 97.5 % point of the normal
	const z2 = z * z
	n := 1 / float64(df)
	return z + n*z*((z2+1)/4+
		n*((5*z2+16)*z2+3)/96+
		n*n*(((3*z2+19)*z2+17)*z2-15)/384+
		n*n*n*((((79*z2+776)*z2+1482)*z2-1920)*z2-945)/92160)
}
