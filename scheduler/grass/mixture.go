package grass

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Forecast gives the leaf height at first frost.
//
// For fall i with S_i = Behind + Ahead[i] and a = G0 S_i the height is
//
//	H = min(ceiling, Start + e + a max(0, X))    X ~ Normal(m, s), e ~ Normal(0, Error)
//
// where X = 1 + paddock + year, and every fall has the same weight. Without the
// cut at 0, Start + e + aX is normal with mean Start + am and variance
// a^2 s^2 + Error^2, which is summed in closed form. What the cut changes is an
// integral over X < 0 alone, taken on 16 fixed Gauss-Legendre nodes. The ceiling
// only clamps: points of the mixture above it become it, and a target above it
// has no chance. Where the start itself is above the ceiling the reading is
// believed and the ceiling is the start.
//
// S_i that are negative or not numbers count as 0: no growth is left. The sums
// allocate nothing.
func (g Growth) Forecast(ask Ask) Forecast {
	falls := len(ask.Ahead)
	switch {
	case ask.NoRain:
		return Forecast{Outcome: Withheld, Falls: falls}
	case !Believable(ask.Start):
		return Forecast{Outcome: NoStart, Falls: falls}
	case !g.Known():
		return Forecast{Outcome: NoRate, Falls: falls}
	case falls == 0:
		return Forecast{Outcome: NoFalls}
	}
	var m mixture
	m.set(g, ask)
	out := Forecast{Outcome: Told, Falls: falls}
	if falls < FewFalls {
		out.Outcome = OnFewFalls
	}
	out.Mean = min(m.mean(), m.top)
	out.Low = min(m.point(0.1), m.top)
	out.High = min(m.point(0.9), m.top)
	out.Chance = m.chance(ask.Target)
	return out
}

// Chance gives only the chance of the target, as Forecast would; 0 where
// Forecast would tell nothing.
func (g Growth) Chance(ask Ask) float64 {
	if ask.NoRain || !Believable(ask.Start) || !g.Known() || len(ask.Ahead) == 0 {
		return 0
	}
	var m mixture
	m.set(g, ask)
	return m.chance(ask.Target)
}

// mixture is the height at frost before the ceiling, over all falls.
type mixture struct {
	start, err float64 // inches
	top        float64 // ceiling, inches
	g0         float64
	mu, sd     float64 // of X
	behind     float64
	ahead      []float64
	cut        float64           // P(X < 0)
	node       [cutNodes]float64 // X below 0
	weight     [cutNodes]float64 // density times step; they sum to cut
}

const cutNodes = 16

// legendre holds the nodes and weights on [0, 1].
var legendre = func() (t struct{ x, w [cutNodes]float64 }) {
	quad.Legendre{}.FixedLocations(t.x[:], t.w[:], 0, 1)
	return t
}()

// worthCutting is the probability of X < 0 under which the cut is left out.
const worthCutting = 1e-9

// set readies the mixture.
func (m *mixture) set(g Growth, ask Ask) {
	m.start, m.g0, m.ahead = ask.Start, g.G0, ask.Ahead
	m.err = max(finite(g.Error, 0), 1e-6)
	m.behind = max(finite(ask.Behind, 0), 0)
	m.top = MaxHeight
	if g.Ceiling > 0 {
		m.top = min(g.Ceiling, MaxHeight)
	}
	m.top = max(m.top, ask.Start)
	m.mu, m.sd = g.share()
	m.cut = phiCum(-m.mu / m.sd)
	if m.cut < worthCutting {
		m.cut = 0
		return
	}
	// X from 8 sd below its mean, or 4 sd below 0 where the mean itself is
	// below, up to 0: beyond that nothing is left to weigh.
	low := min(m.mu-8*m.sd, -4*m.sd)
	for k := range cutNodes {
		m.node[k] = low * (1 - legendre.x[k])
		z := (m.node[k] - m.mu) / m.sd
		m.weight[k] = phiDen(z) / m.sd * -low * legendre.w[k]
	}
}

