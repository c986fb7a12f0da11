package reply

// prepare looks at each token once.
func (p *parser) prepare() {
	n := len(p.toks)
	c := &p.chart
	c.core, c.free, c.counts, c.prep = make([]uint32, n), make([]uint32, n), make([]feature, n), make([]senses, n)
	c.prepAt = make([]int, n)
	c.best = make([]cell, n+1)
	for i := range p.toks {
		t := &p.toks[i]
		c.core[i], c.free[i], c.counts[i] = startsWith(t.set), freeIn(t.set), p.counts(t)
		if t.is(sTo) && i+1 < n && p.toks[i+1].is(sStock|sHerd|sAll) {
			c.free[i] = ^uint32(0) // saque a todos
		}
		if t.is(sPlace) {
			c.prep[i], c.prepAt[i] = p.prepOf(i)
		}
	}
}

// counts says what a token counts as where a clause has no part for it.
func (p *parser) counts(t *token) feature {
	switch {
	case t.aside && t.set == 0 && t.guard == noGuard:
		return wAside
	case t.is(sPlace):
		return wPlace
	case t.is(sNum | sRange | sDur | sTemp):
		return wNumber
	case t.is(sBeast) && t.val == 0:
		return nothing // it warns
	case t.is(sHerd | sStock):
		return wAnimals
	case t.is(sComma | sStop | sDash | sSlash | sColon | sAnd):
		return wMark
	case t.is(sChat | sAck | sCold | sThat | sVerb | sMeasure | sGrass | sAbout | sAvg | sMorrow | sAll):
		return wAside
	case t.set != 0:
		return wTrade
	case t.guard != noGuard && t.guard != gUnknown:
		if t.typed || t.val != 0 {
			return wOddNumber
		}
		return nothing // it warns
	case t.kind == digits || t.guard == gUnknown && t.val != 0 || t.typed:
		return wOddNumber
	case t.kind == mark:
		return wMark
	case t.known || p.tongue.common[t.f]:
		return wWord
	}
	return wStranger
}

// prepOf is what stands before a name: off, out of, from, to, on, in. The names
// of a list share it.
func (p *parser) prepOf(i int) (prep senses, at int) {
	list := false
	const preps = sOff | sFrom | sTo | sOn | sIn | sAt | sLeft
	for j := i - 1; j >= 0; j-- {
		t := &p.toks[j]
		switch {
		case t.is(sPlace):
			if list && p.chart.prep[j]&(sOff|sFrom|sLeft) != 0 {
				return p.chart.prep[j], p.chart.prepAt[j]
			}
			return 0, 0
		case t.is(preps) && !t.is(sNum):
			if t.is(sLeft) && j != i-1 {
				return 0, 0
			}
			return t.set & preps, j
		case !t.is(sFill|sField|sAll|sComma|sAnd|sSlash) || t.guard != noGuard:
			return 0, 0
		}
		list = list || t.is(sComma|sAnd|sSlash)
	}
	return 0, 0
}

// opensName reports whether a word stands before a name that it belongs to.
func (p *parser) opensName(j int) bool {
	for k := j + 1; k < len(p.toks); k++ {
		if p.toks[k].is(sPlace) {
			return p.chart.prep[k] != 0
		}
		if !p.toks[k].is(sFill|sField|sAll) || p.toks[k].guard != noGuard {
			return false
		}
	}
	return false
}

// allOfThem reports whether an 'all' means the animals: it says nothing of the
// word behind it, as in 'has all turned brown'.
func (p *parser) allOfThem(j int) bool {
	return j+1 == len(p.toks) || !p.toks[j+1].is(sEvent|sMeasure|sMoved|sGrass|sBe|sWas|sCold) && p.toks[j+1].set != 0
}
