package herd

import (
	"math"

	"stubbled/scheduler/figure"
)

// Hay is the hay of a farm.
type Hay struct {
	OnHand float64 // lb as it lies in the bale
	BaleLb float64 // of one bale; 0 where nobody said
	Fed    string  // how it is fed, a name of Feeders; empty where nobody said
	Stored string  // how it is kept, a name of Stores; empty where nobody said
}

// HayEaten is the share of hay put out that is eaten where nobody said how it is
// fed: what an open ring leaves, the range that of all ways.
var HayEaten = figure.Of(0.79, 0.55, 0.96, figure.Read, "Oklahoma State trials, tabled by the Univ. of Illinois; Virginia Tech")

// Feeders is the share of hay that is eaten by how it is put out. The order is
// well agreed, the level is not.
var Feeders = map[string]figure.Figure{
	"cone":     figure.Of(0.95, 0.947, 0.965, figure.Read, "Oklahoma State trial, tabled by the Univ. of Illinois; J. Anim. Sci. 2003"),
	"trailer":  figure.Of(0.886, 0, 0, figure.Read, "J. Anim. Sci. 2003, tabled by Virginia Tech"),
	"sheeted":  figure.Of(0.87, 0, 0, figure.Read, "Oklahoma State trial, tabled by the Univ. of Illinois"),
	"cradle":   figure.Of(0.854, 0, 0, figure.Read, "J. Anim. Sci. 2003, tabled by Virginia Tech"),
	"ring":     figure.Of(0.79, 0.79, 0.939, figure.Read, "Oklahoma State trial, tabled by the Univ. of Illinois; J. Anim. Sci. 2003"),
	"unrolled": figure.Of(0.77, 0.77, 0.78, figure.Read, "Kansas State (krex 6266)"),
	"shredded": figure.Of(0.855, 0.84, 0.87, figure.Read, "Kansas State (krex 6266): on the ground"),
	"bunk":     figure.Of(0.905, 0.89, 0.92, figure.Read, "Kansas State (krex 6266): shredded into a bunk"),
	"ground":   figure.Of(0.55, 0, 0, figure.Read, "Oklahoma State fact sheet, trial of 1973"),
}

// Stores is the share of hay that is left in spring by how it is kept.
var Stores = map[string]figure.Figure{
	"barn":    figure.Of(0.965, 0.95, 0.98, figure.SecondHand, "Oklahoma State in Angus Beef Bulletin, 2025"),
	"outside": figure.Of(0.80, 0, 0, figure.SecondHand, "Oklahoma State in Angus Beef Bulletin, 2025: nine months"),
}

// HayMoisture is the water in hay as fed. From memory: 10-15 %.
var HayMoisture = figure.Of(0.12, 0.10, 0.15, figure.Memory, "baled hay, common figure")

const baleSays = "Texas A&M E-319; AgProud 59818: bales of one size differ by 200-300 lb"

// BaleWeighs is what a round bale weighs as fed, lb a cubic foot.
var BaleWeighs = figure.Of(11.21, 0, 0, figure.Read, baleSays)

// BaleLb is the weight as fed of a round bale so wide and so high, in ft: 5 by 5
// is 1,100 lb.
func BaleLb(width, high float64) float64 {
	return BaleWeighs.Value * math.Pi / 4 * high * high * width
}

// StandingLoss is the part of what stands in fall that is gone by spring.
var StandingLoss = figure.Of(0.25, 0, 0, figure.Read, "Oregon State Univ., tall fescue monograph: about 25 %")

// AsFed is the weight as fed of so much dry matter at a moisture share; 30 lb at
// 0.6 is 75 lb. A moisture of 1 or more gives 0.
func AsFed(dryLb, moisture float64) float64 { return over(atLeast0(dryLb), 1-atLeast0(moisture)) }

// eaten is the share of hay put out that animals eat.
func (h Hay) eaten() float64 {
	if f, ok := Feeders[h.Fed]; ok {
		return f.Value
	}
	return HayEaten.Value
}

// Feeds is the lb of dry matter that animals get of the hay on hand.
func (h Hay) Feeds() float64 {
	kept := 1.0
	if f, ok := Stores[h.Stored]; ok {
		kept = f.Value
	}
	return atLeast0(h.OnHand) * kept * (1 - HayMoisture.Value) * h.eaten()
}

// ToGet is the hay still to get for so much forage lacking, lb as fed: what is on
// hand is taken off, and what is wasted added.
func (h Hay) ToGet(lackLb float64) float64 {
	return AsFed(over(lackLb-h.Feeds(), h.eaten()), HayMoisture.Value)
}
