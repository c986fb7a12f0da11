package reply

// A farm may call its paddocks House, Corner, Back or Ruth's. Where such a name
// is all that ties a clause to the farm, something of the trade has to stand
// beside it, or the clause has to be as bare as a reading is: house 9.

// everyday reports whether a clause stands on names of every day alone.
func (p *parser) everyday(c *piece) bool {
	places := p.in(c, sPlace)
	for _, i := range places {
		if !p.isEveryday(&p.toks[i]) {
			return false
		}
	}
	return len(places) > 0 && !p.anchored(c) && !p.plainly(c) && (!p.bareOf(c) || p.saysLittle(c))
}

// plainly reports whether a reading begins what is said, with its number right
// behind the name: top is seven, my love.
func (p *parser) plainly(c *piece) bool {
	if c.form != fReading || !p.names(c.from) || p.saysLittle(c) {
		return false
	}
	for i := c.lo; i < c.from; i++ {
		if !p.toks[i].is(sFill|sAck|sChat|sAnd|sComma) || p.reader.hinted(p.toks[i].f, hArticle) {
			return false
		}
	}
	nums := p.numbersIn(c)
	for i := c.from + 1; i < nums[0]; i++ {
		if t := &p.toks[i]; !t.is(sBe|sMeasure|sAbout|sColon|sPlace|sAt|sWas) || t.is(where|sTo) && !(t.is(sAt) && (p.toks[i-1].is(sBe) || p.toks[i-1].poss)) {
			return false
		}
	}
	return true
}

// isEveryday reports whether a name is a common word or a person's, and not one
// for ground, as hill and creek are.
func (p *parser) isEveryday(t *token) bool {
	if t.span > 1 || len(t.places) != 1 {
		return false
	}
	return t.poss || len(t.f) > 2 && p.tongue.own[t.f] && !p.reader.hinted(t.f, hGround)
}

// anchored reports whether something of the trade says that the farm is meant:
// a unit, a word for heights or for grass, animals, a plant, or that the paddock
// was asked about.
func (p *parser) anchored(c *piece) bool {
	for i := c.lo; i < c.hi; i++ {
		t := &p.toks[i]
		switch {
		case t.is(sPlace):
			if c.form != fStatus && (p.askedAbout(t.places[0]) || p.capital(t)) {
				return true
			}
		case t.unit != 0, t.is(sMeasure) && !t.is(sIn|sOn|sAt|sOff|sPut|sMoved), t.is(sGrass | sField | sPlant | sHerd | sBeast), t.event != noEvent && t.guard == noGuard,
			t.is(sStock) && !t.is(sAll) && !p.reader.hinted(t.s, hPronoun):
			return true
		}
	}
	return false
}

func (p *parser) askedAbout(place int) bool {
	for _, x := range p.askedPlaces() {
		if x == place {
			return true
		}
	}
	return false
}

// capital reports whether a name was written with a capital in the middle of a
// sentence of small letters.
func (p *parser) capital(t *token) bool {
	for i := 0; i < len(p.sent); i++ {
		if p.sent[i] < 'A' || p.sent[i] > 'Z' || i < 2 || p.sent[i-1] != ' ' || p.sent[i-2] < 'a' || p.sent[i-2] > 'z' {
			continue
		}
		if end := i + len(t.s); end <= len(p.sent) && p.sent[i]+'a'-'A' == t.s[0] && p.sent[i+1:end] == t.s[1:] {
			return true
		}
	}
	return false
}

// bareOf reports whether nothing stands in a clause and beside it but its names,
// its numbers and the words of its form. An article makes a house of House.
func (p *parser) bareOf(c *piece) bool {
	for i := c.lo; i < c.hi; i++ {
		t := &p.toks[i]
		core := i >= c.from && i < c.to && t.is(shapes[c.form].core)
		switch {
		case core, t.kind == mark, t.is(sDate | sClock | sBe | sCold | sComma | sColon | sAnd):
		case t.is(sOn|sOff|sFrom|sTo) && !t.is(sMeasure), t.is(sIn) && i+1 < c.hi && p.toks[i+1].is(sPlace):
		case t.is(sFill) && !p.reader.hinted(t.f, hArticle):
		default:
			return false
		}
	}
	return true
}

// saysLittle reports whether a clause may be small talk however bare it is: Ruth's
// off, back later, on the house.
func (p *parser) saysLittle(c *piece) bool {
	switch c.form {
	case fReading: // Ruth's 60 today
		return p.toks[c.from].poss && p.dayIn(c.lo, c.hi).word != ""
	case fOff, fOn, fLater:
		return p.toks[c.from].is(sPlace) && len(p.in(c, sDur|sMorrow)) == 0
	}
	return false
}
