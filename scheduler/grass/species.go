package grass

import (
	"slices"

	"stubbled/scheduler/figure"
	"stubbled/scheduler/spell"
)

// Species is what is known of one grass, or of one kind of mixed stand.
// All heights are leaf heights in inches.
type Species struct {
	Name    string   // as typed in the farm file, lower case
	Aliases []string // other spellings understood
	Native  bool     // native warm-season: has a fall rest. Others are grazed through the fall

	Leave   figure.Figure // L: leaf to leave at cutoff; for ground that is no native, the residual
	Target  figure.Figure // T: leaf wanted at frost; unknown for ground that is no native
	Min     figure.Figure // M: lowest stubble that spares the growing point
	Begin   figure.Figure // B: leaf at which to begin grazing
	MaxLeaf figure.Figure // greatest height the leaves reach; growth is never forecast above it

	// Dhurrin marks grasses that are themselves doubtful after a frost while
	// short: indiangrass and mixed natives, which hold indiangrass as a rule.
	Dhurrin bool

	// Hazard names the hazard plant this ground is sown to, or is empty.
	Hazard string
}

// CoolSeason reports whether the species grows through the fall, so that
// standing on it from August on spends winter stockpile.
func (s Species) CoolSeason() bool {
	return slices.Contains(coolSeason, s.Name)
}

// All returns every species known, natives first, in the order of the table.
// The slice is the caller's own.
func All() []Species { return slices.Clone(table) }

// Names returns the names of all species in the order of the table.
func Names() []string {
	out := make([]string, len(table))
	for i, s := range table {
		out[i] = s.Name
	}
	return out
}

// Lookup finds a species by name or alias. Case, commas, hyphens and extra
// spaces don't matter. An unknown name gives false.
func Lookup(name string) (Species, bool) { return spell.Find(table, name, Species.names) }

// Nearest gives the known species name closest to a misspelt one, for a "did
// you mean". It gives false where nothing is within two slips, or one slip for
// words of five letters and less.
func Nearest(name string) (string, bool) { return spell.Nearest(table, name, Species.names) }

func (s Species) names() (string, []string) { return s.Name, s.Aliases }
