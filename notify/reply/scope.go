package reply

import "slices"

// A warning is a guard with what it speaks of: the tokens from..to. Nothing that
// is said there is news.
type warning struct {
	guard    guard
	at       int // the token that is the guard
	from, to int
	moves    bool // speaks of animals alone: most of them, not all
}

// A stretch is a part of a sentence between marks, or before an 'and' that
// begins something new.
type stretch struct {
	from, to int
	sentence int
	anchored bool // names a paddock, a number, animals or work
	animals  bool // and of these animals alone
	guarded  bool
	full     bool // says more than its guards do
	names    bool // nothing but names: the list before it goes on
}

const (
	anchors = sPlace | sNum | sRange | sHerd | sStock | sMoved | sPut | sWent | sGone | sEmpty | sOff | sFrost | sEvent | sDead |
		sLater | sUndo | sStatus | sPlant | sTemp
	soft = sMeasure | sWeak | sCold | sChat | sFill
	// what stands beside a guard and says nothing by itself: it's not, I think so
	idle = sFill | sIt | sAck | sChat | sBe | sWas | sDate | sSoft | sClock | sStock | sAll | sThat | sAt | sOn | sIn
)

// stretches parts the tokens of a text.
func (p *parser) stretches() []stretch {
	var list []stretch
	sentence, from := 0, 0
	end := func(to int) {
		if to > from {
			list = append(list, p.look(from, to, sentence))
		}
		from = to
	}
	for i := range p.toks {
		t := &p.toks[i]
		switch {
		case t.is(sStop):
			end(i)
			sentence++
			from = i + 1
		case t.is(sComma), t.s == "\x01", t.is(sColon), t.is(sDash) && !t.glued, t.is(sAnd) && p.begins(i+1):
			end(i)
			from = i + 1
		}
	}
	end(len(p.toks))
	return list
}

// begins reports whether something new is said from token i on: a verb, or a
// paddock of which something is said.
func (p *parser) begins(i int) bool {
	if p.beginsTalk(i) || i < len(p.toks) && p.toks[i].guard == gIf {
		return true
	}
	if i+1 < len(p.toks) && (p.reader.hinted(p.toks[i].s, hSubject) || p.reader.hinted(p.toks[i].s, hNobody)) && (p.toks[i].is(sFill|sIt) || p.toks[i].set == 0) {
		return true // and I never
	}
	for ; i < len(p.toks) && (p.toks[i].is(sFill|sField) || p.toks[i].guard == gNegation) && !p.toks[i].is(sPlace); i++ {
	}
	if i >= len(p.toks) {
		return false
	}
	t := &p.toks[i]
	if t.is(sMoved|sPut|sLeft|sEvent|sDead|sFrost) || t.is(sStock) && t.is(sBe) || t.is(sMeasure) && i+1 < len(p.toks) && (t.span > 1 && p.toks[i+1].is(sNum) || !t.is(where|sFill) && p.toks[i+1].is(sPlace)) {
		return true
	}
	if i+1 < len(p.toks) && t.is(sHerd|sStock) && p.toks[i+1].is(verbs|sOff|sGone) {
		return true // and they went to
	}
	return !t.is(sNum) && i+1 < len(p.toks) && (p.toks[i+1].is(sBe|sWas) || t.is(sPlace|sHerd|sStock) && p.toks[i+1].is(sNum|sMeasure|sColon|sOff|sEmpty))
}

// beginsTalk reports whether nothing but talk stands from token i up to the next mark:
// and the dog caught a rabbit. It says something of its own, and holds no guard that
// may reach back to the news.
func (p *parser) beginsTalk(i int) bool {
	strange, n := false, 0
	for ; i < len(p.toks) && !p.toks[i].is(sStop|sComma|sColon|sAnd); i++ {
		t := &p.toks[i]
		if t.guard == gNegation && !t.is(sStay) && i+1 < len(p.toks) && p.toks[i+1].kind == word && p.toks[i+1].set == 0 && p.toks[i+1].guard == noGuard {
			n++ // and I never got to the rest
			continue
		}
		if t.is(anchors|where|sTo|sOut|sLeft|sStay|sWas) && !t.is(soft) && t.guard != gRain || t.typed || t.guard != noGuard && t.guard != gThing && t.guard != gUnknown && t.guard != gOther && t.guard != gRain && !p.reader.hinted(t.s, hBesideNumber) {
			return false
		}
		strange = strange || t.kind == word && t.set == 0
		n++
	}
	return strange && n > 2
}

