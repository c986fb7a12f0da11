package grass

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

const (
	cutNodes = 24 // nodes for X
	atPoints = 12 // nodes for the growth of the falls: with fewer a chance is off by a millionth and more far in the tails
)

// legendre holds the nodes and weights on [0, 1].
var legendre = func() (t struct{ x, w [cutNodes]float64 }) {
	quad.Legendre{}.FixedLocations(t.x[:], t.w[:], 0, 1)
	return t
}()

// worthCutting is the probability under which the cut at 0 is not counted.
const worthCutting = 1e-7

// setNodes lays the nodes over the X below 0 that have weight: down to where
// less than a millionth of the cut is left.
func (m *mixture) setNodes() {
	low := min(m.mu, 0) - m.sd
	for phiCum((low-m.mu)/m.sd) > 1e-6*m.cut {
		low -= m.sd / 4
	}
	for k := range cutNodes {
		x := low * (1 - legendre.x[k])
		z := (x - m.mu) / m.sd
		step := -low * legendre.w[k]
		cum, den := phi(z)
		m.node[k], m.below[k], m.weight[k] = x, cum*step, den/m.sd*step
	}
}

// stays is what the cut at 0 adds to the probability of at most y inches above
// the start; it is never above 0. The falls with X < 0 do not shrink, so
//
//	added = integral over x < 0 of density(x) [Phi(y/e) - Phi((y - ax)/e)]
//
// and by parts, which leaves only exponentials to sum,
//
//	added = - integral over x < 0 of P(X < x) (a/e) phi((y - ax)/e)
func (m *mixture) stays(y float64) float64 {
	if m.cut*phiCum(-y/m.err) < worthCutting {
		return 0
	}
	if !m.laid {
		m.layPoints()
	}
	sum := 0.0
	for j := range m.points {
		a := m.points[j] / m.err
		part := 0.0
		for k := range cutNodes {
			z := y/m.err - a*m.node[k]
			part += m.below[k] * phiDen(z)
		}
		sum += m.share[j] * a * part
	}
	return -sum
}

// meanStays is what the cut at 0 adds to the mean height, inches: the falls with
// X < 0 do not shrink by aX. Far from the ceiling that is a E[-X; X < 0], and
// a (E[max(0, X)] - E[X]) is the same.
func (m *mixture) meanStays(room, meanGrowth float64) float64 {
	switch {
	case m.cut == 0:
		return 0
	case room > far*m.err:
		return meanGrowth * (m.sd*phiDen(m.mu/m.sd) - m.mu*phiCum(-m.mu/m.sd))
	case !m.laid:
		m.layPoints()
	}
	still, sum := capped(0, m.err, room), 0.0
	for j := range m.points {
		for k := range cutNodes {
			sum += m.share[j] * m.weight[k] * (still - capped(m.points[j]*m.node[k], m.err, room))
		}
	}
	return sum
}

// layPoints sets the growths at which stays is worked out. As a function of a it
// is smooth, so its mean over all falls is that of the polynomial through its
// values at a few Chebyshev points between the least and the most growth, and
// that mean is a weighted sum of the values: share holds the weights.
func (m *mixture) layPoints() {
	m.laid = true
	least, most := math.Inf(1), 0.0
	for i := range m.ahead {
		least, most = min(least, m.a(i)), max(most, m.a(i))
	}
	mid, half := (most+least)/2, max((most-least)/2, 1e-9)
	var bary, term [atPoints]float64
	for j := range m.points {
		angle := (2*float64(j) + 1) / (2 * atPoints) * math.Pi
		m.points[j], m.share[j] = mid+half*math.Cos(angle), 0
		bary[j] = math.Sin(angle) * float64(1-j%2*2)
	}
	n := float64(len(m.ahead))
	for i := range m.ahead {
		a, sum := m.a(i), 0.0
		for j := range m.points {
			d := a - m.points[j]
			if math.Abs(d) < 1e-12 {
				d = 1e-12
			}
			term[j] = bary[j] / d
			sum += term[j]
		}
		sum = 1 / (sum * n)
		for j := range m.points {
			m.share[j] += term[j] * sum
		}
	}
}
