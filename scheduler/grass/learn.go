package grass

import "math"

// Finished is one finished season of one paddock: the leaf heights read when it
// was shut and after the end of rest, inches, and the S observed between the
// first reading and that season's own first frost.
//
// Whether a season may teach at all (paddock empty the whole window, started at
// or below the target, 20 days of rest or more, not hayed, burned or fall-used,
// the end read within 14 days) is for the caller to judge.
type Finished struct {
	Year       int
	Start, End float64
	S          float64
	Mid, MidS  float64 // a height read on the way, inches, and S up to it; 0 where none was
}

// Untaught is a season that was kept as a record and not learned from.
type Untaught struct {
	Year int
	Why  Reason
}

// Reason says why something was left out of the learning.
type Reason string

const (
	NoHeight Reason = "no height at the start or the end"             // or one that cannot be one
	NoHeat   Reason = "no degree-days for the season"                 // or too few to grow anything
	Shrank   Reason = "the grass got shorter: something else took it" // more than two readings can be out: hail, elk, a neighbour's cattle
	AtTop    Reason = "the leaves stopped at their greatest height"   // it only says 'at least'
)

// Learn updates the paddock's effect by its finished seasons; g.Effect is the
// belief before them, normally the one Prior gave. The result does not depend on
// the order of the seasons.
//
// Model of one season, S being its own observed heat and not the mean year's:
//
//	End - Start = G0 S (1 + p + year) + error at the start + error at the end
//
// so r = (End - Start)/(G0 S) - 1 is p plus noise of variance
//
//	v = Falls^2 + 2 Error^2 / (G0 S)^2
//
// and with p ~ Normal(m, d^2) before, the usual conjugate sums give after it
//
//	1/d'^2 = 1/d^2 + sum 1/v        m' = (m/d^2 + sum r/v) d'^2
//
// A season that shrank by more than twice the error of the difference of two
// readings did not show growth and is left out; a smaller loss is within the
// error and counts as it stands, since throwing it out would keep only lucky
// seasons. A season that ended within one error of the ceiling says only 'at
// least this much': it counts where it raises the belief of the other seasons
// and is left out where it would lower it.
func (g Growth) Learn(seasons []Finished) Effect {
	if !g.Known() || g.Effect.SD < 1e-3 {
		return g.Effect
	}
	weight := 1 / (g.Effect.SD * g.Effect.SD)
	sum := beliefs{g.Effect.Mean * weight, weight}
	out := Effect{Seasons: g.Effect.Seasons, Left: append([]Untaught(nil), g.Effect.Left...)}
	var top []Finished
	for _, f := range seasons {
		switch why := g.untaught(f); why {
		case "":
			sum.add(g.evidence(f))
			out.Seasons++
		case AtTop:
			top = append(top, f)
		default:
			out.Left = append(out.Left, Untaught{f.Year, why})
		}
	}
	below := sum.mean()
	for _, f := range top {
		if r, w := g.evidence(f); r > below {
			sum.add(r, w)
			out.Seasons++
		} else {
			out.Left = append(out.Left, Untaught{f.Year, AtTop})
		}
	}
	out.Mean, out.SD = sum.mean(), math.Sqrt(1/sum.weight)
	return out
}

// With returns the growth holding what the seasons taught.
func (g Growth) With(seasons []Finished) Growth {
	g.Effect = g.Learn(seasons)
	return g
}

// leastGrowth is the growth expected, inches, under which a season shows nothing.
const leastGrowth = 0.1

// untaught says why a season does not teach, or nothing.
func (g Growth) untaught(f Finished) Reason {
	switch {
	case !Believable(f.Start) || !Believable(f.End):
		return NoHeight
	case !positive(f.S, 1) || g.G0*f.S < leastGrowth || g.G0*f.S > 1000:
		return NoHeat
	case f.End-f.Start < -2*math.Sqrt2*g.heightError():
		return Shrank
	case g.Ceiling > 0 && f.End > g.Ceiling-g.heightError():
		return AtTop
	}
	return ""
}

// evidence is the season's own estimate of the effect and its weight.
func (g Growth) evidence(f Finished) (r, weight float64) {
	expected := g.G0 * f.S
	noise, falls := g.heightError()/expected, g.falls()
	return (f.End-f.Start)/expected - 1, 1 / (falls*falls + 2*noise*noise)
}

// beliefs are the running sums of the conjugate update.
type beliefs struct{ sum, weight float64 }

func (b *beliefs) add(r, w float64) { b.sum += r * w; b.weight += w }
func (b *beliefs) mean() float64    { return b.sum / b.weight }
