package herd

import (
	"time"

	"github.com/golang-sql/civil"
)

// DemandPerUnit is the oven-dry forage one animal unit takes a day, lb
// (Rangelands Gateway glossary; Oregon State; read).
const DemandPerUnit = 26.0

// CalfUnits is what a calf past [CalfMonths] adds to its cow, animal units
// (beef-cattle.extension.org; read).
const CalfUnits = 0.3

// CalfMonths is the age in months past which a calf counts. Sources say 3-4.
const CalfMonths = 4

// Bounds of what is believed of a herd.
const (
	MaxHead     = 100_000
	MinWeightLb = 10.0
	MaxWeightLb = 4_000.0
)

// Herd is a group of animals that moves together.
type Herd struct {
	ID       string     `key:"id" as:"id" missing:"a short word that never changes, such as id: creek"`
	Aliases  []string   `key:"aliases" read:"later"`
	Head     int        `key:"head" as:"number" in:"0..100000" missing:"how many there are, such as head: 38"`
	Kind     Kind       `key:"kind" as:"stock" missing:"what they are, such as kind: cow with calf"`
	WeightLb float64    `key:"weight" as:"weight"` // of one animal; 0 where the farm file gives none
	Calving  time.Month `key:"calving" as:"month"` // month the calves come; 0 where not given
	Weaned   civil.Date `key:"weaned" as:"date"`   // day the calves were or will be weaned; zero where not given
	Paddock  string     `key:"paddock"`            // where it stood when the farm file was written; may be empty
}

// UnitsEach is the animal units of one animal on a day, its calf included.
//
// By weight, 1 per 1,000 lb, where a weight is given; a cow with calf without
// one counts 1,300 lb, and every other class what the published table says, so
// a bull is 1.35. A calf past 4 months adds 0.3. A weight that cannot be one
// counts as not given.
func (h Herd) UnitsEach(on civil.Date) float64 {
	w := h.WeightLb
	if !(w >= MinWeightLb && w <= MaxWeightLb) {
		w = h.Kind.UsualLb
	}
	units := UnitsByWeight(w)
	if w == 0 {
		units = h.Kind.AUE.Value
	}
	if h.calfEats(on) {
		units += CalfUnits
	}
	return units
}

// AnimalUnits is what the whole herd counts on a day. A herd without head, or
// with fewer than none, is 0.
func (h Herd) AnimalUnits(on civil.Date) float64 {
	return float64(min(max(h.Head, 0), MaxHead)) * h.UnitsEach(on)
}

// Demand is the oven-dry forage the herd takes on a day, lb.
func (h Herd) Demand(on civil.Date) float64 {
	return h.AnimalUnits(on) * DemandPerUnit
}

// calfEats reports whether the calves count on a day: past 4 months old, and
// not weaned. Calves are taken to be born on the 15th of the calving month
// (assumption). Without a calving month they count all year, the careful side.
// Without a weaning day they count until the next calving.
func (h Herd) calfEats(on civil.Date) bool {
	if !h.Kind.Calf {
		return false
	}
	if h.Calving < time.January || h.Calving > time.December {
		return h.Weaned.IsZero() || on.Before(h.Weaned)
	}
	born := civil.Date{Year: on.Year, Month: h.Calving, Day: 15}
	if born.After(on) {
		born.Year--
	}
	if !h.Weaned.IsZero() && !on.Before(h.Weaned) && !born.After(h.Weaned) {
		return false
	}
	return on.After(civil.DateOf(born.In(time.UTC).AddDate(0, CalfMonths, 0)))
}

// UnitsByWeight is animal units by weight alone, 0.1 for each 100 lb (Texas AU
// chart; eXtension; read). 0 where the weight is not a positive number.
func UnitsByWeight(lb float64) float64 {
	if !positive(lb) {
		return 0
	}
	return lb / 1000
}
