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

const trendConfidence = 0.95

// Trend is how the first frost has moved over the years, in days a decade, a
// later frost positive, with its 95 % interval.
type Trend struct {
	PerDecade, Low, High float64
}

// Trend is the Theil-Sen slope of the falls' frost dates. False with fewer than
// ten frosts, and for a date typed by hand.
func (d Distribution) Trend() (Trend, bool) {
	if d.byHand || d.came < fewestTrendFrosts {
		return Trend{}, false
	}
	var x, y []float64
	for _, f := range d.falls[:d.came] {
		x, y = append(x, float64(f.Year)), append(y, float64(f.Offset))
	}
	slope, low, high := TheilSen(x, y, trendConfidence)
	return Trend{slope * 10, low * 10, high * 10}, true
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
	// The variance of Kendall's statistic where x and y are unrelated, each group of
	// ties taking its part off.
	width := z * math.Sqrt((pairs(len(x))-tied(x)-tied(y))/18)
	// Rounding to even, so that an exact half is not pushed outward on one side
	// and inward on the other.
	first := int(math.RoundToEven((float64(n)-width)/2)) - 1
	last := int(math.RoundToEven((float64(n) + width) / 2))
	return slope, slopes[max(first, 0)], slopes[min(last, n-1)]
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
