package report

import (
	"fmt"
	"io"
	"slices"

	"stubbled/scheduler/dry"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/spell"
	"stubbled/scheduler/spring"
)

// Figures prints the figures of one grass, plant, class of stock or thing of the
// trade, or all where none is named; false where there is none of that name.
func Figures(w io.Writer, name string) bool {
	species, _ := grass.Grasses.Find(name)
	hazard, _ := grass.Hazards.Find(name)
	kind, _ := herd.Kinds.Find(name)
	last := ""
	for _, f := range slices.Concat(grass.Figures(), spring.Figures(), herd.Figures(), dry.Figures()) {
		if name != "" && f.Of != species.Name && f.Of != hazard.Name && f.Of != kind.Name && spell.Fold(f.Of) != spell.Fold(name) {
			continue
		}
		if f.Of != last {
			fmt.Fprintf(w, "%s\n", f.Of)
		}
		last = f.Of
		between, unit := "", ""
		if f.Spread() {
			between = fmt.Sprintf(" (%g-%g)", f.Low, f.High)
		}
		if f.Unit != "" {
			unit = " " + f.Unit
		}
		fmt.Fprintf(w, "  %s: %g%s%s, %s: %s\n", f.What, f.Value, unit, between, f.Mark, f.Source)
	}
	return last != ""
}
