package reply

// adjoin drops clauses that could be parted in another way: a number between
// two names, a name between two numbers, a count before 'off'. Nothing is
// guessed: the whole sentence is asked about.
func (p *parser) adjoin(pieces []piece) {
	for i := 0; i < len(pieces); i++ {
		a := &pieces[i]
		if i > 0 && p.tail(&pieces[i-1], a) {
			p.dropSentence(pieces, a.sentence)
			return
		}
		if !a.speaks() || a.asks {
			continue
		}
		for j := i + 1; j < len(pieces) && pieces[j].sentence == a.sentence; j++ {
			b := &pieces[j]
			if !b.speaks() {
				if b.form == 0 {
					break
				}
				continue
			}
			if !p.clearCut(a, b) {
				p.dropSentence(pieces, a.sentence)
				return
			}
			break
		}
	}
}

// tail reports whether 'on creek' or 'off creek', with no animals in it, hangs
// on talk right before it: gate closed on creek.
func (p *parser) tail(talk, c *piece) bool {
	return talk.form == fChat && talk.sentence == c.sentence && talk.to == c.from && moves(c.form) &&
		len(c.get(inStock)) == 0 && p.toks[c.caught[0].tok].is(sOn|sOff|sIn)
}

// dropSentence makes one unread clause of a sentence.
func (p *parser) dropSentence(pieces []piece, n int) {
	first := true
	last := 0
	for i := range pieces {
		if pieces[i].sentence == n {
			last = pieces[i].to
		}
	}
	for i := range pieces {
		if pieces[i].sentence != n {
			continue
		}
		c := &pieces[i]
		if first {
			c.clause = clause{from: c.from, to: last}
			first = false
			continue
		}
		c.clause = clause{form: fNothing, from: c.from, to: c.to}
	}
}

// clearCut reports whether there is only one way to part two clauses that
// stand side by side.
func (p *parser) clearCut(a, b *piece) bool {
	sep := senses(0)
	for _, t := range p.toks[a.to:b.from] {
		sep |= t.set & separators
	}
	if sep == 0 && p.dateBetween(a, b) {
		return false // creek 9 yesterday hill 8: whose day?
	}
	readings := func(f form) bool { return f == fReading || f == fNumberFirst }
	switch {
	case b.form == fRange && len(b.get(inPlace)) == 0:
		return false // creek 9, 10-12
	case a.form == fBare || b.form == fBare:
		return false // numbers that belong to nobody
	case a.form == fPlace:
		return !readings(b.form) && sep != 0 // creek and hill 9
	case b.form == fPlace:
		return sep != 0 // creek 9, hill
	case a.form == fReading && b.form == fNumberFirst:
		return false // creek 9, 8 hill
	case sep == 0:
		return p.abuts(a, b)
	case !readings(a.form) && b.form == fReading && sep == sAnd && p.toks[a.to-1].is(sPlace):
		return false // off creek and hill 9
	}
	return true
}

// dateBetween reports whether a day stands between what two clauses caught, so
// that it may belong to either.
func (p *parser) dateBetween(a, b *piece) bool {
	if len(a.caught) == 0 || len(b.caught) == 0 {
		return false
	}
	last, first := a.caught[len(a.caught)-1].tok, b.caught[0].tok
	for i := last + 1; i < first; i++ {
		if p.toks[i].is(sDate | sSoft) {
			return true
		}
	}
	return false
}

// abuts reports whether two clauses may stand side by side with no mark at all
// between them.
func (p *parser) abuts(a, b *piece) bool {
	switch {
	case a.form == b.form && (a.form == fReading || a.form == fNumberFirst):
		return true // creek 10 hill 8
	case moves(a.form) && moves(b.form):
		return true // cows off creek cows on hill
	case a.form == fReading && (moves(b.form) || b.form == fBareOff || b.form == fBareOn):
		last, first := &p.toks[a.to-1], &p.toks[b.from]
		return last.unit != 0 || first.is(sUs|sMoved|sPut) && !first.is(sMeasure)
	}
	return false
}

func moves(f form) bool { return f == fOff || f == fOffAt || f == fOn || f == fMove }
