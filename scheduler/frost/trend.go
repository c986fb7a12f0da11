package frost

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// fewestTrendFrosts is how many frosts a trend needs (assumption); with fewer
// the interval says nothing.
const fewestTrendFrosts = 10

// trendConfidence is the confidence of a trend's interval.
const trendConfidence = 0.95

// Trend is how the first frost has moved over the years, in days a decade, a
// later frost positive, with its 95 % interval.
type Trend struct {
	PerDecade, Low, High float64
	// Frosts is the number of falls it rests on; From and To the first and last.
	Frosts, From, To int
	// Without counts the falls that had no frost and so take no part.
	Without int
}

// Trend is the Theil-Sen slope of the falls' frost dates. False with fewer than
// ten frosts, and for a date typed by hand.
func (d Distribution) Trend() (Trend, bool) {
	if d.byHand || d.came < fewestTrendFrosts {
		return Trend{}, false
	}
	falls := slices.Clone(d.falls[:d.came])
	slices.SortFunc(falls, func(a, b Fall) int { return a.Year - b.Year })
	x := make([]float64, len(falls))
	y := make([]float64, len(falls))
	for i, f := range falls {
		x[i], y[i] = float64(f.Year), float64(f.Offset)
	}
	slope, low, high := TheilSen(x, y, trendConfidence)
	return Trend{
		PerDecade: slope * 10, Low: low * 10, High: high * 10,
		Frosts: len(falls), From: falls[0].Year, To: falls[len(falls)-1].Year,
		Without: len(d.falls) - d.came,
	}, true
}

// Clear says whether the interval leaves out no change at all.
func (t Trend) Clear() bool { return t.Low > 0 || t.High < 0 }

// Way is the movement in words, without the interval.
func (t Trend) Way() string {
	switch size := math.Abs(t.PerDecade); {
	case size < 0.05:
		return "no change"
	case t.PerDecade < 0:
		return fmt.Sprintf("%.1f days a decade earlier", size)
	default:
		return fmt.Sprintf("%.1f days a decade later", size)
	}
}

// String puts the trend and its interval into words, and says where it is none
// to plan on.
func (t Trend) String() string {
	text := fmt.Sprintf("%s, 95 %% %+.1f to %+.1f", t.Way(), t.Low, t.High)
	if !t.Clear() {
		text += "; not clear, do not plan on it"
	}
	return text
}

// TheilSen is the median of the slopes of all pairs (Theil 1950, Sen 1968) with
// a two-sided interval at the given confidence from the normal approximation to
// Kendall's statistic, corrected for ties (Sen 1968, section 4; Hollander and
// Wolfe, Nonparametric Statistical Methods, section 9.3). x and y are equally
// long. Pairs of equal x are left out; NaN where no pair is left.
func TheilSen(x, y []float64, confidence float64) (slope, low, high float64) {
	var slopes []float64
	for i := range x {
		for j := range i {
			if x[i] != x[j] {
				slopes = append(slopes, (y[i]-y[j])/(x[i]-x[j]))
			}
		}
	}
	n := len(slopes)
	if n == 0 {
		return math.NaN(), math.NaN(), math.NaN()
	}
	slices.Sort(slopes)
	slope = slopes[n/2]
	if n%2 == 0 {
		slope = (slopes[n/2-1] + slopes[n/2]) / 2
	}
	z := distuv.UnitNormal.Quantile(0.5 + confidence/2)
	width := z * math.Sqrt(kendallVariance(x, y))
	// Rounding to even, so that an exact half is not pushed outward on one side
	// and inward on the other.
	first := int(math.RoundToEven((float64(n)-width)/2)) - 1
	last := int(math.RoundToEven((float64(n) + width) / 2))
	return slope, slopes[max(first, 0)], slopes[min(last, n-1)]
}

// kendallVariance is the variance of Kendall's statistic where x and y are
// unrelated, each group of ties taking its part off.
func kendallVariance(x, y []float64) float64 {
	n := len(x)
	return (pairs(n) - tied(x) - tied(y)) / 18
}

func pairs(n int) float64 { return float64(n) * float64(n-1) * float64(2*n+5) }

// tied sums over the groups of equal values.
func tied(values []float64) float64 {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	sum := 0.0
	for i := 0; i < len(sorted); {
		j := i
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		sum += pairs(j - i)
		i = j
	}
	return sum
}
