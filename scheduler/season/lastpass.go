package season

import (
	"slices"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// LastPass is the order and the days in which each herd visits the native
// paddocks before they shut. The result's bunches are returned beside it.
func LastPass(s Sight) (herd.Pass, []herd.Bunch) { return s.look().lastPass() }

func (l *look) lastPass() (herd.Pass, []herd.Bunch) {
	var ahead []herd.Ahead
	for _, p := range l.Farm.natives() {
		v := l.view(p)
		if v.FallUse || v.Phase != Open || v.Dates.Cutoff.IsZero() || len(v.Shut) > 0 {
			continue
		}
		known := l.learn(p, v.Year)
		ahead = append(ahead, herd.Ahead{
			ID: p.ID, Ceiling: p.Grass.MaxLeaf.Value, Cutoff: v.Dates.Cutoff,
			Grass: herd.Grass{
				Acres: p.Acres, Eaten: known.eaten.Eaten, Height: l.heightNow(&v, known.growth), Floor: p.Rule.Leave, Regrowth: l.daily(&v, known.growth),
			},
		})
	}
	l.rank(ahead)
	bunches := l.bunches()
	return herd.LastPass(l.Today, bunches, ahead), bunches
}

// tooOld is the age in days from which a reading says no more than a guess
// (assumption).
const tooOld = 30

// lately is a paddock's height as read this season within the last 30 days,
// else the height to begin grazing, guessed.
func (l *look) lately(p *Paddock, d Dates) (height float64, guessed bool) {
	v := l.readings(p).standing(l.Today)
	if v == nil || v.Day.Before(d.Turn) || l.Today.DaysSince(v.Day) > tooOld {
		return p.begin(), true
	}
	return v.Sample.Mean, false
}

// heightNow is the height that a paddock has today: as read, with what has
// grown since it stood empty; the height to begin grazing where nobody read it
// lately (assumption).
func (l *look) heightNow(v *View, g grass.Growth) float64 {
	height, guessed := l.lately(v.Paddock, v.Dates)
	if guessed || v.Drought || !g.Known() {
		return height
	}
	_, from := l.moves.grazedDays(v.Paddock.ID, v.Reading.Day, l.Today)
	return g.Reach(height, l.behind(from, l.almanac(v.Year), v.Paddock.FrostOffset))
}

// rank gives the driest, thinnest and coldest paddocks the first visit, since
// they need the longest rest.
func (l *look) rank(ahead []herd.Ahead) {
	needs := make([]int, len(ahead))
	for i := range ahead {
		p, _ := l.Farm.Paddock(ahead[i].ID)
		needs[i] = need(p)
	}
	order := slices.Clone(needs)
	slices.Sort(order)
	order = slices.Compact(order)
	for i := range ahead {
		at, _ := slices.BinarySearch(order, needs[i])
		ahead[i].Urgency = at + 1
	}
}

// need orders paddocks by soil, then stand, then frost pocket; the lowest needs
// rest first.
func need(p *Paddock) int {
	n := max(-50, min(p.FrostOffset, 50))
	switch p.Soil {
	case grass.Dry:
		n -= 1000
	case grass.Moist:
		n += 1000
	}
	switch p.Stand {
	case grass.Thin:
		n -= 200
	case grass.Dense:
		n += 200
	}
	return n
}

// bunches are the herds by where they stand: those together move as one.
func (l *look) bunches() []herd.Bunch {
	var out []herd.Bunch
	for _, h := range l.placed() {
		demand := h.Demand(l.Today)
		i := slices.IndexFunc(out, func(b herd.Bunch) bool { return h.Paddock != "" && b.At == h.Paddock })
		if i < 0 {
			out = append(out, herd.Bunch{Herds: []string{h.ID}, Demand: demand, At: h.Paddock})
			continue
		}
		out[i].Herds = append(out[i].Herds, h.ID)
		out[i].Demand += demand
	}
	return out
}

// placed are the herds where the diary has them now; in no paddock where it
// does not know.
func (l *look) placed() []herd.Herd {
	out := slices.Clone(l.herds)
	for i := range out {
		at := l.moves.where[out[i].ID]
		if !slices.Contains(l.moves.Standing(at).Herds, out[i].ID) {
			at = ""
		}
		out[i].Paddock = at
	}
	return out
}