// a is the growth in inches of fall i at X = 1.
func (m *mixture) a(i int) float64 {
	s := m.ahead[i]
	if !(s > 0) {
		s = 0
	}
	return m.g0 * min(m.behind+s, 1e9)
}

// cdf is the probability of a height of at most y above the start, and its
// density there.
func (m *mixture) cdf(y float64) (p, density float64) {
	for i := range m.ahead {
		a := m.a(i)
		sd := math.Sqrt(a*a*m.sd*m.sd + m.err*m.err)
		z := (y - a*m.mu) / sd
		p += phiCum(z)
		density += phiDen(z) / sd
		if m.cut > 0 {
			dp, dd := m.cutPart(y, a)
			p, density = p+dp, density+dd
		}
	}
	n := float64(len(m.ahead))
	return p / n, density / n
}

// cutPart is what the cut at 0 adds to one fall's cdf and density: the mass that
// would have shrunk stays at the start instead.
func (m *mixture) cutPart(y, a float64) (p, density float64) {
	if y > 6*m.err {
		return 0, 0
	}
	whole, wholeDen := phiCum(y/m.err), phiDen(y/m.err)/m.err
	for k := range cutNodes {
		z := (y - a*m.node[k]) / m.err
		p += m.weight[k] * (whole - phiCum(z))
		density += m.weight[k] * (wholeDen - phiDen(z)/m.err)
	}
	return p, density
}

// chance is the probability of the target or more.
func (m *mixture) chance(target float64) float64 {
	if !Believable(target) || target > m.top {
		return 0
	}
	p, _ := m.cdf(target - m.start)
	return min(max(1-p, 0), 1)
}

// mean is the mean height under the ceiling.
func (m *mixture) mean() float64 {
	sum := 0.0
	room := m.top - m.start
	for i := range m.ahead {
		a := m.a(i)
		sum += capped(a*m.mu, math.Sqrt(a*a*m.sd*m.sd+m.err*m.err), room)
		if m.cut == 0 {
			continue
		}
		still := capped(0, m.err, room)
		for k := range cutNodes {
			sum += m.weight[k] * (still - capped(a*m.node[k], m.err, room))
		}
	}
	return max(m.start+sum/float64(len(m.ahead)), 0)
}

// point is the height with probability p below it, by Newton steps kept inside a
// shrinking bracket.
func (m *mixture) point(p float64) float64 {
	lo, hi, y := m.bracket(p)
	for range 80 {
		f, d := m.cdf(y)
		if f < p {
			lo = y
		} else {
			hi = y
		}
		next := y - (f-p)/d
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-y) < 1e-7 || hi-lo < 1e-7 {
			y = next
			break
		}
		y = next
	}
	return max(m.start+y, 0)
}

// bracket gives bounds for the p point above the start and a first guess: that
// of one normal with the mixture's own mean and variance.
func (m *mixture) bracket(p float64) (lo, hi, guess float64) {
	least, most, sum, squares := math.Inf(1), 0.0, 0.0, 0.0
	for i := range m.ahead {
		a := m.a(i)
		least, most = min(least, a), max(most, a)
		sum += a
		squares += a * a
	}
	n := float64(len(m.ahead))
	mean := sum / n
	variance := squares/n*m.sd*m.sd + m.err*m.err + (squares/n-mean*mean)*m.mu*m.mu
	z := -1.2815515655446004
	if p > 0.5 {
		z = -z
	}
	wide := 8 * math.Sqrt(most*most*m.sd*m.sd+m.err*m.err)
	lo = min(least*m.mu, most*m.mu, 0) - wide
	hi = max(least*m.mu, most*m.mu, 0) + wide
	guess = mean*m.mu + z*math.Sqrt(max(variance, 0))
	return lo, hi, min(max(guess, lo), hi)
}
