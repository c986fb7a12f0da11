package herd

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"stubbled/scheduler/figure"
)

// Figures are all figures of stock, of what it eats, of hay and of the ground it
// is fed from.
func Figures() (all figure.Names) {
	all.Add("demand", "of an animal unit", "lb dry a day", figure.Of(DemandPerUnit, 0, 0, figure.Read, "Rangelands Gateway glossary; Oregon State"))
	all.Add("demand", "a calf past 4 months", "animal units", figure.Of(CalfUnits, 0, 0, figure.Read, "beef-cattle.extension.org"))
	for _, k := range Kinds {
		if all.Add(k.Name, "as the table has it", "animal units", k.AUE); k.UsualLb > 0 {
			all.Add(k.Name, "weight where none is given", "lb", figure.Of(k.UsualLb, 0, 0, figure.CommonPractice, "cows have grown since the table"))
		}
	}
	for _, paddocks := range []int{1, 3, 6} {
		all.Add("eaten of what is offered", fmt.Sprintf("%d paddocks or more", paddocks), "", Utilization(paddocks))
	}
	for _, fed := range slices.Sorted(maps.Keys(Feeders)) {
		all.Add("hay", "eaten, "+fed, "of what is put out", Feeders[fed])
	}
	all.Add("hay", "eaten, nobody said how fed", "of what is put out", HayEaten)
	for _, kept := range slices.Sorted(maps.Keys(Stores)) {
		all.Add("hay", "left, stored: "+kept, "of what was put up", Stores[kept])
	}
	all.Add("hay", "water", "of the weight", HayMoisture)
	all.Add("hay", "bale weighs", "lb a cubic foot", BaleWeighs)
	for _, b := range [][2]float64{{4, 4}, {4, 5}, {5, 5}, {4, 6}, {5, 6}} {
		all.Add("hay", fmt.Sprintf("bale %gx%g ft", b[0], b[1]), "lb", figure.Of(math.Round(BaleLb(b[0], b[1])), 0, 0, figure.Derived, baleSays))
	}
	for _, f := range coolGrowth {
		all.Add("cool-season growth", "from "+f.name, "lb dry an acre and day", f.lb)
	}
	all.Add("stockpile", "gone by spring", "of what stands", StandingLoss)
	return all
}
