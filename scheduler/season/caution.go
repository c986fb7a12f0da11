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

// CautionsFor are those that go with sending the animals of other ground here.
func (v *View) CautionsFor(from *View) []Caution {
	return v.harming(func(herds []string) bool {
		return from.Herds.Occupancy == Unknown && len(herds) > 0 || slices.ContainsFunc(herds, func(h string) bool { return slices.Contains(from.Herds.Herds, h) })
	})
}

// harming are the cautions of a paddock without those that none of the animals meant
// is harmed by.
func (v *View) harming(meant func(herds []string) bool) []Caution {
	return slices.DeleteFunc(slices.Clone(v.Cautions), func(c Caution) bool {
		return c.Why == RiskLiver && !meant(v.Liver) || c.Why == RiskHorses && !meant(v.Barred)
	})
}

// cautions are those of a paddock, whatever stands there, of all herds on file.
func (l *look) cautions(v *View) (all []Caution) {
	weeds, own := l.weeds(v.Paddock), grass.StandHazard(v.Paddock.Grass)
	if len(weeds)+len(v.Caution)+len(v.Liver) == 0 && own.Name == "" && !v.Paddock.Grass.Nitrate() {
		return nil // most ground: it is looked at each morning
	}
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
	if len(v.Barred) > 0 {
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
	if len(v.Liver) > 0 {
		all = append(all, Caution{Why: RiskLiver})
	}
	return all
}

// grazes reports whether one of some herds stands in a paddock, or could be turned in
// where none does.
func (v *View) grazes(herds []string) bool {
	return len(herds) > 0 && (len(v.Herds.Herds) == 0 || slices.ContainsFunc(herds, func(h string) bool { return slices.Contains(v.Herds.Herds, h) }))
}

// herdsOf are the herds on file of some sorts, by id.
func (l *look) herdsOf(sorts ...herd.Animal) (ids []string) {
	for _, h := range l.herds {
		if slices.Contains(sorts, h.Kind.Is) {
			ids = append(ids, h.ID)
		}
	}
	return ids
}
