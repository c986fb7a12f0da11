package herd

// What a grazing must have to teach.
const (
	TeachDays   = 3   // days grazed
	TeachPlants = 10  // plants read at each end
	TeachInches = 3.0 // inches that the demand should have taken
	PriorInches = 10  // weight of the default, inches of the paddock
)

// Grazing is one finished stay on one paddock.
type Grazing struct {
	On, Off             float64 // heights when the animals came and left, inches
	PlantsOn, PlantsOff int     // how many plants each was read on
	Days                int     // days grazed
	DemandLb            float64 // what the animals took over the whole stay, lb
	Regrown             float64 // inches regrown meanwhile, as Credited has it
}

// Taught is what the grazings of one paddock say of it.
type Taught struct {
	Eaten    float64 // lb eaten per acre-inch
	Grazings int     // how many are in it
}

// LearnEaten gives the lb eaten per acre-inch on a paddock from its finished
// grazings, starting at the default of its stand and utilization:
//
//	(sum of lb eaten + 10 A default) / (sum of A inches taken + 10 A)
//
// A being the acres: 10 in of the default as prior. Inches taken are height on
// less height off, with the regrowth meanwhile added back. Ratio of sums, not
// mean of ratios: short grazings have noisy ratios.
//
// Whether a grazing teaches is decided by what the demand should have taken (by
// the default, 3 in or more), never by what it was seen to take: choosing those
// that were seen to take much keeps the readings that were wrong upwards and
// makes every paddock look poor. A grazing that seems to have taken nothing, or
// less than nothing, stays in for the same reason.
//
// The result is held within a fifth and five times the default, the width of
// the published ranges of one grass. Without acres or default nothing is learned.
func LearnEaten(acres, standard float64, grazings []Grazing) Taught {
	out := Taught{Eaten: atLeast0(standard)}
	if !positive(acres, standard) {
		return out
	}
	lb, acreInches := PriorInches*acres*standard, PriorInches*acres
	for _, g := range grazings {
		if g.teaches(acres, standard) {
			lb += g.DemandLb
			acreInches += acres * (g.On - g.Off + atLeast0(g.Regrown))
			out.Grazings++
		}
	}
	if out.Grazings == 0 {
		return out
	}
	const wide = 5
	if acreInches <= 0 {
		out.Eaten = finite(wide * standard)
		return out
	}
	out.Eaten = finite(min(max(lb/acreInches, standard/wide), standard*wide))
	return out
}

// teaches reports whether a grazing was long enough, its heights read on enough plants,
// and enough taken by demand.
func (g Grazing) teaches(acres, standard float64) bool {
	return positive(g.On, g.Off, g.DemandLb) && g.On <= maxHeight && g.Off <= maxHeight && g.Days >= TeachDays &&
		min(g.PlantsOn, g.PlantsOff) >= TeachPlants && g.DemandLb >= TeachInches*acres*standard
}
