package grass

import (
	"stubbled/scheduler/figure"
)

// Danger is what a hazard plant does to stock after a frost.
type Danger string

const (
	PrussicAcid Danger = "prussic acid" // hydrogen cyanide: kills within the hour
	Bloat       Danger = "bloat"        // frothy bloat from frosted legumes
)

// Hazard is one plant that makes a paddock unsafe, after a frost or without one.
type Hazard struct {
	Name    string
	Aliases []string
	Danger  Danger
	// Wait is the days held after the last frost that counts; the last of them is
	// still held. It is the longest wait published, never a promise of safety.
	Wait figure.Figure
	// Safe is the height from which the sorghum kin may be grazed without any
	// frost, inches; unknown for all others. Short of it, or stressed by drought,
	// it is deadly.
	Safe figure.Figure
	// Tall is the height at a frost from which that frost holds nothing, inches;
	// unknown where every frost holds. Short of it the stand is not begun either.
	Tall figure.Figure
	// KilledAt is the one freeze that kills it, degrees F, and Killed the least
	// days it is held after that; unknown where the farm's killing freeze does.
	KilledAt, Killed figure.Figure
	// ByEye plants are held until a person has seen the leaves brown and dry: no
	// wait in days is published.
	ByEye bool
	// StandOnly plants hold only where they are the paddock's own grass; mixed
	// into another they are a caution.
	StandOnly bool
}

// Days is Wait in whole days.
func (h Hazard) Days() int { return int(h.Wait.Value) }

// SorghumKin reports whether the plant is deadly without any frost while short
// or stressed, and gathers nitrate in a drought.
func (h Hazard) SorghumKin() bool { return h.Safe.Known() }

// StaleReading is the age in days from which a reading no longer shows that a
// stand was tall enough at frost.
const StaleReading = 21

// HeldWhen reports whether a frost holds a paddock with this plant, given the
// stand's height at the frost in inches and the age of that reading in days
// (negative: never read). Plants without a Tall always hold. Indiangrass and
// mixed natives hold where the stand was short of it or was not read in the 21
// days before. An absurd height counts as never read.
func (h Hazard) HeldWhen(height float64, ageDays int) bool {
	return !h.Tall.Known() || !Believable(height) || height < h.Tall.Value || ageDays < 0 || ageDays > StaleReading
}

// Called is the name of a plant, and other words for it.
func (h Hazard) Called() (string, []string) { return h.Name, h.Aliases }

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
	if !s.has(stands) {
		return Hazard{}
	}
	h, _ := Hazards.Find(s.Name)
	return h
}
