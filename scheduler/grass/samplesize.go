package grass

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// SizeZ is the number of readings after which the mean is known to within
// margin at a two-sided confidence such as 0.95, the spread being known:
// (z sd / margin)^2 (Penn State STAT 200, lesson 8.2.2.3). It returns the exact
// value; round up. 0 where an input is not a positive number or the confidence
// is not between 0 and 1.
func SizeZ(sd, margin, confidence float64) float64 {
	if !positive(sd, margin) || !inside(confidence) {
		return 0
	}
	return sizeFrom(distuv.UnitNormal.Quantile((1+confidence)/2), sd, margin)
}

// SizeT is the same with the two-sided t value of a pilot sample of n readings,
// n-1 degrees of freedom (Univ. of Missouri NR3110). 0 as for SizeZ, and for a
// pilot of fewer than two.
func SizeT(sd, margin, confidence float64, n int) float64 {
	if !positive(sd, margin) || !inside(confidence) || n < 2 {
		return 0
	}
	return sizeFrom(tTwoSided(confidence, n-1), sd, margin)
}

// SizeFor is the least whole number of readings n for which t(n-1) sd / sqrt(n)
// is at most margin, that is SizeT solved for the sample itself. 0 as for SizeZ;
// at most 100,000.
func SizeFor(sd, margin, confidence float64) int {
	if !positive(sd, margin) || !inside(confidence) {
		return 0
	}
	const most = 100_000
	lo, hi := 2, most
	for lo < hi {
		mid := (lo + hi) / 2
		if tTwoSided(confidence, mid-1)*sd <= margin*math.Sqrt(float64(mid)) {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return lo
}

// Adequate is the least sample that puts the mean within share of itself (0.1
// for 10 %) at a one-tailed confidence such as 0.9, from a sample of n readings:
// t^2 variance / (share mean)^2 with n-1 degrees of freedom. The sample is
// adequate where the result is at most n (Colorado DRMS permit file, 'Sample
// Adequacy'). 0 as for SizeT.
func Adequate(mean, variance, share, confidence float64, n int) float64 {
	if !positive(mean, variance) || !positive(share, 1) || !inside(confidence) || n < 2 {
		return 0
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 1)}.Quantile(confidence)
	return sizeFrom(t, math.Sqrt(variance), share*mean)
}

// CorrectSize raises a size computed by SizeZ for the fact that the spread is
// only estimated from the sample itself: the least m such that, with 90 %
// assurance, the t interval of m readings is no wider than asked (Kupper &
// Hafner, The American Statistician 43:101, 1989; the rule from memory).
//
// The half-width asked is d = z sigma / sqrt(n). The interval of m readings has
// half-width t s / sqrt(m), and (m-1) s^2 / sigma^2 is chi-squared with m-1
// degrees of freedom, so the assurance is that distribution's probability of at
// most (m-1) m z^2 / (n t^2). 0 where n is under 1 or the confidence is not
// between 0 and 1.
func CorrectSize(n int, confidence float64) int {
	if n < 1 || !inside(confidence) {
		return 0
	}
	const assurance = 0.9
	z := distuv.UnitNormal.Quantile((1 + confidence) / 2)
	for m := max(n, 2); ; m++ {
		df := float64(m - 1)
		t := tTwoSided(confidence, m-1)
		x := df * float64(m) * z * z / (float64(n) * t * t)
		if (distuv.ChiSquared{K: df}).CDF(x) >= assurance || m > 10*n+100 {
			return m
		}
	}
}

// FinitePopulation lowers a sample size for a population of only total units:
// n / (1 + n/total) (Elzinga, Salzer & Willoughby, BLM TR 1730-1, App. 7, 1998;
// from memory). It returns the exact value; round up. 0 for a total of 0 or less.
func FinitePopulation(n, total float64) float64 {
	if !positive(n, total) {
		return 0
	}
	return n / (1 + n/total)
}

func sizeFrom(t, sd, margin float64) float64 {
	r := t * sd / margin
	return finite(r*r, 0)
}

// positive reports whether both are ordinary numbers above 0.
func positive(a, b float64) bool {
	return a > 0 && b > 0 && !math.IsInf(a, 0) && !math.IsInf(b, 0)
}

// inside reports whether p lies strictly between 0 and 1.
func inside(p float64) bool { return p > 0 && p < 1 }

// finite returns x, or otherwise where x is NaN or an infinity.
func finite(x, otherwise float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return otherwise
	}
	return x
}
