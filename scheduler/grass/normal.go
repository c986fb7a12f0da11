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
