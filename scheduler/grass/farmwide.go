package grass

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// What a farm's own seasons are weighed against (assumptions, tried in simulation).
const (
	fewestToSpread = 10  // seasons, before the spreads are the farm's own
	mostToSpread   = 60  // seasons, the latest ones: more say little more
	spreadDoubt    = 0.4 // standard deviation of the logarithm of either spread
	shared         = 0.5 // part of the falls' variance that all paddocks of a farm have in common
	earlyDoubt     = 0.4 // standard deviation of Early before anything was read
	earlyFalls     = 0.3 // how falls differ in it
)

// Farmwide is what the finished seasons of all paddocks of a farm teach together.
type Farmwide struct {
	Paddocks float64 // how its paddocks differ, as PaddockSpread
	Falls    float64 // how falls differ on a paddock, as YearSpread
	Early    float64 // how early in a rest its grass grows
	Seasons  int     // seasons that the spreads rest on; 0 where they are the usual ones
}

// A Past is one paddock's growth before anything was learned, and its seasons.
type Past struct {
	Growth  Growth
	Seasons []Finished
}

// Together learns from all paddocks of a farm. Early is the usual conjugate sum of a
// normal belief about 0 over every season that was read on its way. The spreads are
// the usual ones under ten seasons; from then on the means of their variances over a
// grid of both, weighed by how likely they make what grew and by how far they lie
// from the usual ones. Half of what falls differ by is taken to be the whole farm's,
// so that ten paddocks in one fall are not ten falls.
func Together(farm []Past) Farmwide {
	out := Farmwide{Paddocks: PaddockSpread, Falls: YearSpread}
	var grew []grown
	early := beliefs{0, 1 / (earlyDoubt * earlyDoubt)}
	for i, p := range farm {
		for _, f := range p.Seasons {
			if !p.Growth.Known() || p.Growth.untaught(f) != "" {
				continue
			}
			grew = append(grew, p.Growth.grew(i, f))
			if r, w := p.Growth.midway(f); w > 0 {
				early.add(r, w)
			}
		}
	}
	out.Early = min(max(early.mean(), -1), 1)
	if len(grew) < fewestToSpread {
		return out
	}
	slices.SortStableFunc(grew, func(a, b grown) int { return b.year - a.year })
	grew = grew[:min(len(grew), mostToSpread)]
	out.Paddocks, out.Falls = spreads(grew)
	out.Seasons = len(grew)
	return out
}

// In returns the growth of one of the farm's paddocks by what all of them taught.
func (w Farmwide) In(g Growth) Growth {
	g.Effect.SD *= w.Paddocks / PaddockSpread
	g.Falls, g.Early = w.Falls, w.Early
	return g
}

// midway is a season's own estimate of Early, and its weight; 0 where it was not read
// on its way. With u of the heat gone, Mid - (1-u) Start - u End is Early u (1-u) times
// the growth, give or take the three readings and the fall.
func (g Growth) midway(f Finished) (early, weight float64) {
	u := f.MidS / f.S
	if !Believable(f.Mid) || !(u > 0.1 && u < 0.9) {
		return 0, 0
	}
	e := g.heightError()
	// The growth of that fall, by its readings and by what was to be expected.
	expected := g.G0 * f.S
	doubt := expected * expected * (g.Effect.SD*g.Effect.SD + YearSpread*YearSpread)
	growth := (2*e*e*expected + doubt*(f.End-f.Start)) / (2*e*e + doubt)
	if growth < e {
		return 0, 0
	}
	x := growth * u * (1 - u)
	noise := e * e * (1 + (1-u)*(1-u) + u*u)
	return (f.Mid - (1-u)*f.Start - u*f.End) / x, 1 / (noise/(x*x) + earlyFalls*earlyFalls)
}

// grown is what one season grew beside what was expected of it.
type grown struct {
	paddock, year int
	off           float64 // from the belief, as a share of the growth expected
	noise         float64 // variance of it by the two readings
	differs       float64 // how its species differs between paddocks, beside the usual
}

func (g Growth) grew(paddock int, f Finished) grown {
	expected := g.G0 * f.S
	noise := g.heightError() / expected
	return grown{
		paddock: paddock, year: f.Year, off: (f.End-f.Start)/expected - 1 - g.Effect.Mean,
		noise: 2 * noise * noise, differs: g.Effect.SD / PaddockSpread,
	}
}

// spreads are the spreads of paddocks and falls that the seasons speak for.
func spreads(grew []grown) (paddocks, falls float64) {
	const steps, widest = 4, 1.1 // up to three times the usual, and down to a third
	var p, f, sum float64
	best := math.Inf(-1)
	type point struct{ p, f, log float64 }
	var grid []point
	for i := -steps; i <= steps; i++ {
		for j := -steps; j <= steps; j++ {
			a, b := widest*float64(i)/steps, widest*float64(j)/steps
			at := point{p: PaddockSpread * math.Exp(a), f: YearSpread * math.Exp(b)}
			at.log = likely(grew, at.p, at.f) - (a*a+b*b)/(2*spreadDoubt*spreadDoubt)
			best = max(best, at.log)
			grid = append(grid, at)
		}
	}
	for _, at := range grid {
		w := math.Exp(at.log - best)
		p, f, sum = p+w*at.p*at.p, f+w*at.f*at.f, sum+w
	}
	return math.Sqrt(p / sum), math.Sqrt(f / sum)
}

// likely is the logarithm of how likely two spreads make what grew, up to a constant:
// that of a normal distribution in which seasons of one paddock, and of one fall, go
// together.
func likely(grew []grown, paddocks, falls float64) float64 {
	n := len(grew)
	cov, off := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i, a := range grew {
		off.SetVec(i, a.off)
		for j, b := range grew[:i+1] {
			v := 0.0
			if a.paddock == b.paddock {
				v += paddocks * paddocks * a.differs * b.differs
			}
			if a.year == b.year {
				v += shared * falls * falls
			}
			if i == j {
				v += (1-shared)*falls*falls + a.noise
			}
			cov.SetSym(i, j, v)
		}
	}
	var c mat.Cholesky
	var solved mat.VecDense
	if !c.Factorize(cov) || c.SolveVecTo(&solved, off) != nil {
		return math.Inf(-1)
	}
	return -(c.LogDet() + mat.Dot(off, &solved)) / 2
}
