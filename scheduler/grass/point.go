package grass

import "math"

// point is the height with probability p below it, before the ceiling.
func (m *mixture) point(p float64) float64 { return max(m.start+m.rise(p), 0) }

// rise is the p point in inches above the start, by Newton steps kept inside a
// shrinking bracket. Near its root a Newton step leaves an error of the order of
// the step squared, so a step under a thousandth of the height error is the last.
// With the cut the slope used is not quite the right one, and the more is cut the
// smaller the last step must be. Where there is a cut its few points are laid
// anyway: the first guess is then solved on them, and one sum over all falls is
// mostly enough.
func (m *mixture) rise(p float64) float64 {
	least, most, y := m.bracket(p)
	last := 1e-3 * m.err
	if m.cut > 0 {
		last = min(1e-3, 1e-6/m.cut) * m.err
		if !m.laid {
			m.layPoints()
		}
		y = newton(p, least, most, y, last, func(y float64) (float64, float64) {
			f, d := m.sketch(y)
			return f + m.stays(y), d
		})
	}
	return newton(p, least, most, y, last, func(y float64) (float64, float64) {
		f, d := m.uncut(y)
		return f + m.stays(y), d
	})
}

// sketch is uncut by the growths at which the cut is worked out.
func (m *mixture) sketch(y float64) (p, density float64) {
	for j, a := range m.points {
		cum, den := m.grown(a, y)
		p += m.share[j] * cum
		density += m.share[j] * den
	}
	return p, density
}

// newton solves f = p for y between two bounds, f rising, up to a step that is
// small enough. f gives its value and its slope.
func newton(p, lo, hi, y, last float64, f func(float64) (float64, float64)) float64 {
	for range 200 {
		v, slope := f(y)
		if v < p {
			lo = y
		} else {
			hi = y
		}
		next := y - (v-p)/slope
		if !(next >= lo && next <= hi) {
			next = (lo + hi) / 2
		}
		step := math.Abs(next - y)
		if y = next; step <= last || hi-lo <= 1e-9 {
			break
		}
	}
	return y
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
	z := math.Sqrt2 * math.Erfinv(2*p-1)
	wide := 8 * math.Sqrt(most*most*m.sd*m.sd+m.err*m.err)
	lo = min(least*m.mu, most*m.mu, 0) - wide
	hi = max(least*m.mu, most*m.mu, 0) + wide
	guess = mean*m.mu + z*math.Sqrt(max(variance, 0))
	return lo, hi, min(max(guess, lo), hi)
}
