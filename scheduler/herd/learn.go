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

// Ignored says why a grazing taught nothing.
type Ignored uint8

// The reasons, in the order they are looked for.
const (
	HeightMissing Ignored = iota + 1
	TooShort              // under 3 days
	TooFewPlants          // under 10 at an end
	TooLittle             // by demand it should have taken under 3 in
)

// Taught is what the grazings of one paddock say of it.
type Taught struct {
	Eaten    float64 // lb eaten per acre-inch
	Grazings int     // how many are in it
	Ignored  []Ignored
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
// the published ranges of one grass. Ignored has one entry for each grazing, 0
// where it taught. Without acres or default nothing is learned.
func LearnEaten(acres, standard float64, grazings []Grazing) Taught {
	out := Taught{Eaten: atLeast0(standard), Ignored: make([]Ignored, len(grazings))}
	known := positive(acres, standard)
	lb, acreInches := PriorInches*acres*standard, PriorInches*acres
	for i, g := range grazings {
		why := g.ignored(acres, standard)
		if !known && why == 0 {
			why = HeightMissing
		}
		if out.Ignored[i] = why; why != 0 {
			continue
		}
		lb += g.DemandLb
		acreInches += acres * (g.On - g.Off + atLeast0(g.Regrown))
		out.Grazings++
	}
	if !known || out.Grazings == 0 {
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

func (g Grazing) ignored(acres, standard float64) Ignored {
	switch {
	case !positive(g.On, g.Off, g.DemandLb) || g.On > maxHeight || g.Off > maxHeight:
		return HeightMissing
	case g.Days < TeachDays:
		return TooShort
	case g.PlantsOn < TeachPlants || g.PlantsOff < TeachPlants:
		return TooFewPlants
	case g.DemandLb < TeachInches*acres*standard:
		return TooLittle
	}
	return 0
}
