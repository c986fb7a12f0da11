package grass

import (
	"stubbled/scheduler/figure"
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
	Starts  figure.Figure // day of the year on which it starts to grow; natives alone
	MaxLeaf figure.Figure // greatest height the leaves reach; growth is never forecast above it
	Late    figure.Figure // late-summer growth likely, as a share of the pair L to T
	Differ  figure.Figure // standard deviation of it between paddocks, likewise

	traits trait
}

// A trait is what a species is besides its heights.
type trait uint8

const (
	coolSeason trait = 1 << iota // grows on into the fall and can be stockpiled
	stands                       // is a hazard plant itself, of its own name
	nitrate                      // gathers nitrate in a drought
	toxic                        // carries the fungus that lames cattle in the cold
	saponin                      // harms the liver of sheep, goats and horses
)

func (s Species) has(t trait) bool { return s.traits&t != 0 }

// is gives the species traits.
func (s Species) is(t trait) Species { s.traits |= t; return s }

// CoolSeason reports whether the species grows through the fall, so that
// standing on it from August on spends winter stockpile.
func (s Species) CoolSeason() bool { return s.has(coolSeason) }

// Nitrate reports whether drought makes the plants gather nitrate, which neither
// frost nor storage takes away: small grains, corn and millets (Montana State;
// Texas A&M). The sorghum kin does as well: see [Hazard.SorghumKin].
func (s Species) Nitrate() bool { return s.has(nitrate) }

// Toxic reports whether the grass lames cattle in long cold spells: the old tall
// fescue with its fungus (Univ. of Missouri 2018, 2022; Cornell).
func (s Species) Toxic() bool { return s.has(toxic) }

// Saponin reports whether sheep, goats and horses take liver harm from it, as
// hay too (Univ. of Wisconsin Extension; USDA-ARS Logan 2007).
func (s Species) Saponin() bool { return s.has(saponin) }

// Called is the name of a species, and other spellings understood.
func (s Species) Called() (string, []string) { return s.Name, s.Aliases }
