package suppose

import (
	"math"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// HowLow is how low a native may be grazed by today; where none is named each that is
// grazed, or, where none is, each that is open.
func (f Farm) HowLow(paddock string) *ladder.Supposed {
	all := &ladder.Supposed{Grounds: []ladder.SupposedGround{}}
	for _, of := range []func(*season.View) bool{
		func(v *season.View) bool { return paddock == v.Paddock.ID },
		func(v *season.View) bool {
			return paddock == "" && v.Paddock.Native() && v.Herds.Occupancy == season.Grazed
		},
		func(v *season.View) bool { return paddock == "" && v.Paddock.Native() && v.Phase == season.Open },
		func(v *season.View) bool { return paddock == "" && v.Paddock.Native() },
	} {
		for i := range f.Views {
			if v := &f.Views[i]; len(all.Grounds) < mostLow && of(v) {
				all.Grounds = append(all.Grounds, f.low(v))
			}
		}
		if len(all.Grounds) > 0 {
			break
		}
	}
	return all
}

// mostLow is how many paddocks a text tells of.
const mostLow = 6

func (f Farm) low(v *season.View) ladder.SupposedGround {
	g := f.ground(v)
	if g.Closed = g.Closed || v.Phase == season.Rest && !v.FallUse || v.Phase == season.Dormant || !v.Paddock.Native(); g.Closed {
		return g
	}
	land := f.Land()
	cure := land.HowLow(v)
	if !cure.Found {
		return g
	}
	g.Leaves = cure.Value
	if v.Phase == season.Rest {
		g.Leaves = max(g.Leaves, v.Paddock.Floor()) // it is grazed on purpose, and never under that
	}
	if v.Ahead != nil && v.Ahead.Known {
		g.Falls = int(math.Round(10 * v.Paddock.Rule.Confidence))
	}
	g.Then.Chance = cure.Chance
	lasts(land, v, g.Leaves, &g.Then)
	return g
}
