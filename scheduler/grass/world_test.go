package grass

import (
	"math"
	"math/rand/v2"
)

// world is an invented countryside whose growth is known: how paddocks and years
// differ there, whatever the forecast assumes.
type world struct {
	name    string
	paddock func(*rand.Rand) float64 // a paddock's own effect
	year    func(*rand.Rand) float64 // one fall's effect
}

var worlds = []world{
	{"as assumed",
		func(r *rand.Rand) float64 { return PaddockSpread * r.NormFloat64() },
		func(r *rand.Rand) float64 { return YearSpread * r.NormFloat64() }},
	{"one drought fall in six",
		func(r *rand.Rand) float64 { return PaddockSpread * r.NormFloat64() },
		func(r *rand.Rand) float64 {
			if r.Float64() < 1.0/6 {
				return -0.4 + 0.1*r.NormFloat64()
			}
			return 0.05 + 0.15*r.NormFloat64()
		}},
	{"uneven years",
		func(r *rand.Rand) float64 { return PaddockSpread * r.NormFloat64() },
		func(r *rand.Rand) float64 { return 0.28 * (r.Float64() + r.Float64() - 1) * math.Sqrt(6) }},
	{"pair promises 15 % too much",
		func(r *rand.Rand) float64 { return -0.15 + PaddockSpread*r.NormFloat64() },
		func(r *rand.Rand) float64 { return YearSpread * r.NormFloat64() }},
	{"pair promises 15 % too little",
		func(r *rand.Rand) float64 { return 0.15 + PaddockSpread*r.NormFloat64() },
		func(r *rand.Rand) float64 { return YearSpread * r.NormFloat64() }},
}

// inventedFalls are degree-days from 45 days before the planning frost to each
// fall's own frost: 40 falls, frosts 11 days either way about the mean, invented.
func inventedFalls() []float64 {
	r := rand.New(rand.NewPCG(7, 45))
	falls := make([]float64, 40)
	for i := range falls {
		days := 45 + 11*r.NormFloat64()
		falls[i] = max(days, 5) * (20 + 2*r.NormFloat64())
	}
	return falls
}

// tallPaddock is a paddock of tall natives nobody has measured, in the country
// of inventedFalls.
func tallPaddock() Growth {
	sp, _ := Grasses.Find("big bluestem")
	return Prior(sp, 900, Average)
}

// grow plays one season: the true height at frost and the height read there.
func (w world) grow(r *rand.Rand, g Growth, effect, start, s float64) (truth, read float64) {
	share := max(1+effect+w.year(r), 0)
	truth = min(start+g.G0*s*share, g.Ceiling)
	return truth, truth + g.Error*r.NormFloat64()
}

// history plays n finished seasons of one paddock as they would be read.
func (w world) history(r *rand.Rand, g Growth, effect float64, falls []float64, n int) []Finished {
	out := make([]Finished, n)
	for i := range out {
		start, s := 6+4*r.Float64(), falls[r.IntN(len(falls))]
		_, end := w.grow(r, g, effect, start, s)
		out[i] = Finished{Year: 2000 + i, Start: start + g.Error*r.NormFloat64(), End: end, S: s}
	}
	return out
}
