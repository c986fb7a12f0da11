package reply

import "stubbled/scheduler/diary"

// build makes the facts or the question of each clause.
func (p *parser) build(pieces []piece) {
	var stock []int // tokens: the animals last spoken of
	sentence := -1
	for i := range pieces {
		c := &pieces[i]
		own := p.in(c, sHerd|sStock)
		if c.sentence != sentence {
			sentence = c.sentence
			if !p.pronoun(own) && (c.form != fOn || len(own) > 0 || len(p.herdsNamed()) != 1) { // heifers off creek. On hill now.
				stock = nil
			}
		}
		switch {
		case p.pronoun(own) && len(stock) == 0:
			if stock = p.lastHerd(c.from); stock == nil {
				stock = own
			}
		case len(own) > 0 && !p.pronoun(own):
			stock = own
		}
		if stock == nil && c.form == fOn && len(own) == 0 && len(p.herdsNamed()) == 1 {
			stock = p.lastHerd(c.from) // the heifers look fine, and are on hill
		}
		p.buildOne(pieces, c, stock)
	}
}

// herdsNamed are the herds that a text names.
func (p *parser) herdsNamed() []int {
	var list []int
	for i := range p.toks {
		for _, h := range p.toks[i].herds {
			list = include(list, h)
		}
	}
	return list
}

// lastHerd gives the herd last named before token i, in a clause or in none:
// heifers gave us fits, but they're in mill now.
func (p *parser) lastHerd(i int) []int {
	for i--; i >= 0; i-- {
		if p.toks[i].is(sHerd) {
			return []int{i}
		}
	}
	return nil
}

// buildOne makes the facts of one clause.
func (p *parser) buildOne(pieces []piece, c *piece, stock []int) {
	w := p.dayOf(pieces, c)
	switch c.form {
	case fReading:
		p.buildReading(c, w)
	case fBare:
		p.buildBare(pieces, c, w)
	case fRange:
		c.ask = p.rangeAsked(c)
	case fPlace:
		c.ask = p.nameAlone(c)
	case fOff, fOn, fStill, fMove:
		p.buildMove(pieces, c, w, stock)
	case fFrost:
		p.buildFrost(pieces, c, w)
	case fLater:
		p.buildLater(pieces, c)
	case fUndo:
		p.buildUndo(c, w)
	case fStatus:
		p.buildStatus(pieces, c)
	case fPlant:
		p.buildPlant(pieces, c, w)
	case fDead:
		p.buildDead(pieces, c, w)
	default:
		p.buildEvent(pieces, c, w)
	}
	if c.form == fMove && len(c.facts) > 1 && c.facts[0].Day != c.facts[len(c.facts)-1].Day {
		w = when{day: c.facts[len(c.facts)-1].Day} // it took two days
	}
	if c.ask == nil {
		if c.ask = p.unsure(w, p.isPast(c, w), c.facts); c.ask != nil {
			c.facts = nil
		}
	}
}

// placesOf makes the facts of a clause for the paddocks that it names, for the
// whole farm, or for the paddock that was told or asked about.
func (p *parser) placesOf(pieces []piece, c *piece, row diary.Row, of func(id string) []diary.Fact) {
	places, unclear := p.placesIn(p.in(c, sPlace))
	switch {
	case unclear != nil:
		c.ask = p.whichPaddock(unclear.s, unclear.places, of)
	case len(places) > 0:
		for _, i := range places {
			c.facts = append(c.facts, of(p.reader.places[i].ID)...)
		}
	case p.nameBeside(pieces, c) >= 0:
		p.placeless(c, []int{p.nameBeside(pieces, c)}, of)
	case row.Farm && row.Looser && c.form != fNoFrost && len(p.told(pieces)) > 0: // never of more ground than the text speaks of
		p.placeless(c, p.told(pieces), of)
	case row.Farm:
		c.facts = of("")
	case row.Named:
		c.ask = p.whichPaddock("", p.askedPlaces(), of)
	case len(p.in(c, sTree)) > 0 && len(p.in(c, sDown|sWilt)) > 0 && len(p.told(pieces)) == 0 && len(p.reader.withCherry()) == 1: // where else
		c.facts = of(p.reader.places[p.reader.withCherry()[0]].ID)
	default:
		p.placeless(c, p.told(pieces), of)
	}
}

// nameBeside gives the paddock whose name is all that the sentence behind a clause
// says, where no other is named: heifer dead. Second bench.; -1 where there is none.
func (p *parser) nameBeside(pieces []piece, c *piece) int {
	told := p.told(nil)
	for i := range pieces {
		d := &pieces[i]
		if d.form == fPlace && d.sentence == c.sentence+1 && len(told) == 1 && d.lo == d.from && p.chart.prep[d.from]&(sOff|sFrom) == 0 {
			if _, to := p.sentenceOf(d); to == d.to {
				return told[0]
			}
		}
	}
	return -1
}

