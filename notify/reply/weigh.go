package reply

import "slices"

// weigh says whether a span may be of a form, and how well its parts fit; token
// j is its last.
func (p *parser) weigh(s *span, f form, j int) (score float64, ok bool) {
	switch f {
	case fReading:
		return p.weighReading(s)
	case fBare:
		return weights[wApart][cBare] * float64(s.runs-1), s.named == 0 && s.nums > 0 && p.toks[j].is(sNum) && p.listEnds(s)
	case fRange:
		return 0, s.ranges > 0 && s.named <= 1
	case fPlace:
		return 0, s.named == 1 && s.from == j
	case fOff:
		return p.weighOff(s, j)
	case fOn:
		return p.weighOn(s, j)
	case fStill:
		return p.weighStill(s, j)
	case fMove:
		return p.weighMove(s)
	case fFrost:
		if p.coldOrDay(s) {
			score = weights[wClause][cHeight] + 1 // its number is no clause of its own
		}
		return score, s.set&sFrost != 0 && p.frostFits(s)
	case fEvent, fStricter, fLooser:
		return p.weighEvent(s, f)
	case fDead:
		return p.weighDead(s)
	case fPlant:
		if s.set&(sDown|sWilt) != 0 {
			score = weights[wClause][cOn] // that it is down is no clause of its own
		}
		if s.named > 0 && s.frostAt < 0 && p.frostBefore(s.places[0]) && p.parted(s.places[0], j+1) {
			return 0, false // frost in depot this morning, the johnsongrass is burnt
		}
		if s.named == 0 && p.any(sFrost) && s.set&(sDown|sWilt) == 0 {
			return 0, false // frost bit the johnsongrass
		}
		return score, s.set&sPlant != 0 && s.named <= len(s.places)
	case fLater:
		return 0, s.set&sLater != 0
	case fUndo:
		if s.set&(sFrost|sEvent|sDead|sPlant) != 0 {
			score = 2 * weights[wClause][cRequest] // what is undone is no clause of its own
		}
		if s.set&sPlant != 0 && s.set&(sDown|sWilt) != 0 {
			score += weights[wClause][cRequest]
		}
		return score, s.set&sUndo != 0
	case fStatus:
		return 0, s.set&sStatus != 0
	}
	return 0, false
}

// frostBefore reports whether a frost is told of the paddock named at token i: it stands
// right before the name.
func (p *parser) frostBefore(i int) bool {
	for i--; i >= 0 && p.toks[i].is(where|sFill|sCold) && !p.toks[i].is(sFrost|sPlace); i-- {
	}
	return i >= 0 && p.toks[i].is(sFrost)
}

// weighReading: the numbers stand together, behind the names or before them.
func (p *parser) weighReading(s *span) (score float64, ok bool) {
	if s.named == 0 || s.nums == 0 || s.named > len(s.places) {
		return 0, false
	}
	first, last := s.places[0], s.places[s.named-1]
	if !(last < s.firstNum || first > s.lastNum) || !p.listEnds(s) {
		return 0, false
	}
	if s.nums == 1 && s.firstNum > 0 && p.chart.prep[last]&where != 0 && p.toks[s.firstNum-1].is(sAnd) && last < s.firstNum && p.numberBefore(last) {
		return 0, false // 10 on the north end of creek and 8 on the south
	}
	if first > s.lastNum && p.parted(s.lastNum, first) {
		score = weights[wOrderChanges][cHeight]
	}
	score += weights[wApart][cHeight] * float64(s.runs-1)
	for k := 1; k < s.named; k++ {
		if !p.enumerated(s.places[k-1], s.places[k]) {
			return 0, false
		}
	}
	if p.different(s) > 1 && s.set&sAll == 0 {
		score += weights[wSeveralPlaces][cHeight]
	}
	return score, true
}

// numberBefore reports whether a number stands before the small words in front of the
// name at token i.
func (p *parser) numberBefore(i int) bool {
	for i--; i > 0 && p.toks[i].is(where|sFill|sMeasure|sGrass) && !p.toks[i].is(sNum|sPlace); i-- {
	}
	return i >= 0 && p.toks[i].is(sNum) && !p.toks[i].is(sPlace)
}

// different counts the paddocks that a span names.
func (p *parser) different(s *span) int {
	n := 0
	for k := range min(s.named, len(s.places)) {
		same := false
		for l := range k {
			same = same || p.toks[s.places[k]].sameName(&p.toks[s.places[l]])
		}
		if !same {
			n++
		}
	}
	return n
}

func (t *token) sameName(u *token) bool {
	return len(t.places) == 1 && len(u.places) == 1 && t.places[0] == u.places[0]
}

const (
	verbs   = sMoved | sPut | sWent | sGone
	motions = verbs | sLeft
)

