package season

import (
	"slices"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// A Caution goes with a GO: what may harm the animals all the same.
type Caution struct {
	Why    Risk     `json:"why"`
	Plants []string `json:"plants,omitempty"`
}

// Risk is what a caution is of.
type Risk string

// The risks, the deadliest first.
const (
	RiskHorses  Risk = "horses"  // sorghum kin, which no height makes safe for horses
	RiskHeld    Risk = "held"    // plants of a hold that the calendar ended
	RiskKin     Risk = "kin"     // sorghum kin in other grass
	RiskStill   Risk = "still"   // hazard plants in dormant grass
	RiskNitrate Risk = "nitrate" // small grains, corn, millet or sorghum kin in a drought or after it
	RiskBloat   Risk = "bloat"   // legumes in other grass
	RiskLiver   Risk = "liver"   // switchgrass, for sheep, goats and horses
)

// afterDrought is how many days after a drought plants are still full of poison
// and nitrate; waits published after the rain run 3 to 10 days (Univ. of Missouri
// AGW1017; Univ. of Nebraska 2021), and four more are ours.
const afterDrought = 14

// Stressed reports whether a drought lasts, or ended so lately that plants are
// still full of what it made.
func (v *View) Stressed() bool {
	return v.Drought || !v.RainCame.IsZero() && v.Today.DaysSince(v.RainCame) <= afterDrought
}

// cautions are those of a paddock that may be grazed.
func (l *look) cautions(v *View) (all []Caution) {
	weeds, own := l.weeds(v.Paddock), grass.StandHazard(v.Paddock.Grass)
	add := func(why Risk, is func(grass.Hazard) bool, plants ...grass.Hazard) {
		var names []string
		for _, h := range plants {
			if h.Name != "" && is(h) {
				names = append(names, h.Name)
			}
		}
		if len(names) > 0 {
			all = append(all, Caution{why, names})
		}
	}
	add(RiskHeld, func(grass.Hazard) bool { return true }, v.Caution...)
	kin := grass.Hazard.SorghumKin
	if l.mayStand(v, herd.Horse) {
		add(RiskHorses, kin, append(slices.Clip(weeds), own)...)
	}
	if v.Phase == Dormant {
		add(RiskStill, func(h grass.Hazard) bool { return h.Danger == grass.PrussicAcid && !h.Tall.Known() }, weeds...)
	} else {
		add(RiskKin, kin, weeds...)
	}
	if v.Stressed() && (v.Paddock.Grass.Nitrate() || slices.ContainsFunc(append(slices.Clip(weeds), own), kin)) {
		all = append(all, Caution{Why: RiskNitrate})
	}
	add(RiskBloat, func(h grass.Hazard) bool { return h.Danger == grass.Bloat }, append(slices.Clip(weeds), own)...)
	if v.Paddock.Grass.Saponin() && l.mayStand(v, herd.Horse, herd.Sheep, herd.Goat) {
		all = append(all, Caution{Why: RiskLiver})
	}
	return all
}

// mayStand reports whether animals of some sorts stand in a paddock, or could be
// turned in where none does.
func (l *look) mayStand(v *View, sorts ...herd.Animal) bool {
	return slices.ContainsFunc(l.herds, func(h herd.Herd) bool {
		return slices.Contains(sorts, h.Kind.Is) && (len(v.Herds.Herds) == 0 || slices.Contains(v.Herds.Herds, h.ID))
	})
}
