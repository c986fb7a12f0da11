package season

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// risks lists the hazard plants that can hold a paddock, each once: what its own
// grass is, looked up once for each species, those that the farm file names, and
// those that somebody reported, whoever it was: that only makes things stricter.
func (l *look) risks(p *Paddock) []grass.Hazard {
	own, known := l.stands[p.Grass.Name]
	if !known {
		own = p.Grass.HazardsOf()
		l.stands[p.Grass.Name] = own
	}
	weeds := l.weeds(p)
	if len(weeds) == 0 {
		return own
	}
	weeds = slices.DeleteFunc(slices.Clone(weeds), func(h grass.Hazard) bool { return h.StandOnly })
	return withPlants(weeds, own)
}

// weeds are the hazard plants of a paddock besides its own grass: of the farm
// file and of the diary.
func (l *look) weeds(p *Paddock) []grass.Hazard {
	weeds := p.Hazards
	for _, f := range l.Book.Every(diary.Plant) {
		if h, ok := grass.LookupHazard(f.Plant); ok && f.Paddock == p.ID && !f.Day.After(l.Today) {
			weeds = withPlants(slices.Clip(weeds), []grass.Hazard{h})
		}
	}
	return weeds
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
	return slices.ContainsFunc(risks, func(h grass.Hazard) bool { return !h.Tall.Known() })
}

func longestWait(plants []grass.Hazard) int {
	days := 0
	for _, h := range plants {
		days = max(days, h.Days())
	}
	return days
}
