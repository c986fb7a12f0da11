package grass

import "math"

// The spreads of growth, as shares of the growth expected. Assumptions, chosen
// together: with a single spread a paddock was condemned by one drought fall;
// split like this the stated chances stayed honest under droughts, uneven years
// and a wrong starting point.
const (
	PaddockSpread = 0.22 // between paddocks; learned from their own seasons
	YearSpread    = 0.20 // between falls on one paddock; never learned
)

// heightErrorAt18 is the standard deviation, in inches, of a paddock's height as
// read about its true mean leaf height, for a species with a target of 18 in;
// other species in proportion. Assumption.
const heightErrorAt18 = 1.5

// HeightError is the standard deviation of a height read, in inches, for a
// species whose height wanted at frost is target: 1.5 in at 18 in, in
// proportion. A target that is no height counts as 18 in.
func HeightError(target float64) float64 {
	if !Believable(target) {
		target = 18
	}
	return heightErrorAt18 * target / 18
}

// Growth is how a paddock's leaves grow: inches of leaf = g x S, with
//
//	g = G0 x max(0, 1 + paddock + year)
//	paddock ~ Normal(Effect.Mean, Effect.SD)   learned
//	year    ~ Normal(0, Falls)                 new each fall
//
// over a whole rest. Of its growth a part w = u + Early u (1 - u) is there once the
// part u of its heat is gone, so that as much heat grows 1 - Early u times as much
// from then on.
//
// The zero Growth grows nothing and is reported as unknown.
type Growth struct {
	G0      float64 // inches of leaf per unit of S before anything was learned
	Effect  Effect
	Error   float64 // standard deviation of a height read, inches; see HeightError
	Ceiling float64 // greatest leaf height, inches; 0 for none
	Falls   float64 // how falls differ on one paddock; 0 stands for YearSpread
	Early   float64 // how early in a rest it grows, -1 to 1; 0 as the heat comes
}

// Effect is what is believed of one paddock's own share of growth: 0 is the
// common-practice pair, -0.3 grows 30 % less. SD is the standard deviation of
// that belief, and Seasons how many finished seasons are in it.
type Effect struct {
	Mean, SD float64
	Seasons  int
	Left     []Untaught // the seasons that were not learned from, and why
}

// Prior is the growth of a paddock nobody has measured: the species' own
// common-practice pair, leave to target, over the S of the last 45 days before
// the average frost, times the soil's factor:
//
//	g0 = (T - L) / S(F-45, F) x soil
//
// T and L are the species' own figures, never the farm's edited rule: else
// following the advice (leave more) would change the advice. restS is the mean
// year's S over those 45 days. A species without a target, or a restS that is
// not a positive number, gives the zero Growth: nothing is known. A species of
// which sources say that the pair promises too much (switchgrass) begins lower,
// and wider.
func Prior(sp Species, restS float64, soil Soil) Growth {
	span := sp.Target.Value - sp.Leave.Value
	if !sp.Native || !positive(span, restS) {
		return Growth{}
	}
	g0 := finite(span/restS*soil.Factor(), 0)
	if g0 <= 0 {
		return Growth{}
	}
	return Growth{
		G0:      g0,
		Effect:  Effect{Mean: sp.Late.Value - 1, SD: sp.Differ.Value},
		Error:   HeightError(sp.Target.Value),
		Ceiling: sp.MaxLeaf.Value,
	}
}

// Known reports whether there is any growth to forecast with: a rate above 0 and
// a belief within 3 times the common-practice growth. Anything wilder is not
// grass.
func (g Growth) Known() bool {
	return g.G0 >= 1e-9 && g.G0 <= 100 && math.Abs(g.Effect.Mean) <= 3 && g.Effect.SD >= 0 && g.Effect.SD <= 3
}

// heightError is Error within what is sensible: nobody reads a stick finer than
// a quarter inch, nor is 20 in out.
func (g Growth) heightError() float64 { return min(max(finite(g.Error, 0), 0.25), 20) }

// share is the mean and standard deviation of 1 + paddock + year before the cut
// at 0. A paddock believed to grow less than nothing grows nothing.
func (g Growth) share() (mean, sd float64) {
	return max(1+g.Effect.Mean, 0), math.Hypot(g.Effect.SD, g.falls())
}

// falls is how falls differ on the paddock.
func (g Growth) falls() float64 {
	if positive(g.Falls, 1) {
		return g.Falls
	}
	return YearSpread
}

// Rate is the mean growth in inches per unit of S, the cut at 0 included:
// for X ~ Normal(m, s), E[max(0, X)] = m Phi(m/s) + s phi(m/s). 0 where unknown.
func (g Growth) Rate() float64 {
	if !g.Known() {
		return 0
	}
	m, s := g.share()
	return g.G0 * (m*phiCum(m/s) + s*phiDen(m/s))
}

// Reach is the mean leaf height after S more of heat, from a start in inches;
// never above the ceiling. Where growth or S is unknown it is the start itself.
func (g Growth) Reach(start, s float64) float64 {
	if !Believable(start) {
		return 0
	}
	if !g.Known() {
		return start
	}
	var m mixture
	m.set(g, Ask{Start: start, Ahead: []float64{s}})
	return min(m.mean(), m.top)
}
