package grass

import (
	"math"
	"sort"
)

// Cure is one change of a rule that brings the chance up to the confidence
// asked. None of Leave and Rest is ever solved together: each is the change
// that would do alone.
type Cure struct {
	Found  bool    // false: no sensible value reaches it
	Exact  float64 // where the chance just reaches the confidence: inches, or days
	Value  float64 // what to say: inches to the next half inch up, or whole days
	Chance float64 // chance of the target at Value; where not Found, at the limit
}

// LeaveFor solves for the height to leave at the same cutoff: the least start,
// not under ask.Start, at which the chance of ask.Target reaches the confidence
// (0.8 for 80 %). most is the greatest height it makes sense to leave, inches,
// normally the height at which grazing begins; the target itself is always a
// limit. Where the present start is already enough the cure is that start.
//
// It inverts Chance: Chance at Exact is the confidence to within a millionth, and
// any less is short.
func (g Growth) LeaveFor(ask Ask, confidence, most float64) Cure {
	if ask.Target < most || !Believable(most) {
		most = ask.Target
	}
	if !inside(confidence) || !Believable(ask.Start) || !Believable(most) {
		return Cure{}
	}
	at := func(h float64) float64 {
		ask.Start = h
		return g.Chance(ask)
	}
	lo, hi := ask.Start, most
	switch {
	case at(lo) >= confidence:
		return Cure{true, lo, lo, at(lo)}
	case hi <= lo || at(hi) < confidence:
		return Cure{Value: max(lo, hi), Chance: at(max(lo, hi))}
	}
	// The height at frost is the start plus what grows, and the growth does not
	// depend on the start, so the start wanted is the target less the growth that
	// is reached with the confidence asked.
	ask.Start = lo
	var m mixture
	m.set(g, ask)
	exact := min(max(ask.Target-m.rise(1-confidence), lo), hi)
	say := min(math.Ceil(exact*2-1e-6)/2, most) // to the next half inch
	return Cure{true, exact, say, at(say)}
}

// RestFor solves for the days of rest at the same height: the fewest whole days
// from least to most at which the chance of ask.Target reaches the confidence.
// ahead gives, for a number of rest days, each fall's S from that many days
// before the planning date to its own frost (ask.Ahead is not used). The more
// days of rest the more S in every fall, so the fewest are found by halving.
func (g Growth) RestFor(ask Ask, confidence float64, least, most int, ahead func(days int) []float64) Cure {
	if !inside(confidence) || !Believable(ask.Start) || least > most || ahead == nil {
		return Cure{}
	}
	at := func(days int) float64 {
		ask.Ahead = ahead(days)
		return g.Chance(ask)
	}
	days := least + sort.Search(most-least+1, func(i int) bool { return at(least+i) >= confidence })
	if days > most {
		return Cure{Value: float64(most), Chance: at(most)}
	}
	return Cure{true, float64(days), float64(days), at(days)}
}
