package reply

// form is what a clause says.
type form uint8

// The forms.
const (
	fTalk    form = iota // a token that no clause takes up
	fReading             // a paddock and its heights
	fBare                // heights alone
	fRange               // creek 8-10
	fPlace               // a name alone
	fOff
	fOn
	fStill // animals are in, or in again
	fMove  // from one paddock to another
	fFrost
	fNoFrost // is found as a frost, and weighed as what makes looser
	fEvent
	fStricter // an event that makes things stricter
	fLooser
	fDead // animals dead, down or ill
	fPlant
	fLater
	fUndo
	fStatus
	forms
)

// A shape is what may make up a clause of a form. A clause begins and ends on a
// token of its core; what is free may stand anywhere in it and says nothing
// there; anything else in it counts against it.
type shape struct {
	core, free senses
	column     column
	bonus      float64 // above one clause that says less, or below
}

// What may stand in a clause of any form.
const (
	freeAny  = sFill | sDate | sSoft | sClock | sBe | sIt | sColon | sDash | sAck | sField
	freeRead = freeAny | sMeasure | sWeak | sAbout | sAvg | sGrass | sWas | sAt | sOn | sIn | sPlants | sComma | sAnd | sFrom | sTo | sAll
	coreMove = sPlace | sHerd | sStock | sAll | sMoved | sPut | sWent | sLeft | sGone | sOff | sOut
	freeMove = freeAny | sAt | sAnd | sWas
	where    = sAt | sOn | sIn

	coreEvent = sEvent | sPlace
	freeEvent = freeAny | sComma | sGrass | where | sOff | sFrom | sTo | sMeasure | sWeak | sAbout | sAll | sCold | sWas | sAnd
)

// shapes is the grammar of a clause.
var shapes = [forms]shape{
	fReading:  {core: sPlace | sNum, free: freeRead, column: cHeight},
	fBare:     {core: sNum, free: freeRead, column: cBare, bonus: -1},
	fRange:    {core: sPlace | sRange | sNum, free: freeRead, column: cHeight},
	fPlace:    {core: sPlace, free: freeAny | sGrass | sMeasure | where, column: cHeight, bonus: -8},
	fOff:      {core: coreMove | sFrom | sEmpty, free: freeMove, column: cOff},
	fOn:       {core: coreMove | where | sTo, free: freeMove, column: cOn},
	fStill:    {core: coreMove&^sLeft | where | sTo | sLeft | sStay | sBeast, free: freeMove | sComma | sMeasure | sWeak | sAbout | sFrom | sCold, column: cAlarm, bonus: 4},
	fMove:     {core: coreMove | where | sTo | sFrom, free: freeMove | sComma, column: cOff, bonus: 3},
	fFrost:    {core: sFrost | sTemp | sPlace | sNum | sRange, free: freeAny | sCold | sGrass | where | sAll | sStock | sWas | sComma | sMeasure | sFrom | sTemp, column: cFrost},
	fNoFrost:  {core: sFrost | sPlace, free: freeAny | sCold | where | sAll | sWas | sMeasure, column: cLooser},
	fEvent:    {core: coreEvent | sNum | sHerd | sStock, free: freeEvent, column: cEvent},
	fStricter: {core: coreEvent | sNum | sHerd | sStock, free: freeEvent, column: cStricter},
	fDead:     {core: sDead | sDown | sPlace | sNum | sHerd | sStock | sBeast, free: freeEvent | motions | sOut | sCold | sGrass, column: cAlarm},
	fLooser:   {core: coreEvent, free: freeEvent &^ (sMeasure | sWeak | sAbout), column: cLooser},
	fPlant:    {core: sPlant | sPlace | sDown | sWilt, free: freeAny | where | sCold | sMeasure | sAll | sFrom | sWeak | sAnd, column: cStricter},
	fLater:    {core: sLater | sPlace | sDur | sMorrow, free: freeAny | where | sAbout | sTo, column: cRequest},
	fUndo:     {core: sUndo | sThat | sFrost | sEvent | sDead | sPlant | sDown | sWilt | sPlace, free: freeAny | where | sAbout | sHerd | sStock | sBeast, column: cRequest},
	fStatus: {core: sStatus | sNamed | sVerb | sPlace, column: cRequest,
		free: freeAny | where | sTo | sFrom | sMeasure | sWeak | sGrass | sAll},
}

// startsWith and freeIn give, for the senses of a token, the forms whose core
// it may be and those in which it is free, one bit a form.
func startsWith(set senses) (bits uint32) {
	for f := range shapes {
		if set&shapes[f].core != 0 {
			bits |= 1 << f
		}
	}
	return bits
}

func freeIn(set senses) (bits uint32) {
	for f := range shapes {
		if set&(shapes[f].core|shapes[f].free) != 0 {
			bits |= 1 << f
		}
	}
	return bits
}

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
	case t.set == 0 && t.guard == noGuard && (t.aside || len(t.f) > shortAdverb && p.reader.endsIn(t.f, hAdverb)):
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
	case t.known || p.tongue.common(t.f):
		return wWord
	}
	return wStranger
}

// shortAdverb is as many letters as a word may have and end like an adverb by chance: July.
const shortAdverb = 5

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
			if t.is(sLeft) && j != i-1 && !p.reader.hinted(p.toks[i-1].f, hArticle) {
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
