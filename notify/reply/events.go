package reply

import (
	"strings"

	"stubbled/scheduler/diary"
)

// buildMove makes the facts of animals that left a paddock, entered one, or
// went from one to another.
func (p *parser) buildMove(c *piece, w when, told []int, stock []int) {
	herds, all := p.animals(c, stock)
	from, unclear := p.where(c, inFrom)
	to, unclear2 := p.where(c, inTo)
	if unclear == nil {
		unclear = unclear2
	}
	switch word := p.strayVerb(c); {
	case word != "":
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: word})
	case p.dryWater(c):
		id := p.reader.places[from[0]].ID
		c.ask = p.question(diary.Question{Why: diary.Unclear, Paddock: id,
			Choices: []diary.Choice{{Name: p.nameOf(id), Facts: p.offs(id, herds, w)}}})
	case unclear != nil:
		c.ask = p.whichPaddock(unclear.s, unclear.places, func(id string) []diary.Fact {
			if c.form == fOn {
				return p.ons(id, herds, w)
			}
			return p.offs(id, herds, w)
		})
	case c.form == fBareOff:
		p.placeless(c, told, func(id string) []diary.Fact { return p.offs(id, herds, w) })
	case c.form == fBareOn:
		p.bareOn(c, told, herds, all, w)
	case c.form == fOff && len(from) > 1 && p.sideBySide(c):
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: p.nameOf(p.reader.places[from[1]].ID)})
	case c.form == fMove && from[0] == to[0]:
		c.ask = p.question(diary.Question{Why: diary.Unclear, Paddock: p.reader.places[from[0]].ID})
	case c.form == fOffAt:
		p.buildStubble(c, p.reader.places[from[0]].ID, herds, w)
	default:
		left, entered := p.twoDays(c, w)
		w = entered
		for _, i := range from {
			c.facts = append(c.facts, p.offs(p.reader.places[i].ID, herds, left)...)
		}
		if len(to) > 1 { // one herd in two paddocks at once
			c.ask = p.whichPaddock("", to, func(id string) []diary.Fact { return p.ons(id, herds, w) })
			return
		}
		for _, i := range to {
			p.turnIn(c, p.reader.places[i].ID, herds, all, w)
		}
	}
}

// twoDays tells the days of a move that took two: off creek yesterday, on hill
// today.
func (p *parser) twoDays(c *piece, w when) (left, entered when) {
	if c.form != fMove || !w.many {
		return w, w
	}
	from, to := c.get(inFrom)[0], c.get(inTo)[0]
	left, entered = p.dayIn(c.from, to), p.dayIn(to, c.to)
	if from > to || left.word == "" || entered.word == "" || left.many || entered.many || entered.day.Before(left.day) {
		return w, w
	}
	return left, entered
}

// allUnits reports whether every number of a clause has its unit.
func (p *parser) allUnits(c *piece) bool {
	for _, i := range c.get(inHeights) {
		if p.toks[i].unit == 0 {
			return false
		}
	}
	return true
}

// buildStubble makes the facts of animals that left and of the height that they
// left. A number without its unit may be heads or an hour.
func (p *parser) buildStubble(c *piece, id string, herds []int, w when) {
	heights, q := p.heightsOf(c.get(inHeights))
	if q != nil || !p.allUnits(c) {
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: p.toks[c.get(inHeights)[0]].s, Paddock: id})
		return
	}
	f := p.fact(diary.Reading, id, w.day)
	f.Heights = heights
	c.facts = append(p.offs(id, herds, w), f)
}

// sideBySide reports whether two paddocks stand behind a verb of motion with
// nothing between them: moved from creek hill may lack a 'to'.
func (p *parser) sideBySide(c *piece) bool {
	verb := false
	for _, st := range c.caught {
		verb = verb || p.toks[st.tok].is(sMoved|sWent|sPut)
	}
	places := c.get(inFrom)
	for k := 1; k < len(places); k++ {
		if places[k] == places[k-1]+1 && verb {
			return true
		}
	}
	return false
}

// Verbs that speak of animals only where animals stand beside them, or behind
// them: 'drove off creek' may be said of a man, 'cows got out' of a bad fence.
var (
	needStock  = phrases("drove, brought, walked, ran, led, pushed, chased, trucked, gathered, hauled, herded, trailed, cleared, removed, rolled, taken, put, turned, let, placed, turned out, turned in, opened up, loaded, went, gone")
	stockAfter = phrases("got, took, have got")
)

