package season

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
)

// risks lists the hazard plants of a paddock, each once: those that the farm file
// names and what its own grass is, looked up once for each species.
func (l *look) risks(p *Paddock) []grass.Hazard {
	own, known := l.stands[p.Grass.Name]
	if !known {
		own = p.Grass.HazardsOf()
		l.stands[p.Grass.Name] = own
	}
	if len(p.Hazards) == 0 {
		return own
	}
	return withPlants(slices.Clone(p.Hazards), own)
}

// withPlants adds plants that are not yet listed.
func withPlants(plants, more []grass.Hazard) []grass.Hazard {
	for _, h := range more {
		if !slices.ContainsFunc(plants, func(k grass.Hazard) bool { return k.Name == h.Name }) {
			plants = append(plants, h)
		}
	}
	return plants
}

// dangerous lists those of a paddock's risky plants that a frost on a day turns.
func dangerous(risks []grass.Hazard, read *readings, day civil.Date) []grass.Hazard {
	var plants []grass.Hazard
	height, age := 0.0, -1
	if v := read.standing(day); v != nil {
		height, age = v.Sample.Mean, day.DaysSince(v.Day)
	}
	for _, h := range risks {
		if h.HeldWhen(height, age) {
			plants = append(plants, h)
		}
	}
	return plants
}

// always reports whether one of the plants is dangerous after frost however
// tall it stands.
func always(risks []grass.Hazard) bool {
	return slices.ContainsFunc(risks, func(h grass.Hazard) bool { return !h.Conditional })
}

func longestWait(plants []grass.Hazard) int {
	days := 0
	for _, h := range plants {
		days = max(days, h.Days())
	}
	return days
}