// look sums up a stretch.
func (p *parser) look(from, to, sentence int) stretch {
	s := stretch{from: from, to: to, sentence: sentence, names: true}
	other, numbers, part, plan, thing, toCome, talk, theirs := false, false, false, false, false, false, false, false
	for i := from; i < to; i++ {
		t := &p.toks[i]
		guarded := t.guard != noGuard && !t.is(sPlace|sHerd)
		s.guarded = s.guarded || guarded
		if t.is(anchors) && (t.is(sPlace) || !t.is(soft)) || t.guard == gPart {
			s.anchored = true
			other = other || !t.is(sHerd|sStock|sNum) && t.guard != gPart
			numbers = numbers || t.is(sNum)
			part = part || t.guard == gPart
		}
		s.full = s.full || !guarded && !t.is(idle) && t.kind == word && !p.reader.hinted(t.f, hNotThat)
		s.full = s.full || i > from && t.guard == gThing && p.toks[i-1].guard == gNegation // no signal
		s.full = s.full || i+1 < to && t.guard == gThing && p.toks[i+1].is(sBe)            // water is on
		theirs = theirs || t.guard == gOther
		plan, thing, toCome = plan || t.guard == gPlan || t.guard == gOrder, thing || t.guard == gThing, toCome || t.guard == gToCome || t.guard == gAsk
		talk = talk || t.is(sChat) && !t.is(sComma|sAck|sFill)
		s.names = s.names && t.is(sPlace|sAnd|sFill|sField) && !guarded
	}
	s.full = s.full || (plan || toCome && to-from > 3) && thing || (plan || theirs) && talk // need hay; tell dad; hope your mom is better
	s.full = s.full && !(to-from < 3 && p.toks[to-1].guard == gPlan)                        // Luis will
	s.animals = s.anchored && !other && (!numbers || part)                                  // short 2
	return s
}

// warn finds the guards of a text and how far each of them reaches.
func (p *parser) warn() {
	list := p.stretches()
	for k := range list {
		s := &list[k]
		if i := p.takesBack(list, k); i >= 0 {
			p.warnings = append(p.warnings, warning{guard: gFix, at: i, to: len(p.toks)})
		}
		told := -1 // where what was told beside the news begins
		for i := s.from; i < s.to; i++ {
			t := &p.toks[i]
			t.aside = told >= 0
			if t.guard == noGuard || t.guard == gUnknown || t.guard == gAsk || t.is(sPlace|sHerd) {
				continue
			}
			if told >= 0 && t.guard != gIf && t.guard != gFix && t.guard != gDay && t.guard != gBefore {
				continue
			}
			if p.reader.hinted(t.s, hBeforeDayOnly) && !(i+1 < s.to && p.toks[i+1].is(sDate|sSoft|sMorrow|sClock|sNum)) {
				continue // by the gate
			}
			if t.guard == gWhen && (i+1 == s.to && i > s.from || p.namesTime(i, s.to) || p.cameThen(i, s.to)) {
				continue // pretty though; before dark
			}
			if t.guard == gOrder && i > s.from && p.toks[i-1].is(sTo) && !slices.ContainsFunc(p.toks[i+1:s.to], func(u token) bool { return u.is(anchors) && !u.is(soft) }) {
				continue // on my way to get diesel
			}
			if t.guard == gFix && p.tellsOfOthers(s, i) {
				continue // tall boots were a mistake
			}
			if p.reader.hinted(t.f, hPhone) && slices.ContainsFunc(p.toks[max(s.from, i-2):i], func(u token) bool { return u.is(sOn) }) {
				continue // on Cody's phone
			}
			thing := i+1 < s.to && p.toks[i+1].role != rArticle && p.reader.hinted(p.toks[i+1].f, hArticle) // under the tractor
			if p.reader.hinted(t.s, hBesideNumber) && (thing || !(i+1 < s.to && p.toks[i+1].is(sNum|sRange|sFill|sIt))) && !(i > s.from && p.toks[i-1].is(sNum|sFrost)) {
				continue // rolled it up
			}
			if t.is(sStay|sMeasure) && t.guard == gNegation && i == s.from && i+1 < s.to && p.toks[i+1].is(sNum) {
				continue // still 7
			}
			w := p.reach(list, k, i)
			if w.guard == gWhen && told < 0 {
				told = i
			}
			p.warnings = append(p.warnings, w)
		}
	}
	p.asking(list)
}