// strayVerb gives a verb that may not be about the animals.
func (p *parser) strayVerb(c *piece) string {
	stock := c.get(inStock)
	for _, st := range c.caught {
		t := &p.toks[st.tok]
		if !t.is(sMoved|sPut|sWent) || t.is(sUs) {
			continue
		}
		if needStock[t.s] && len(stock) == 0 && c.form != fOn {
			return t.s
		}
		if stockAfter[t.s] && (len(stock) == 0 || stock[len(stock)-1] < st.tok) {
			return t.s
		}
	}
	return ""
}

// animals gives the herds that a clause speaks of, or that were spoken of
// before it; all says that every herd is meant.
func (p *parser) animals(c *piece, stock []int) (herds []int, all bool) {
	for _, i := range stock {
		t := &p.toks[i]
		if t.is(sHerd) {
			for _, h := range t.herds {
				herds = include(herds, h)
			}
			if len(t.herds) > 1 && !t.is(sAll) {
				all = false
			}
		}
		all = all || t.is(sAll) && !t.is(sHerd)
	}
	if len(herds) > 0 {
		all = false
	}
	if len(herds) == 0 && len(p.reader.herds) == 1 {
		herds = []int{0}
	}
	return herds, all
}

func (p *parser) offs(id string, herds []int, w when) []diary.Fact {
	if len(herds) == 0 || (len(p.reader.herds) > 0 && len(herds) == len(p.reader.herds)) && len(herds) > 1 {
		return []diary.Fact{p.fact(diary.Off, id, w.day)}
	}
	var facts []diary.Fact
	for _, h := range herds {
		f := p.fact(diary.Off, id, w.day)
		f.Herd = p.reader.herds[h].ID
		facts = append(facts, f)
	}
	return facts
}

func (p *parser) ons(id string, herds []int, w when) []diary.Fact {
	facts := p.offs(id, herds, w)
	for i := range facts {
		facts[i].Kind = diary.On
	}
	return facts
}

// turnIn makes the facts of animals that entered a paddock. Where several herds
// could be meant it asks which.
func (p *parser) turnIn(c *piece, id string, herds []int, all bool, w when) {
	if p.whichOf(c, herds, all) {
		choices := herds
		if len(choices) == 0 {
			choices = every(len(p.reader.herds))
		}
		c.ask = p.whichHerd(choices, func(herd string) []diary.Fact {
			f := p.fact(diary.On, id, w.day)
			f.Herd = herd
			return []diary.Fact{f}
		})
		return
	}
	c.facts = append(c.facts, p.ons(id, herds, w)...)
}

// whichOf reports whether it is not clear which herd is meant.
func (p *parser) whichOf(c *piece, herds []int, all bool) bool {
	if len(p.reader.herds) < 2 || all && c.form != fMove {
		return false
	}
	if len(herds) == 0 {
		return true
	}
	for _, i := range c.get(inStock) {
		if t := &p.toks[i]; t.is(sHerd) && len(t.herds) > 1 {
			return true // cows, where two herds are of cows
		}
	}
	return false
}

func every(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// bareOn makes the fact of animals turned in where no paddock is named.
func (p *parser) bareOn(c *piece, told []int, herds []int, all bool, w when) {
	if p.whichOf(c, herds, all) {
		place, from := p.contextPlace(told)
		if from == fromNowhere {
			c.ask = p.question(diary.Question{Why: diary.WhichPaddock})
			return
		}
		p.turnIn(c, p.reader.places[place].ID, herds, all, w)
		return
	}
	p.placeless(c, told, func(id string) []diary.Fact { return p.ons(id, herds, w) })
}

// buildFrost makes the fact of a frost that a person saw.
func (p *parser) buildFrost(c *piece, w when) {
	for i := c.from; i < c.to; i++ {
		if t := &p.toks[i]; t.is(sTemp) && t.val > 36 {
			c.ask = p.question(diary.Question{Why: diary.Unclear, Word: t.s}) // no frost at 40 F
			return
		}
	}
	for _, i := range c.get(inHeights) {
		t := &p.toks[i]
		switch {
		case t.frac && len(t.parts) == 2:
			day := p.numeric(*t, int(t.parts[0]), int(t.parts[1]), 0)
			if !day.is(sDate) {
				c.ask = p.question(diary.Question{Why: diary.WhichDay, Word: t.s})
				return
			}
			w = when{day: day.day, word: t.s}
		case t.unit != 0 || t.val < 15 || t.val > 36:
			c.ask = p.question(diary.Question{Why: diary.Unclear, Word: t.s})
			return
		}
	}
	for _, i := range c.get(inRange) {
		t := p.toks[i]
		day := p.numeric(t, int(t.val), int(t.hi), 0)
		if !day.is(sDate) {
			c.ask = p.question(diary.Question{Why: diary.WhichDay, Word: t.s})
			return
		}
		w = when{day: day.day, word: t.s}
	}
	places, unclear := p.where(c, inPlace)
	make := func(id string) []diary.Fact { return []diary.Fact{p.fact(diary.Frost, id, w.day)} }
	switch {
	case unclear != nil:
		c.ask = p.whichPaddock(unclear.s, unclear.places, make)
	case p.openWater(c):
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: "froze", Paddock: p.reader.places[places[0]].ID})
	case len(places) == 0:
		c.facts = make("")
	}
	if c.ask != nil || unclear != nil {
		return
	}
	for _, i := range places {
		c.facts = append(c.facts, make(p.reader.places[i].ID)...)
	}
}

