package season

import (
	"slices"
	"sort"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// A Period is one grazing period: one herd's time in one paddock.
type Period struct {
	Herd string     // id; empty where nobody named one
	From civil.Date // zero where it stood there when the farm file was written
	To   civil.Date // zero while it stands there
	Told bool       // its end was told by an `off`, not by turning up elsewhere
	On   diary.Fact // what began it; zero for the farm file's
}

// ground is what the moves say of one paddock so far.
type ground struct {
	stays   []Period
	open    []int // indexes of the stays that go on
	unsure  bool  // the herd was reported elsewhere, and nobody said off
	told    bool  // somebody once said on or off
	lastOff civil.Date
}

// Moves is where every herd has been.
type Moves struct {
	ground map[string]*ground
	herds  bool // the farm file has herds
}

// Follow replays the moves of the diary from where the farm file put the herds.
//
// A herd stands in one place: an `on` elsewhere ends its stay, but only `off`
// makes a paddock empty. Until somebody says it, nobody knows: a gate may have
// been left open.
func Follow(f *Farm, book *diary.Book, today civil.Date) *Moves {
	m := &Moves{ground: map[string]*ground{}, herds: len(f.Herds) > 0}
	for _, h := range f.Herds {
		if h.Paddock != "" {
			m.at(h.Paddock).begin(Period{Herd: h.ID})
		}
	}
	for _, fact := range book.Moves() {
		if fact.Day.After(today) {
			break
		}
		if fact.Kind == diary.On {
			m.on(f, fact)
		} else {
			m.at(fact.Paddock).off(fact)
		}
	}
	return m
}

func (m *Moves) at(paddock string) *ground {
	g := m.ground[paddock]
	if g == nil {
		g = &ground{}
		m.ground[paddock] = g
	}
	return g
}

func (m *Moves) on(f *Farm, fact diary.Fact) {
	herd := fact.Herd
	if herd == "" && len(f.Herds) == 1 {
		herd = f.Herds[0].ID
	}
	if herd != "" {
		for id, g := range m.ground {
			if id != fact.Paddock {
				g.wentElsewhere(herd, fact.Day)
			}
		}
	}
	g := m.at(fact.Paddock)
	g.told, g.unsure = true, false
	if g.has(herd) {
		return
	}
	g.begin(Period{Herd: herd, From: fact.Day, On: fact})
}

func (g *ground) begin(s Period) {
	g.open = append(g.open, len(g.stays))
	g.stays = append(g.stays, s)
}

func (g *ground) has(herd string) bool {
	return slices.ContainsFunc(g.open, func(i int) bool { return g.stays[i].Herd == herd })
}

// end closes the stays that match and reports whether any did.
func (g *ground) end(day civil.Date, told bool, match func(Period) bool) bool {
	var left []int
	for _, i := range g.open {
		if !match(g.stays[i]) {
			left = append(left, i)
			continue
		}
		g.stays[i].To, g.stays[i].Told = day, told
	}
	ended := len(left) < len(g.open)
	g.open = left
	return ended
}

func (g *ground) wentElsewhere(herd string, day civil.Date) {
	if g.end(day, false, func(s Period) bool { return s.Herd == herd }) && len(g.open) == 0 {
		g.unsure = true
	}
}

func (g *ground) off(fact diary.Fact) {
	g.told = true
	g.end(fact.Day, true, func(s Period) bool { return fact.Herd == "" || s.Herd == fact.Herd || s.Herd == "" })
	if len(g.open) == 0 {
		g.unsure = false
		g.lastOff = fact.Day
		// A stay that ended by turning up elsewhere really ended now.
		for i := range g.stays {
			if !g.stays[i].To.IsZero() && !g.stays[i].Told {
				g.stays[i].To, g.stays[i].Told = fact.Day, true
			}
		}
	}
}

// Standing is who stands in a paddock now.
func (m *Moves) Standing(paddock string) Standing {
	g := m.ground[paddock]
	if g == nil {
		if !m.herds {
			return Standing{Occupancy: Unknown}
		}
		return Standing{Occupancy: Empty}
	}
	s := Standing{Occupancy: Empty, LastOff: g.lastOff}
	for n, i := range g.open {
		stay := g.stays[i]
		if stay.Herd != "" {
			s.Herds = append(s.Herds, stay.Herd)
		}
		if n == 0 || stay.From.Before(s.Since) {
			s.Since = stay.From
		}
		if s.Entered == nil || stay.On.ID > s.Entered.ID {
			s.Entered = &g.stays[i].On
		}
	}
	sort.Strings(s.Herds)
	switch {
	case len(g.open) > 0:
		s.Occupancy = Grazed
	case g.unsure || !g.told && !m.herds:
		s.Occupancy = Unknown
	}
	return s
}

// Periods lists who stood in a paddock, in the order they came.
func (m *Moves) Periods(paddock string) []Period {
	if g := m.ground[paddock]; g != nil {
		return g.stays
	}
	return nil
}

// EmptyFrom reports whether a paddock is known to have been empty on every day
// from from to to, both counted in. The day that animals left is not counted
// as grazed.
func (m *Moves) EmptyFrom(paddock string, from, to civil.Date) bool {
	g := m.ground[paddock]
	if g == nil {
		return m.herds
	}
	if !m.herds && !g.told || g.unsure {
		return false
	}
	for _, s := range g.stays {
		ended := !s.To.IsZero() && !s.To.After(from)
		begins := !s.From.IsZero() && s.From.After(to)
		if !ended && !begins {
			return false
		}
	}
	return true
}