// weighOff: animals left the paddocks that are named, or that was asked about.
func (p *parser) weighOff(s *span, j int) (score float64, ok bool) {
	if s.entered > 0 || s.named > len(s.places) || p.behindEvent(s.from) || p.toks[j].is(sLeft) && !p.toks[j].is(sGone|sEmpty) {
		return 0, false
	}
	away := s.set&(sOff|sGone|sEmpty) != 0
	switch {
	case s.left > 0 && s.bare > 0:
		return 0, false
	case s.left > 0:
		return 0, away || s.set&motions != 0 || s.set&sOut != 0
	case s.bare > 0 && s.stock == 0:
		return 0, s.set&sEmpty != 0 || s.particle && s.set&sOff != 0 && s.at == 0
	case s.bare > 0:
		return 0, s.set&sEmpty != 0 || s.particle && s.set&(sOff|sGone|sOut) != 0
	}
	if away || s.stock > 0 && s.set&sOut != 0 {
		return -1, !p.opensName(j)
	}
	if s.set&sOut != 0 && s.from == j && len(p.askedPlaces()) == 1 && p.standsAlone(j) {
		return -1, true // out, left about 7
	}
	return -weights[wClause][cOff] - 0.1, s.stock > 0 && s.acts // moved them, and nobody said from where
}

// standsAlone reports whether a token is all that is said up to the next mark.
func (p *parser) standsAlone(i int) bool {
	const marks = sStop | sComma
	return (i == 0 || p.toks[i-1].is(marks)) && (i+1 == len(p.toks) || p.toks[i+1].is(marks))
}

// weighOn: animals went into one paddock.
func (p *parser) weighOn(s *span, j int) (score float64, ok bool) {
	if s.named > 0 && s.beast > s.places[0] && p.parted(s.from, j) {
		return 0, false // johnsongrass in lane, cows off
	}
	if s.set&sDead != 0 || s.left > 0 || s.named > len(s.places) || s.set&(sOff|sEmpty) != 0 || p.behindEvent(s.from) {
		return 0, false
	}
	acts := s.stock > 0 || s.acts
	switch {
	case s.stays && !s.acts: // they are in again
		return 0, false
	case s.entered > 0 && s.bare > 0:
		return 0, false
	case s.entered > 0:
		on := false
		for k := range min(s.named, len(s.places)) {
			on = on || p.chart.prep[s.places[k]]&sOn != 0
		}
		if !acts && len(p.reader.herds) > 1 {
			score = weights[wNobody][cOn]
		}
		return score, acts || on
	case s.bare == 1 && s.stock == 1 && s.set&(sHerd|sStock) != 0 && p.holds(s, j):
		return 0, true
	case s.bare > 0:
		return 0, s.stock > 0 && s.set&sAnd == 0 && (s.particle && s.set&(sOn|sIn) != 0 || s.at == 1)
	}
	return 0, s.stock > 0 && s.particle && s.set&(sOn|sIn) != 0
}

// holds reports whether a paddock is said to have the animals at token j in it:
// creek has the heifers.
func (p *parser) holds(s *span, j int) bool {
	if s.places[0] != s.from || !p.toks[j].is(sHerd|sStock) {
		return false
	}
	held := false
	for i := s.from + 1; i < j; i++ {
		has := p.reader.hinted(p.toks[i].s, hHolds)
		if !has && !p.toks[i].is(sFill) {
			return false
		}
		held = held || has
	}
	return held
}

// weighMove: from one paddock to another.
func (p *parser) weighMove(s *span) (score float64, ok bool) {
	acts := s.stock > 0 || s.set&motions != 0
	switch {
	case s.entered != 1 || s.named < 2 || s.named > len(s.places) || s.set&sEmpty != 0:
		return 0, false
	case s.left > 0 && s.bare == 0:
		return 0, acts || s.set&sOff != 0
	case s.left == 0 && s.bare == 1:
		return 0, s.plains < s.tos && s.stock > 0
	}
	return 0, false
}

