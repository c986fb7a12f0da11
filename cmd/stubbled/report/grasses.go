package report

import (
	"fmt"
	"io"

	"stubbled/scheduler/grass"
)

// Grasses prints the figures of one grass or plant, or of all where none is named;
// false where there is none of that name.
func Grasses(w io.Writer, name string) bool {
	species, _ := grass.Lookup(name)
	hazard, _ := grass.LookupHazard(name)
	last := ""
	for _, f := range grass.Figures() {
		if name != "" && f.Of != species.Name && f.Of != hazard.Name {
			continue
		}
		if f.Of != last {
			fmt.Fprintf(w, "%s\n", f.Of)
		}
		last = f.Of
		between := ""
		if f.Spread() {
			between = fmt.Sprintf(" (%g-%g)", f.Low, f.High)
		}
		fmt.Fprintf(w, "  %s: %g %s%s, %s: %s\n", f.What, f.Value, f.Unit, between, f.Mark, f.Source)
	}
	return last != ""
}