// tellsOfOthers reports whether a stretch of talk names a thing, or somebody, before token
// i: it takes nothing back.
func (p *parser) tellsOfOthers(s *stretch, i int) bool {
	named := slices.ContainsFunc(p.toks[s.from:i], func(t token) bool {
		return t.guard == gThing || t.kind == word && t.set == 0 && t.guard == noGuard && t.role == noRole
	})
	return named && !slices.ContainsFunc(p.toks[s.from:s.to], func(t token) bool { return t.is(anchors) && !t.is(soft) })
}

// namesTime reports whether what stands behind a 'before' or a 'while' is a time of the
// day, or a thing that happens then, and no deed: before dark, before church yesterday,
// after the funeral lunch I walked creek.
func (p *parser) namesTime(at, to int) bool {
	i := at + 1
	for i < to && p.toks[i].is(sFill) && p.reader.hinted(p.toks[i].f, hArticle) {
		i++
	}
	plain := func(k int) bool {
		t := tokenAt(p.toks[:to], k)
		return t.kind == word && (t.set == 0 || t.set == sChat) && t.role == noRole && (t.guard == noGuard || t.guard == gUnknown || t.guard == gThing) && !p.reader.hinted(t.f, hDeed)
	}
	if !plain(i) {
		return false
	}
	next := i + 1
	if p.reader.hinted(p.toks[at].s, hBeforeOrAfter) && (plain(next) && p.reader.hinted(tokenAt(p.toks, next+1).s, hSubject) || p.reader.hinted(tokenAt(p.toks, next).s, hSubject)) {
		for next++; next < to && !(p.toks[next].is(verbs) && p.reader.mayBePlan(p.toks[next].f)); next++ {
		}
	}
	return next == to || p.toks[next].is(sDate|sSoft|sClock|sAnd|sMeasure)
}

// cameThen reports whether what stands behind a 'when' is the writer's own way there, which is
// past: when I went by, when we got home.
func (p *parser) cameThen(at, to int) bool {
	return at+2 < to && p.reader.hinted(p.toks[at].s, hUntil) && p.reader.hinted(p.toks[at+1].s, hWriter) && p.toks[at+2].is(sWent|sMeasure) &&
		!slices.ContainsFunc(p.toks[at+2:to], func(t token) bool { return t.is(sPlace|sNum|sHerd|sStock) || t.guard != noGuard })
}

// takesBack finds the word with which a stretch takes back what stands before
// it: creek 9, no, hill; or hill. It is -1 where there is none.
func (p *parser) takesBack(list []stretch, k int) int {
	i := list[k].from
	if k == 0 || p.toks[i].span > 1 || !p.reader.hinted(p.toks[i].f, hNotThat) || p.toks[i].is(sPlace) {
		return -1
	}
	next := i + 1
	for next < len(p.toks) && p.toks[next].is(sComma|sFill) && !p.toks[next].is(sStock) {
		next++
	}
	if next >= len(p.toks) {
		return -1
	}
	said := p.toks[next].set & (sPlace | sNum | sStock | sHerd)
	if said&(sStock|sHerd) != 0 {
		said |= sStock | sHerd | sOff | sPut | sMoved
	}
	if !slices.ContainsFunc(p.toks[:i], func(t token) bool { return t.is(said) }) {
		return -1 // frost, no cows in lane: nothing of the kind was said
	}
	return i
}