// weighEvent: one event, with what may stand beside that one.
func (p *parser) weighEvent(s *span, f form) (score float64, ok bool) {
	c := shapes[f].column
	if p.inTwoParts(s, s.eventAt) {
		return 0, false
	}
	if s.event == noEvent || events[s.event].column != c || s.named > len(s.places) {
		return 0, false
	}
	if s.event == eRain && !p.rainFits(s) {
		return 0, false
	}
	if s.event == eClear && s.named > 0 && (s.eventAt > s.places[0] || s.set&(sBe|sWas) != 0) {
		return 0, false // lane is clear: of what?
	}
	if s.event == eDry && s.named > 0 && !p.writes(hDrought) {
		return 0, false
	}
	if s.nums == 1 && s.named < 2 && (s.event == eHayed || s.event == eRain) {
		score = weights[wClause][cHeight] + 1 // its number is no clause of its own
	}
	if s.event == eRegrowth && s.nums == 1 && s.named < 2 && s.eventAt < s.firstNum {
		return weights[wClause][cHeight] + 1, true // regrowth is 3 inches
	}
	if s.events > 1 {
		score += weights[wTrade][c] * float64(s.events-1)
	}
	if s.event == eBurned && p.any(sFrost) || s.event == eHayed && p.any(sTree) {
		return 0, false // burned by the frost
	}
	if s.nums > 0 && s.event != eHayed && s.event != eRain {
		score += weights[wNumber][c] * float64(s.nums)
	}
	if s.stock > 0 && s.event != eWean {
		score += weights[wAnimals][c]
	}
	return score, true
}

// weighDead: animals that are dead, down or ill, or a count of them.
func (p *parser) weighDead(s *span) (score float64, ok bool) {
	at := s.deadAt
	if at < 0 { // cow down in creek
		return 1, s.downAt >= 0 && s.beast >= 0 && s.named <= len(s.places) && (p.toks[s.beast].is(sBeast) || p.oneOf(s.beast) || !p.toks[s.downAt].is(where)) &&
			p.sideBySide(min(s.beast, s.downAt), max(s.beast, s.downAt)) && !p.priced(s.from) && !p.writes(hAtEase)
	}
	counted := p.countedDead(s)
	if s.nums > 0 && counted {
		score = weights[wClause][cBare]
	} else if s.nums > 0 {
		score = weights[wNumber][cAlarm] * float64(s.nums)
	}
	switch {
	case s.named > len(s.places), p.inTwoParts(s, at), s.beast < 0 && !counted: // dead grass
		return 0, false
	case p.reader.tells(&p.toks[at], hLost) && !(s.beast > at && p.sideBySide(at, s.beast)): // lost my phone, cows are fine
		return 0, false
	case s.beast > at && p.parted(at, s.beast): // battery died, cows got out
		return 0, false
	}
	return score, true
}

// oneOf reports whether the animals at a token are told of as one of them: one of the
// cows is down in creek.
func (p *parser) oneOf(i int) bool {
	for i--; i > 0 && p.toks[i].is(sFill); i-- {
	}
	return i >= 0 && p.reader.tells(&p.toks[i], hOne)
}

// priced reports whether what is said around a token is of prices: heifers are down 5 cents.
func (p *parser) priced(i int) bool {
	for i > 0 && !p.toks[i-1].is(sComma|sStop) {
		i--
	}
	for ; i < len(p.toks) && !p.toks[i].is(sComma|sStop); i++ {
		if p.reader.holdsPart(p.toks[i].s, hPrice) {
			return true
		}
	}
	return false
}

// weighStill: animals that are in a paddock, or in it again.
func (p *parser) weighStill(s *span, j int) (score float64, ok bool) {
	if !s.stays || s.acts || s.set&(sOff|sEmpty|sGone|sDead) != 0 || s.left > 0 || s.named > 1 || s.stock == 0 && s.beast < 0 {
		return 0, false
	}
	if s.named == 1 && s.places[0] < j && p.placeBehind(j) {
		return 0, false // half are in mill, the rest still in otis
	}
	if s.named == 0 {
		stays := s.from + slices.IndexFunc(p.toks[s.from:j+1], func(t token) bool { return t.is(sStay) })
		return -1, (s.particle || p.any(sOff|sGone)) && (s.beast < 0 || !p.parted(min(stays, s.beast), max(stays, s.beast))) // my back hurts but heifers are off
	}
	return 1, true
}

// placeBehind reports whether nothing but small words stands between token j and a name.
func (p *parser) placeBehind(j int) bool {
	for j++; j < len(p.toks) && p.toks[j].is(where|sFill) && !p.toks[j].is(sPlace); j++ {
	}
	return j < len(p.toks) && p.toks[j].is(sPlace)
}

// countedDead reports whether a number says how many are dead: two dead in creek.
func (p *parser) countedDead(s *span) bool {
	next := s.deadAt + 1
	if s.firstNum == next { // se murieron dos
		next++
	} else if s.firstNum != s.deadAt-1 && !(s.firstNum == s.deadAt-2 && p.toks[s.deadAt-1].is(sBe)) {
		return false
	}
	return s.nums == 1 && p.toks[s.firstNum].unit == 0 && (next == len(p.toks) || p.toks[next].is(where|sStop|sComma|sFill|sDate|sHerd|sStock|sBeast))
}

// mostRain is the most rain of a day that is believed, inches: of three hundred
// years' storms on the plains a handful brought more (from memory).
const mostRain = 20
