package herd

import "math"

// MostDays is the longest stay ever promised from one reading; past it a text
// says '14+, read again'.
const MostDays = 14

// Regrown is the share of the regrowth meanwhile that is credited to animals
// standing on it. Assumption: bitten plants regrow slower, and some of it is
// trodden.
const Regrown = 0.5

// Grass is what a paddock offers to the animals on it.
type Grass struct {
	Acres    float64
	Eaten    float64 // lb eaten per acre-inch; see EatenPerAcreInch
	Height   float64 // mean leaf height now, inches
	Floor    float64 // height to be left, inches
	Regrowth float64 // leaf growth, inches a day; negative or missing counts as 0
}

// Days is how long the grass lasts. Without animals that eat, without ground, or of a
// height that is none nothing is known.
type Days struct {
	Days  float64 // between 0 and MostDays
	Known bool
	More  bool // it lasts longer, or grows faster than it is eaten
}

// Days counts the days of grass for a demand in lb a day. Over d days the
// animals find
//
//	Acres x Eaten x (Height - Floor + Regrown x Regrowth x d)
//
// and take demand x d, so
//
//	d = Acres Eaten (Height - Floor) / (demand - Regrown Regrowth Acres Eaten)
//
// never more than 14. Where the credited regrowth is as much as the demand the
// grass does not run out: that is 14 and more, not an infinity.
func (g Grass) Days(demand float64) Days {
	return g.daysUpTo(demand, MostDays)
}

func (g Grass) daysUpTo(demand, most float64) Days {
	perInch := finite(atLeast0(g.Acres) * atLeast0(g.Eaten))
	switch {
	case !positive(g.Height, demand) || g.Height > maxHeight || perInch == 0:
		return Days{}
	case g.Height <= atLeast0(g.Floor):
		return Days{Known: true}
	}
	pull := demand - Regrown*atLeast0(g.Regrowth)*perInch
	if d := perInch * (g.Height - atLeast0(g.Floor)) / pull; pull > 0 && d <= most {
		return Days{Days: d, Known: true}
	}
	return Days{most, true, true}
}

// Barest is the leaf height in inches under which animals get nothing any more
// (common practice: cattle graze no closer than about two inches).
const Barest = 2

// After is the height in inches to which a demand in lb a day brings the grass in so
// many days, as Days counts them, and on how many of these nothing is left.
func (g Grass) After(demand float64, days int) (height float64, hungry int) {
	g.Floor = Barest
	lasts := g.daysUpTo(demand, float64(days))
	if lasts.Days == 0 {
		return g.Height, days
	}
	pull := demand/(g.Acres*g.Eaten) - Credited(g.Regrowth, 1)
	return max(g.Height-pull*float64(days), min(Barest, g.Height)), days - int(math.Ceil(lasts.Days-1e-9))
}

// maxHeight is the greatest leaf height believed, inches.
const maxHeight = 120.0

// Credited is the regrowth in inches counted for so many days of grazing at a
// growth in inches a day, as Days counts it and as a Grazing must be told.
func Credited(growth, days float64) float64 {
	return finite(Regrown * atLeast0(growth) * atLeast0(days))
}
