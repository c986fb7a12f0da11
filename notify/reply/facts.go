package reply

// build makes the facts or the question of each clause that was read.
func (p *parser) build(pieces []piece) {
	places := p.placesTold(pieces)
	var stock []int // indexes of tokens: the animals last spoken of
	sentence := -1
	for i := range pieces {
		c := &pieces[i]
		if c.sentence != sentence {
			sentence = c.sentence
			if !p.pronoun(c.get(inStock)) {
				stock = nil
			}
		}
		if !c.speaks() {
			p.dateAlone(pieces, c)
			continue
		}
		if own := c.get(inStock); len(own) > 0 && !(p.pronoun(own) && len(stock) > 0) {
			stock = own
		}
		p.buildOne(pieces, c, places, stock)
	}
}

// pronoun reports whether animals are named by a pronoun alone, so that they
// are those spoken of before.
func (p *parser) pronoun(toks []int) bool {
	for _, i := range toks {
		if !p.reader.hinted(p.toks[i].s, hPronoun) {
			return false
		}
	}
	return len(toks) > 0
}

// buildOne makes the facts of one clause.
func (p *parser) buildOne(pieces []piece, c *piece, told []int, stock []int) {
	w := p.dayOf(pieces, c)
	others := false
	for i := range pieces {
		others = others || (&pieces[i] != c && pieces[i].speaks())
	}
	switch c.form {
	case fReading, fNumberFirst:
		p.buildReading(c, w)
	case fBare:
		p.buildBare(c, w, others)
	case fRange:
		c.ask = p.rangeAsked(c)
	case fPlace:
		c.ask = p.nameAlone(c)
	case fBareOff:
		p.buildMove(c, w, p.notEntered(pieces, told), stock)
	case fOff, fOffAt, fOn, fMove, fBareOn:
		p.buildMove(c, w, told, stock)
	case fFrost:
		p.buildFrost(c, w)
	case fLater:
		p.buildLater(c, others)
	case fUndo, fUndoFrost:
		p.buildUndo(c, w)
	case fStatus:
		p.buildStatus(pieces, c)
	default:
		p.buildEvent(pieces, c, w, told, others)
	}
	if c.ask == nil {
		if _, entered := p.twoDays(c, w); c.form == fMove {
			w = entered
		}
		c.ask = p.unsure(w, p.isPast(c), c.facts)
		if c.ask != nil {
			c.facts = nil
		}
	}
}
