package reply

import "stubbled/scheduler/diary"

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