// buildEvent makes the facts of hay, fire, brown tops and the like.
func (p *parser) buildEvent(pieces []piece, c *piece, w when) {
	e := c.event
	row := events[e].kind.Row()
	if e == eWean {
		p.buildWean(c, w)
		return
	}
	if row.Manager && !p.who.Manager {
		c.ask = p.question(diary.Question{Why: diary.NotAllowed, Word: p.words3(c)})
		return
	}
	var left []float64
	if nums := p.numbersIn(c); len(nums) > 0 && e == eHayed {
		h, q := p.heightsOf(nums)
		if q != nil {
			c.ask = p.question(*q)
			return
		}
		left = h
	}
	p.placesOf(pieces, c, row, func(id string) []diary.Fact {
		if e == eDry {
			id = "" // it is so of the farm
		}
		f := p.fact(events[e].kind, id, w.day)
		f.Heights = left
		if e == eRain {
			f.Amount = p.fell(c)
		}
		return []diary.Fact{f}
	})
}

// fell is how much rain a clause tells of, inches; 0 where it does not say.
func (p *parser) fell(c *piece) float64 {
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		if t.val > 0 && (t.is(sNum) || t.event == eRain) && !t.is(sPlace) {
			return p.amount(t)
		}
	}
	return 0
}

// amount gives an amount of rain in inches.
func (p *parser) amount(t *token) float64 {
	unit := t.unit
	if unit == 0 {
		unit = p.reader.units.rain()
	}
	return round(t.val * unit)
}

// words3 gives the words of a clause.
func (p *parser) words3(c *piece) string {
	return p.text[p.toks[c.from].from:p.toks[c.to-1].to]
}

// buildWean makes the fact that the calves of a herd were weaned.
func (p *parser) buildWean(c *piece, w when) {
	var herds []int
	for _, i := range p.in(c, sHerd) {
		for _, h := range p.toks[i].herds {
			herds = include(herds, h)
		}
	}
	if named := p.in(c, sPlace); len(named) > 0 && w.word == "" && p.chart.prep[named[0]] == 0 { // destetamos el 20, where a paddock is called so
		c.ask = p.question(diary.Question{Why: diary.WhichDay, Word: p.toks[named[0]].s})
		return
	}
	if len(herds) == 0 {
		herds = p.reader.ofKind(cows)
	}
	of := func(id string) []diary.Fact {
		f := p.fact(diary.Wean, "", w.day)
		f.Herd = id
		return []diary.Fact{f}
	}
	if len(herds) == 0 {
		for i := range p.reader.herds {
			herds = append(herds, i)
		}
	}
	if len(herds) != 1 {
		c.ask = p.whichHerd(herds, of)
		return
	}
	c.facts = of(p.reader.herds[herds[0]].ID)
}

// buildDead makes the fact that animals are dead, down or ill: in the paddock that
// is named in the same sentence, or that 'there' means, else somewhere.
func (p *parser) buildDead(pieces []piece, c *piece, w when) {
	if told := p.told(pieces); len(p.in(c, sPlace)) == 0 && len(told) == 1 && p.speaksOfPlace(c) {
		c.facts = []diary.Fact{p.fact(diary.Emergency, p.reader.places[told[0]].ID, w.day)}
		return
	}
	p.placesOf(pieces, c, diary.Emergency.Row(), func(id string) []diary.Fact { return []diary.Fact{p.fact(diary.Emergency, id, w.day)} })
}

// speaksOfPlace reports whether the sentence of a clause names a paddock, or says
// 'there'.
func (p *parser) speaksOfPlace(c *piece) bool {
	from, to := p.sentenceOf(c)
	for i := from; i < to; i++ {
		if p.toks[i].is(sPlace) || p.reader.tells(&p.toks[i], hThere) {
			return true
		}
	}
	return false
}

// buildPlant makes the fact that a hazard plant was seen, or that a tree of one
// is down.
func (p *parser) buildPlant(pieces []piece, c *piece, w when) {
	kind, plant := diary.Plant, ""
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		if t.is(sPlant) && plant == "" {
			plant = t.plant
		}
		if t.is(sDown|sWilt) && len(p.in(c, sTree)) > 0 {
			kind = diary.Danger
		}
	}
	p.placesOf(pieces, c, kind.Row(), func(id string) []diary.Fact {
		f := p.fact(kind, id, w.day)
		if kind == diary.Plant {
			f.Plant = plant
		}
		return []diary.Fact{f}
	})
}

// withCherry lists the paddocks in which wild cherry grows.
func (r *Reader) withCherry() []int {
	var list []int
	for i, p := range r.places {
		if p.Cherry {
			list = append(list, i)
		}
	}
	return list
}
