package grass

import (
	"slices"

	"stubbled/scheduler/figure"
	"stubbled/scheduler/spell"
)

// Danger is what a hazard plant does to stock after a frost.
type Danger string

// The dangers.
const (
	PrussicAcid Danger = "prussic acid" // hydrogen cyanide: kills within the hour
	Bloat       Danger = "bloat"        // frothy bloat from frosted legumes
)

// Hazard is one plant that makes a paddock unsafe for a while after frost.
type Hazard struct {
	Name    string
	Aliases []string
	Danger  Danger
	// Wait is the days held after the last frost that counts; the last of them is
	// still held. It is the longest wait published, never a promise of safety.
	Wait figure.Figure
	// ShortBelow is the regrowth height under which the plant is dangerous even
	// without a frost, inches; unknown where no source gives one.
	ShortBelow figure.Figure
	// Conditional plants count only while short or unread: see HeldWhen.
	Conditional bool
}

// Days is Wait in whole days.
func (h Hazard) Days() int { return int(h.Wait.Value) }

// ShortStand is the height under which indiangrass may be risky after a frost, inches.
// From memory (medium), an NRCS plant guide; not seen.
const ShortStand = 8.0

// StaleReading is the age in days from which a reading no longer shows that a
// conditional stand was tall enough at frost.
const StaleReading = 21

// HeldWhen reports whether a frost holds a paddock with this plant, given the
// stand's height at the frost in inches and the age of that reading in days
// (negative: never read). Unconditional plants always hold. Indiangrass and
// mixed natives hold where the stand was under 8 in or was not read in the 21
// days before. An absurd height counts as never read.
func (h Hazard) HeldWhen(height float64, ageDays int) bool {
	if !h.Conditional {
		return true
	}
	return !Believable(height) || height < ShortStand || ageDays < 0 || ageDays > StaleReading
}

// Hazards returns all hazard plants. The slice is the caller's own.
func Hazards() []Hazard { return slices.Clone(hazards) }

// LookupHazard finds a hazard plant by name or alias, without regard to case,
// commas and hyphens.
func LookupHazard(name string) (Hazard, bool) { return spell.Find(hazards, name, Hazard.names) }

// NearestHazard gives the known hazard plant closest to a misspelt one.
func NearestHazard(name string) (string, bool) {
	return spell.Nearest(hazards, name, Hazard.names)
}

func (h Hazard) names() (string, []string) { return h.Name, h.Aliases }

// HazardsOf returns the hazards a stand of this species brings with it, without
// anybody naming a weed: indiangrass and mixed natives, sorghum kin, legumes.
func (s Species) HazardsOf() []Hazard {
	if h := StandHazard(s); h.Name != "" {
		return []Hazard{h}
	}
	return nil
}

// StandHazard is the hazard that a stand of this species is by itself; the zero
// Hazard where it is none.
func StandHazard(s Species) Hazard {
	name := s.Hazard
	if s.Dhurrin {
		name = s.Name
	}
	h, _ := LookupHazard(name)
	return h
}
