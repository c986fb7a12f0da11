package grass

import "stubbled/scheduler/figure"

// Soil is how well the ground holds water in late summer, as the grazier knows it.
type Soil string

// The soils a farm file may name. The empty string is average.
const (
	Dry     Soil = "dry"
	Average Soil = "average"
	Moist   Soil = "moist"
)

// Factor multiplies the growth of the species' common-practice pair: dry 0.8,
// average 1, moist 1.15. Assumption: no published multiplier from soil moisture
// to height growth was found. It only matters until a paddock has seasons of
// its own. A soil that is not known counts as average.
func (s Soil) Factor() float64 {
	switch s {
	case Dry:
		return 0.8
	case Moist:
		return 1.15
	}
	return 1
}

// Stand is how thick the grass stands.
type Stand string

// The stands a farm file may name. The empty string is average.
const (
	Thin   Stand = "thin"
	Medium Stand = "average"
	Dense  Stand = "dense"
)

const (
	nativeSticks = "native stick tables, rough"
	otherSticks  = "Univ. of Maine Extension Pasture Course App. D; Purdue forage stick; Noble grazing stick manual"
)

var (
	nativeStanding = map[Stand]figure.Figure{
		Thin:   figure.Of(75, 50, 100, figure.Assumption, nativeSticks),
		Medium: figure.Of(125, 100, 188, figure.Assumption, nativeSticks),
		Dense:  figure.Of(200, 150, 250, figure.Assumption, nativeSticks),
	}
	otherStanding = map[Stand]figure.Figure{
		Thin:   figure.Of(125, 50, 200, figure.Read, otherSticks),
		Medium: figure.Of(225, 160, 300, figure.Read, otherSticks),
		Dense:  figure.Of(375, 265, 400, figure.Read, otherSticks),
	}
)

// Standing is the dry matter one acre holds in one inch of height, lb per
// acre-inch. Rough: tall bunchgrasses carry little leaf low on the stem, and
// published ranges for a single species are up to five-fold.
//
// Natives: thin 75, average 125, dense 200, the middles of 50-100, 100-150 and
// 150-250 (sticks of the Missouri type, from memory, low). Late-season native
// residue works out at 167-188: 1,000 lb at 6 in, 1,500 lb at 8 in (Fick, Kansas
// State, in Hay & Forage Grower; derived).
//
// Other ground: thin 125, average 225, dense 375, the middles of Maine's 100-150
// and 350-400 and of 200-250 for fescue (Univ. of Maine Extension, Pasture Course
// App. D; read), with the range over the other sticks.
//
// A stand that is not known counts as average.
func (s Stand) Standing(native bool) figure.Figure {
	table := otherStanding
	if native {
		table = nativeStanding
	}
	if f, ok := table[s]; ok {
		return f
	}
	return table[Medium]
}
