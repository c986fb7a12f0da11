package season

import (
	"cmp"
	"maps"
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// A Period is one grazing period: one herd's time in one paddock.
type Period struct {
	Herd string      // id; empty where nobody named one
	From civil.Date  // zero where it stood there when the farm file was written
	To   civil.Date  // zero while it stands there
	Told bool        // its end was told by an `off`, not only by turning up elsewhere
	On   *diary.Fact // what began it, not to be changed; of ID 0 for the farm file's
}

// A doubt is the days on which nobody knew whether a paddock was empty: its
// herd was reported elsewhere and nobody said off; or nobody has said anything yet,
// and the farm has no herd on file, or one of which nobody said where it stands.
type doubt struct {
	from, to civil.Date // from is zero for always, to while it lasts
}

// ground is what the moves say of one paddock so far.
type ground struct {
	stays  []Period
	open   []int // indexes of the stays that go on
	doubts []doubt
	offs   []civil.Date // the days on which it was told empty
}

// Moves is where every herd has been.
type Moves struct {
	ground map[string]*ground
	where  map[string]string // the paddock that each herd was last reported in
	herds  bool              // the farm file has herds
	// several herds are on file; only is the one where there is but one.
	several bool
	only    string
	astray  map[string]bool // those that nobody has placed yet
	own     map[string]bool // ground that nobody else holds
}

// Herds reports whether the farm file has herds.
func (m *Moves) Herds() bool { return m.herds }

// Follow replays the moves of the diary from where the farm file put the herds.
//
// A herd stands in one place: an `on` elsewhere ends its stay, but only `off`
// makes a paddock empty. Until somebody says it, nobody knows: a gate may have
// been left open.
func Follow(f *Farm, book *diary.Book, today civil.Date) *Moves {
	return begun(f).with(book.Moves()[:book.VersionOf(diary.On, today).Facts])
}

// begun is where the farm file put the herds.
func begun(f *Farm) *Moves {
	m := &Moves{ground: map[string]*ground{}, where: map[string]string{}, herds: len(f.Herds) > 0, several: len(f.Herds) > 1, astray: map[string]bool{}}
	for _, h := range f.Herds {
		if h.Paddock == "" {
			m.astray[h.ID] = true
		}
	}
	for i := range f.Paddocks {
		if len(m.astray) > 0 {
			m.at(f.Paddocks[i].ID)
		}
	}
	for _, h := range f.Herds {
		if h.Paddock != "" {
			m.at(h.Paddock).begin(Period{Herd: h.ID, On: &diary.Fact{}})
			m.where[h.ID] = h.Paddock
		}
	}
	if len(f.Herds) == 1 {
		m.only = f.Herds[0].ID
	}
	return m
}

// with is the moves with more behind them. What is known of a paddock that none of
// them touches stays the same ground.
func (m *Moves) with(facts []*diary.Fact) *Moves {
	next := *m
	next.ground, next.where, next.astray, next.own = maps.Clone(m.ground), maps.Clone(m.where), maps.Clone(m.astray), map[string]bool{}
	for _, fact := range facts {
		if fact.Kind == diary.On {
			next.on(fact, cmp.Or(fact.Herd, m.only))
		} else {
			next.at(fact.Paddock).off(fact, m.several, next.otherAstray(fact.Herd))
		}
	}
	return &next
}

// keeping is the moves with the old ground wherever it says the same.
func (m *Moves) keeping(old *Moves) *Moves {
	for paddock, g := range m.ground {
		if old != nil && old.ground[paddock].same(g) {
			m.ground[paddock] = old.ground[paddock]
		}
	}
	return m
}

func (g *ground) same(o *ground) bool {
	return g != nil && slices.Equal(g.open, o.open) && slices.Equal(g.doubts, o.doubts) && slices.Equal(g.offs, o.offs) &&
		slices.EqualFunc(g.stays, o.stays, func(a, b Period) bool {
			return a.On.ID == b.On.ID && a.Herd == b.Herd && a.From == b.From && a.To == b.To && a.Told == b.Told
		})
}

// Since names the paddocks of which something else is known than before.
func (m *Moves) Since(before *Moves) (paddocks []string) {
	if m == before {
		return nil
	}
	for paddock, g := range m.ground {
		if before.ground[paddock] != g {
			paddocks = append(paddocks, paddock)
		}
	}
	for paddock := range before.ground {
		if m.ground[paddock] == nil {
			paddocks = append(paddocks, paddock)
		}
	}
	return paddocks
}

// at is the ground of a paddock, to be changed: nobody else's.
func (m *Moves) at(paddock string) *ground {
	g := m.ground[paddock]
	switch {
	case g == nil && (!m.herds || len(m.astray) > 0):
		g = &ground{doubts: []doubt{{}}}
	case g == nil:
		g = &ground{}
	case !m.own[paddock]:
		g = &ground{slices.Clone(g.stays), slices.Clone(g.open), slices.Clone(g.doubts), slices.Clone(g.offs)}
	}
	if m.own != nil {
		m.own[paddock] = true
	}
	m.ground[paddock] = g
	return g
}

func (m *Moves) on(fact *diary.Fact, herd string) {
	if from, ok := m.where[herd]; ok && from != fact.Paddock {
		m.at(from).wentElsewhere(herd, fact.Day)
	}
	if herd != "" {
		m.where[herd] = fact.Paddock
		m.placed(herd, fact.Day)
	}
	g := m.at(fact.Paddock)
	if !g.never() || !m.otherAstray(herd) {
		g.known(fact.Day)
	}
	if !slices.ContainsFunc(g.open, func(i int) bool { return g.stays[i].Herd == herd }) {
		g.begin(Period{Herd: herd, From: fact.Day, On: fact})
	}
}

// placed notes that a herd was found. Once all were, ground of which nobody ever said
// anything is empty.
func (m *Moves) placed(herd string, day civil.Date) {
	if !m.astray[herd] {
		return
	}
	if delete(m.astray, herd); len(m.astray) > 0 {
		return
	}
	for paddock, g := range m.ground {
		if g.never() {
			m.at(paddock).known(day)
		}
	}
}

// otherAstray reports whether a herd besides one may be anywhere; where none is named
// all have been looked for.
func (m *Moves) otherAstray(herd string) bool {
	return herd != "" && len(m.astray) > 0 && !(len(m.astray) == 1 && m.astray[herd])
}

func (g *ground) begin(s Period) {
	g.open = append(g.open, len(g.stays))
	g.stays = append(g.stays, s)
}

// unsure reports whether nobody knows now whether the paddock is empty.
func (g *ground) unsure() bool {
	return len(g.doubts) > 0 && g.doubts[len(g.doubts)-1].to.IsZero()
}

// never reports whether nobody has ever said that no herd stands there which nobody has
// placed.
func (g *ground) never() bool { return g.unsure() && g.doubts[len(g.doubts)-1].from.IsZero() }

// known ends a doubt on a day.
func (g *ground) known(day civil.Date) {
	if g.unsure() {
		g.doubts[len(g.doubts)-1].to = day
	}
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
		g.doubts = append(g.doubts, doubt{from: day})
	}
}

// off empties a paddock of one herd, or of all. An off that comes after the herd
// was reported elsewhere says when the ground was last grazed. Where nobody named the
// herd that went in, one of several that left may be another one: then nobody knows.
func (g *ground) off(fact *diary.Fact, several, others bool) {
	unnamed := slices.ContainsFunc(g.open, func(i int) bool { return g.stays[i].Herd == "" })
	g.end(fact.Day, true, func(s Period) bool { return fact.Herd == "" || s.Herd == fact.Herd || s.Herd == "" })
	if len(g.open) > 0 || others && g.never() {
		return
	}
	if several && unnamed && fact.Herd != "" {
		g.doubts = append(g.doubts, doubt{from: fact.Day})
		return
	}
	if g.unsure() {
		since := g.doubts[len(g.doubts)-1].from
		for i := len(g.stays) - 1; i >= 0; i-- {
			if s := &g.stays[i]; !s.Told && s.To == since {
				s.Told = true
			}
		}
	}
	g.known(fact.Day)
	g.offs = append(g.offs, fact.Day)
}