// reach says what the guard at token i of stretch k speaks of.
func (p *parser) reach(list []stretch, k, i int) warning {
	s := &list[k]
	w := warning{guard: p.toks[i].guard, at: i, from: s.from, to: s.to}
	switch w.guard {
	case gNegation, gOrder, gPlan, gWhen:
		w.from = i
		for j := k + 1; j < len(list) && (w.guard == gOrder || w.guard == gPlan) && p.goesOn(list[j-1].to, list[j]); j++ {
			w.to = list[j].to
		}
	case gFix:
		w.from, w.to = 0, len(p.toks)
		return w
	case gOther:
		if p.reader.hinted(p.toks[i].s, hNextDoor) {
			w.from, w.to = 0, len(p.toks) // this is Harlan next door: his heifers, perhaps
			return w
		}
	case gIf:
		for j := k; j < len(list) && list[j].sentence == s.sentence; j++ {
			w.to = list[j].to
		}
		if i == s.from && i > 0 && p.toks[i-1].is(sAnd) {
			return w // creek 9, and if it rains we move
		}
		for j := k; j >= 0 && list[j].sentence == s.sentence; j-- {
			w.from = list[j].from
		}
		return w
	}
	for j := k + 1; j < len(list) && list[j].sentence == s.sentence && list[j].names; j++ {
		w.to = list[j].to // not off creek, hill or mill
	}
	first := k == 0 || list[k-1].sentence != s.sentence
	switch {
	case s.anchored && s.animals && k > 0 && (w.guard == gNegation || w.guard == gPart || w.guard == gHedge || w.guard == gPlan) &&
		!slices.ContainsFunc(p.toks[s.from:s.to], func(t token) bool { return t.guard == gOther }) && // the neighbor's bull is out
		(!p.tells(s) || list[k-1].sentence == s.sentence && w.guard != gPlan):
		w.from, w.moves = 0, true // off creek, but not all of them
	case first && k > 0 && w.guard == gPart && !p.toks[i].is(sBeast) && p.tookPart(s):
		w.from, w.moves = 0, true // off creek. took half of them
	case s.anchored || s.full:
	case first && k+1 < len(list) && list[k+1].sentence == s.sentence && p.leadsOn(s, list[k+1].from):
		w.to = list[k+1].to // tomorrow, off creek
	case k > 0 && list[k-1].sentence != s.sentence && (s.to-s.from > 2 || s.to-s.from > 1 && p.toks[s.from].is(sChat)) && (w.guard == gThing || p.onlyReads() && !slices.ContainsFunc(p.toks[s.from:s.to], func(t token) bool { return t.is(sIt | sThat) })):
		// creek 9. Two deer in there. I did not get to the rest.
	case k > 0 && list[k-1].sentence != s.sentence && slices.ContainsFunc(p.toks[i:s.to], func(t token) bool { return t.is(sChat) && t.span > 1 }):
		// going to bed. Do not call me
	case k > 0:
		w.from = list[k-1].from // off creek, maybe
	}
	return w
}

// onlyReads reports whether a text tells of heights, and of no animals or work besides, so that
// a guard in another sentence can speak of none.
func (p *parser) onlyReads() bool {
	return p.any(sNum) && !slices.ContainsFunc(p.toks, func(t token) bool {
		return t.is(anchors&^(sPlace|sNum|sRange)) && !t.is(soft) || t.is(sIn|sOn|sOut) && t.is(sStay) || t.guard == gFix
	})
}

// tookPart reports whether a stretch begins with a verb of moving and names neither ground
// nor work: it is of the animals spoken of before.
func (p *parser) tookPart(s *stretch) bool {
	i := s.from
	for i < s.to && p.toks[i].is(sFill|sIt|sAbout) {
		i++
	}
	return i < s.to && p.toks[i].is(sMoved|sPut) && !slices.ContainsFunc(p.toks[s.from:s.to], func(t token) bool { return t.is(sPlace | sEvent | sFrost) })
}

// tells reports whether a stretch about animals says what became of them in words
// of its own: had to swim two calves; but not 'two calves left'.
func (p *parser) tells(s *stretch) bool {
	strange := false
	for i := s.from; i < s.to; i++ {
		t := &p.toks[i]
		if t.is(sLeft|sWeak|sBe|sWas|where|sOut) || t.guard == gNegation {
			return false
		}
		strange = strange || t.kind == word && t.set == 0 && t.guard == noGuard && t.role == noRole
	}
	return strange
}

// goesOn reports whether a stretch goes on with the orders of the one before: and
// put them on hill.
func (p *parser) goesOn(mark int, s stretch) bool {
	if mark >= len(p.toks) || !p.toks[mark].is(sAnd|sComma) {
		return false
	}
	for i := s.from; i < s.to; i++ {
		if t := &p.toks[i]; !t.is(sFill|sAnd) || p.reader.hinted(t.s, hSubject) {
			return t.is(verbs) && p.reader.mayBePlan(t.f)
		}
	}
	return false
}

// leadsOn reports whether a stretch of guards alone goes with the one behind it:
// tomorrow, off creek; but not 'don't know how, but creek is 9'.
func (p *parser) leadsOn(s *stretch, next int) bool {
	for i := s.to; i < next; i++ {
		if p.toks[i].kind == word {
			return false
		}
	}
	return s.to-s.from == 1 || p.toks[s.from].guard != gNegation
}