// openWater tells 'creek froze', which may be said of the water, from 'froze on
// creek'.
func (p *parser) openWater(c *piece) bool {
	frost, place := c.get(inFrost), c.get(inPlace)
	return len(frost) > 0 && len(place) > 0 && place[0] < frost[0] && (p.toks[frost[0]].s == "froze" || p.toks[frost[0]].s == "freeze")
}

// waters are words for water in the names of paddocks: an empty creek may be
// one without water.
var waters = phrases("creek, river, pond, tank, spring, springs, lake, well, slough, bayou, presa, pozo, arroyo, rio, laguna, charco, ojo")

// dryWater reports whether a clause says that something is empty which may be
// water.
func (p *parser) dryWater(c *piece) bool {
	empty := false
	for _, st := range c.caught {
		empty = empty || p.toks[st.tok].is(sEmpty)
	}
	if !empty || len(c.get(inStock)) > 0 {
		return false
	}
	for _, i := range c.get(inFrom) {
		for w := range strings.FieldsSeq(p.toks[i].s) {
			if waters[fold(w)] {
				return true
			}
		}
	}
	return false
}

// kinds of the plain events, and whether they are of the whole farm where no
// paddock is named.
var eventKinds = map[form]struct {
	kind    diary.Kind
	farm    bool
	manager bool
}{
	fHayed:    {kind: diary.Hayed},
	fBurned:   {kind: diary.Burned},
	fBrown:    {kind: diary.Brown, farm: true},
	fRegrowth: {kind: diary.Regrowth},
	fClear:    {kind: diary.Clear, manager: true},
	fDry:      {kind: diary.Dry, farm: true, manager: true},
}

// buildEvent makes the facts of hay, fire, brown tops and the like.
func (p *parser) buildEvent(c *piece, w when, told []int) {
	if c.form == fWean {
		p.buildWean(c, w)
		return
	}
	e := eventKinds[c.form]
	if e.manager && !p.who.Manager {
		c.ask = p.question(diary.Question{Why: diary.NotAllowed, Word: p.span(c)})
		return
	}
	var left []float64
	if nums := c.get(inHeights); len(nums) > 0 {
		h, q := p.heightsOf(nums)
		if q != nil {
			c.ask = p.question(*q)
			return
		}
		left = h
	}
	make := func(id string) []diary.Fact {
		f := p.fact(e.kind, id, w.day)
		f.Heights = left
		return []diary.Fact{f}
	}
	places, unclear := p.where(c, inPlace)
	switch {
	case unclear != nil:
		c.ask = p.whichPaddock(unclear.s, unclear.places, make)
	case len(places) > 0:
		for _, i := range places {
			c.facts = append(c.facts, make(p.reader.places[i].ID)...)
		}
	case e.farm:
		c.facts = make("")
	case c.form == fClear: // animals may be let in where plants are poisonous: the name must be said
		c.ask = p.whichPaddock("", p.askedPlaces(), make)
	default:
		p.placeless(c, told, make)
	}
}

// span gives the words of a clause.
func (p *parser) span(c *piece) string {
	return p.text[p.toks[c.from].from:p.toks[c.to-1].to]
}

// buildWean makes the fact that the calves of a herd were weaned.
func (p *parser) buildWean(c *piece, w when) {
	var herds []int
	for _, i := range c.get(inStock) {
		for _, h := range p.toks[i].herds {
			herds = include(herds, h)
		}
	}
	if len(herds) == 0 {
		herds = p.reader.ofKind(cows)
	}
	if len(herds) == 0 {
		herds = every(len(p.reader.herds))
	}
	make := func(id string) []diary.Fact {
		f := p.fact(diary.Wean, "", w.day)
		f.Herd = id
		return []diary.Fact{f}
	}
	if len(herds) != 1 {
		c.ask = p.whichHerd(herds, make)
		return
	}
	c.facts = make(p.reader.herds[herds[0]].ID)
}
