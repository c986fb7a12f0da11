package grass

import "math"

// phiCum is the standard normal distribution function.
func phiCum(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// phiDen is the standard normal density.
func phiDen(x float64) float64 { return math.Exp(-0.5*x*x) / math.Sqrt(2*math.Pi) }

// capped is E[min(c, X)] for X ~ Normal(m, s): m - E[(X-c)+].
func capped(m, s, c float64) float64 {
	d := (m - c) / s
	return m - (s*phiDen(d) + (m-c)*phiCum(d))
}

// inside reports whether p lies strictly between 0 and 1.
func inside(p float64) bool { return p > 0 && p < 1 }

// positive reports whether both are ordinary numbers above 0.
func positive(a, b float64) bool {
	return a > 0 && b > 0 && !math.IsInf(a, 0) && !math.IsInf(b, 0)
}

// finite returns x, or otherwise where x is NaN or an infinity.
func finite(x, otherwise float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return otherwise
	}
	return x
}
