package grass

import "math"

// The standard normal distribution is tabulated in steps of 1/64 and read by the
// cubic through value and slope at both ends of a step, which is right to 2e-10:
// a forecast asks for it a thousand times.
const (
	perUnit   = 64
	normalEnd = 8 // beyond it 0 and 1 are right to 1e-15
)

// normal holds the distribution function, the density and its slope, each step.
var normal = func() (t [2*normalEnd*perUnit + 1]struct{ cum, den, slope float64 }) {
	for i := range t {
		z := float64(i)/perUnit - normalEnd
		den := math.Exp(-0.5*z*z) / math.Sqrt(2*math.Pi)
		t[i].cum, t[i].den, t[i].slope = 0.5*math.Erfc(-z/math.Sqrt2), den, -z*den
	}
	return t
}()

// phi is the standard normal distribution function and its density.
func phi(z float64) (cum, den float64) {
	if !(z > -normalEnd) {
		return 0, 0
	}
	if z >= normalEnd {
		return 1, 0
	}
	x := (z + normalEnd) * perUnit
	i := int(x)
	t, a, b := x-float64(i), &normal[i], &normal[i+1]
	return between(t, a.cum, b.cum, a.den, b.den), between(t, a.den, b.den, a.slope, b.slope)
}

// phiCum is the distribution function alone, phiDen the density.
func phiCum(z float64) float64 { cum, _ := phi(z); return cum }
func phiDen(z float64) float64 {
	if !(math.Abs(z) < normalEnd) {
		return 0
	}
	x := (z + normalEnd) * perUnit
	i := int(x)
	a, b := &normal[i], &normal[i+1]
	return between(x-float64(i), a.den, b.den, a.slope, b.slope)
}

// between is the cubic through two values a step apart with their slopes.
func between(t, p0, p1, slope0, slope1 float64) float64 {
	const h = 1.0 / perUnit
	rise := p1 - p0
	return p0 + t*(h*slope0+t*(3*rise-h*(2*slope0+slope1)+t*(h*(slope0+slope1)-2*rise)))
}

// capped is E[min(c, X)] for X ~ Normal(m, s): m - E[(X-c)+].
func capped(m, s, c float64) float64 {
	cum, den := phi((m - c) / s)
	return m - (s*den + (m-c)*cum)
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
