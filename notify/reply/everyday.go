package reply

import "slices"

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
	empty := c.form == fOff && len(p.in(c, sEmpty)) > 0
	if c.form != fReading && !empty || !p.names(c.from) || p.saysLittle(c) {
		return false
	}
	passed := len(p.in(c, sAt)) == 0 && slices.ContainsFunc(p.toks[c.lo:c.from], func(t token) bool { return p.reader.tells(&t, hHearsay) }) // papa says church is 7
	stated := !empty && p.toks[c.from+1].is(sBe) && !slices.ContainsFunc(p.toks[c.from:c.to], func(t token) bool { return t.is(sAt) })       // the church is 9
	for i := c.lo; i < c.from; i++ {
		if !p.toks[i].is(sFill|sAck|sChat|sAnd|sComma) && !(passed && (p.reader.tells(&p.toks[i], hHearsay) || p.strange(i))) || p.reader.hinted(p.toks[i].f, hArticle) && !stated {
			return false
		}
	}
	end := c.to
	if !empty {
		end = p.numbersIn(c)[0]
	}
	for i := c.from + 1; i < end; i++ {
		if t := &p.toks[i]; !t.is(sBe|sMeasure|sAbout|sColon|sPlace|sAt|sWas|sEmpty|sAnd|sAll) || t.is(where|sTo) && !(t.is(sAt) && (p.toks[i-1].is(sBe) || p.toks[i-1].poss)) {
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
	return t.poss || len(t.f) > 2 && p.tongue.own(t.f) && !p.reader.hinted(t.f, hGround)
}

// anchored reports whether something of the trade says that the farm is meant:
// a unit, a word for heights or for grass, animals, a plant, or that the paddock
// was asked about.
func (p *parser) anchored(c *piece) bool {
	from, to := p.sentenceOf(c)
	them := p.pronoun(p.in(c, sHerd|sStock)) // took the steers out of hill and they walked into church
	if slices.ContainsFunc(p.toks[from:to], func(t token) bool { return (t.is(sGrass) || them && t.is(sHerd)) && !t.is(sPlace) }) {
		return true // 9 at church, the grass and not the clock
	}
	for i := c.lo; i < c.hi; i++ {
		t := &p.toks[i]
		switch {
		case t.is(sPlace):
			if c.form != fStatus && (p.askedAbout(t.places[0]) || p.capital(t)) {
				return true
			}
		case t.unit != 0, t.is(sMeasure) && !t.is(sIn|sOn|sAt|sOff|sPut|sMoved), t.is(sGrass | sField | sPlant | sHerd | sBeast | sAvg | sPlants), t.event != noEvent && t.guard == noGuard,
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
		if len(p.in(c, sEmpty)) > 0 {
			return false
		}
		return p.toks[c.from].is(sPlace) && len(p.in(c, sDur|sMorrow)) == 0
	}
	return false
}

// plainWordsToo takes the name of a paddock for the word that it is, where the
// sentence names another and this one stands as a word does: frank by the gate 9,
// frank is low, front of house, low spot in frank.
func (p *parser) plainWordsToo(toks []token) {
	for from := 0; from < len(toks); {
		to := from
		for to < len(toks) && !toks[to].is(sStop) {
			to++
		}
		for i := from; i < to; i++ {
			t := &toks[i]
			called := othersNamed(toks[from:to], t) && p.asWord(toks[from:to], i-from) || i == from && p.reader.tells(t, hOrRather) && tokenAt(toks, i+1).is(sIt) // well, it's 9
			if t.is(sPlace) && t.span <= 1 && t.role != rNumber && (p.tongue.common(t.f) || t.poss) && !p.capital(t) && called {
				t.lex, t.places, t.known = lex{set: sChat}, nil, true
			}
		}
		from = to + 1
	}
}

// partNames takes a word before a height for the one paddock among those asked about that
// has it in its name: long is 12 and short is 8, of Long Branch and Short Branch.
func (p *parser) partNames(toks []token) {
	asked := p.askedPlaces()
	for i := 0; len(asked) > 1 && i+1 < len(toks); i++ {
		t, next := &toks[i], &toks[i+1]
		if t.kind != word || t.is(sPlace|sHerd|sNum) || !(next.kind == digits || next.role == rNumber || next.is(sBe|sWas|sColon|sMeasure|sEmpty|sOff)) {
			continue
		}
		var with []int
		for _, x := range asked {
			if slices.Contains(plainWordsOf(p.reader.places[x].Name), t.f) {
				with = append(with, x)
			}
		}
		if len(with) == 1 {
			t.lex, t.places, t.known = lex{set: sPlace}, with, true
		}
	}
}

// othersNamed reports whether a sentence names another paddock than a token does.
func othersNamed(toks []token, t *token) bool {
	for i := range toks {
		if toks[i].is(sPlace) && !toks[i].sameName(t) {
			return true
		}
	}
	return false
}

// asWord reports whether the name at token i of a sentence stands as a word of every
// day does: behind an article and no word of moving, behind 'is', before 'of' and
// another name, before a strange word or a word for saying, behind a possessive.
func (p *parser) asWord(toks []token, i int) bool {
	at := func(k int) *token { return tokenAt(toks, k) }
	t, before, next := at(i), at(i-1), at(i+1)
	told := next.kind == digits || next.role == rNumber || next.is(sNum) || next.is(sBe|sWas|sMeasure|sWeak|sColon|sAt|sAbout|sHerd|sStock|sEvent|sOff) ||
		next.is(sTo) && (at(i+2).kind == digits || at(i+2).role == rNumber) // el frosty a 12
	saysMore := next.kind == word && next.set == 0 && next.role == noRole && next.guard == noGuard && !next.is(sPlace)
	const ways = sOff | sFrom | sTo | sOn | sIn | sOut | sMoved | sPut | sLeft
	ails := at(i + 2) // my back is killing me
	switch {
	case p.reader.hinted(before.f, hWhose) && next.is(sBe) && ails.kind == word && ails.role != rNumber && !ails.is(sEmpty|sEvent|sMeasure|sAbout|sAt|sOff|sAll),
		t.is(sCold) && next.is(sPlant|sFrost), // vi zacate johnson en noria
		p.reader.tells(t, hOrRather) && (next.is(sComma) && before.kind == mark && !(at(i+2).kind == digits || at(i+2).role == rNumber) || before.f == t.f || next.f == t.f || next.guard == gFix): // well, creek is 9
		return true
	case before.kind == word && p.reader.hinted(before.f, hArticle) && !before.is(ways):
		by := at(i - 2)
		return by.is(sAt) && !by.is(sIn) || p.reader.hinted(by.s, hBeforeDayOnly) || !told && !by.is(ways)
	case before.is(sBe) && !t.poss:
		return !told && at(i-2).is(sPlace)
	case p.reader.hinted(next.f, hOfMonth):
		return at(i+2).is(sPlace|sStock|sHerd) || p.reader.hinted(at(i+2).f, hArticle) && at(i+3).is(sPlace)
	case before.is(sPlace) && before.poss:
		return !told
	}
	return next.guard == gHedge && !t.poss || saysMore && !before.is(ways) && p.joins(toks, i+2)
}

// joins reports whether a small word and a name stand at token i: spot in frank.
func (p *parser) joins(toks []token, i int) bool {
	return i+1 < len(toks) && (toks[i].is(where|sFrom) || p.reader.hinted(toks[i].f, hOfMonth)) && (toks[i+1].is(sPlace) || i+2 < len(toks) && p.reader.hinted(toks[i+1].f, hArticle) && toks[i+2].is(sPlace))
}

// forHay takes a word for cutting for the making of hay where what was cut, and what
// for, stand behind it in one sentence: cut east for hay.
func (p *parser) forHay(toks []token) {
	cut := -1
	for i := range toks {
		t := &toks[i]
		switch {
		case t.is(sStop):
			cut = -1
		case p.reader.tells(t, hCuts) && !t.is(sPlace):
			cut = i
		case cut >= 0 && p.reader.tells(t, hForHay):
			toks[cut].lex, cut = lex{set: sEvent, event: eHayed}, -1
		}
	}
}
