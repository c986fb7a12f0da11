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
	for i := range l.farm.Paddocks {
		p := &l.farm.Paddocks[i]
		v := l.view(p)
		if !p.Native() || v.FallUse || v.Phase != Open || v.Dates.Cutoff.IsZero() || v.Hold != nil {
			continue
		}
		height := p.begin()
		if v.Reading != nil {
			height = v.Reading.Sample.Mean
		}
		grows := l.growth(p, v.Year)
		ahead = append(ahead, herd.Ahead{
			ID: p.ID, Ceiling: p.Grass.MaxLeaf.Value, Cutoff: v.Dates.Cutoff,
			Grass: herd.Grass{
				Acres: p.Acres, Eaten: l.eaten(p, grows).Eaten, Height: height, Floor: p.Rule.Leave, Regrowth: l.regrowth(&v, grows),
			},
		})
	}
	l.rank(ahead)
	bunches := l.bunches()
	return herd.LastPass(l.today, bunches, ahead), bunches
}

// rank gives the driest, thinnest and coldest paddocks the first visit, since
// they need the longest rest.
func (l *look) rank(ahead []herd.Ahead) {
	need := func(id string) int {
		p, _ := l.farm.Paddock(id)
		n := p.FrostOffset
		switch p.Soil {
		case grass.Dry:
			n -= 100
		case grass.Moist:
			n += 100
		}
		if p.Stand == grass.Thin {
			n -= 50
		}
		return n
	}
	order := make([]int, 0, len(ahead))
	for _, a := range ahead {
		order = append(order, need(a.ID))
	}
	slices.Sort(order)
	order = slices.Compact(order)
	for i := range ahead {
		ahead[i].Urgency = slices.Index(order, need(ahead[i].ID)) + 1
	}
}

// bunches are the herds by where they stand: those together move as one.
func (l *look) bunches() []herd.Bunch {
	at := map[string]string{}
	for i := range l.farm.Paddocks {
		for _, id := range l.moves.Standing(l.farm.Paddocks[i].ID).Herds {
			at[id] = l.farm.Paddocks[i].ID
		}
	}
	var out []herd.Bunch
	for _, h := range l.herds {
		where, demand := at[h.ID], h.Demand(l.today)
		i := slices.IndexFunc(out, func(b herd.Bunch) bool { return where != "" && b.At == where })
		if i < 0 {
			out = append(out, herd.Bunch{Herds: []string{h.ID}, Demand: demand, At: where})
			continue
		}
		out[i].Herds = append(out[i].Herds, h.ID)
		out[i].Demand += demand
	}
	return out
}
