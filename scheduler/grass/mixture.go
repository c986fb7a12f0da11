package grass

import "math"

// Forecast gives the leaf height at first frost.
//
// For fall i with S_i = Behind + Ahead[i] and a = G0 S_i the height is
//
//	H = min(ceiling, Start + e + a max(0, X))    X ~ Normal(m, s), e ~ Normal(0, Error)
//
// where X = 1 + paddock + year, and every fall has the same weight. Without the
// cut at 0, Start + e + aX is normal with mean Start + am and variance
// a^2 s^2 + Error^2, which is summed in closed form. What the cut changes is an
// integral over X < 0 alone, taken on 32 fixed Gauss-Legendre nodes. The ceiling
// only clamps: points of the mixture above it become it, and a target above it
// has no chance. Where the start itself is above the ceiling the reading is
// believed and the ceiling is the start.
//
// S_i that are negative or not numbers count as 0: no growth is left. The sums
// allocate nothing.
func (g Growth) Forecast(ask Ask) Forecast {
	if !g.tells(ask) {
		return Forecast{}
	}
	out := Forecast{Falls: len(ask.Ahead)}
	var m mixture
	m.set(g, ask)
	out.Mean = min(m.mean(), m.top)
	out.Low = min(m.point(0.1), m.top)
	out.High = min(m.point(0.9), m.top)
	out.Chance = m.chance(ask.Target)
	return out
}

// tells reports whether a forecast can be made: of a height and a growth that are
// known, with a fall whose frost is still to come; in a drought nothing is promised.
func (g Growth) tells(ask Ask) bool {
	return !ask.NoRain && Believable(ask.Start) && g.Known() && len(ask.Ahead) > 0
}

// Chance gives only the chance of the target, as Forecast would; 0 where
// Forecast would tell nothing.
func (g Growth) Chance(ask Ask) float64 {
	if !g.tells(ask) {
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
	gone       float64 // S of the rest before the reading
	early      float64 // that, times how early in a rest it grows
	ahead      []float64
	cut        float64           // P(X < 0); 0 where not worth counting
	node       [cutNodes]float64 // X below 0
	below      [cutNodes]float64 // P(X < node) times the step
	weight     [cutNodes]float64 // density at the node times the step; they sum to cut

	laid          bool              // points and share are set
	points, share [atPoints]float64 // see layPoints
}

func (m *mixture) set(g Growth, ask Ask) {
	m.start, m.g0, m.ahead = ask.Start, g.G0, ask.Ahead
	m.early = min(max(finite(g.Early, 0), -1), 1) * max(finite(ask.Gone, 0), 0)
	m.gone = max(finite(ask.Gone, 0), 0)
	m.err = g.heightError()
	m.behind = max(finite(ask.Behind, 0), 0)
	m.top = MaxHeight
	if g.Ceiling > 0 {
		m.top = min(g.Ceiling, MaxHeight)
	}
	m.top = max(m.top, ask.Start)
	if ask.Scant {
		g.Effect.Mean += ScantYear
	}
	m.mu, m.sd = g.share()
	if cut := phiCum(-m.mu / m.sd); cut > worthCutting {
		m.cut = cut
		m.setNodes()
	}
}

// a is the growth in inches of fall i at X = 1, never more than twice the
// greatest height believed: no grass comes near it, and the sums stay numbers.
func (m *mixture) a(i int) float64 {
	s := m.ahead[i]
	if !(s > 0) {
		s = 0
	}
	s += m.behind
	if m.early != 0 {
		s *= 1 - m.early/(m.gone+s)
	}
	return min(m.g0*s, 2*MaxHeight)
}

// uncut is the probability of at most y inches above the start, and its density
// there, as if grass could shrink.
func (m *mixture) uncut(y float64) (p, density float64) {
	for i := range m.ahead {
		cum, den := m.grown(m.a(i), y)
		p += cum
		density += den
	}
	n := float64(len(m.ahead))
	return p / n, density / n
}

// grown is the same of a fall that grows a at X = 1.
func (m *mixture) grown(a, y float64) (p, density float64) {
	sd := math.Sqrt(a*a*m.sd*m.sd + m.err*m.err)
	cum, den := phi((y - a*m.mu) / sd)
	return cum, den / sd
}

func (m *mixture) chance(target float64) float64 {
	if !Believable(target) || target > m.top {
		return 0
	}
	y := target - m.start
	p, _ := m.uncut(y)
	return min(max(1-p-m.stays(y), 0), 1)
}

// far is how many standard deviations off the ceiling no longer matters.
const far = 5

func (m *mixture) mean() float64 {
	sum, growth, room := 0.0, 0.0, m.top-m.start
	for i := range m.ahead {
		a := m.a(i)
		grown := a * m.mu
		if sd := math.Sqrt(a*a*m.sd*m.sd + m.err*m.err); room-grown < far*sd {
			grown = capped(grown, sd, room)
		}
		sum += grown
		growth += a
	}
	n := float64(len(m.ahead))
	return max(m.start+sum/n+m.meanStays(room, growth/n), 0)
}
