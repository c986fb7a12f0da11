package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// mostBeside is how many words beside a clause count: whoever tells a story
// tells it in many.
const mostBeside = 4

// count counts the features of a clause.
func (p *parser) count(pieces []piece, c *piece) *[features]float64 {
	n := &[features]float64{}
	n[wClause] = 1
	bit := uint32(1) << c.form
	for i := c.from; i < c.to; i++ {
		if t := &p.toks[i]; c.form == fFrost && p.ofFrost(t) {
			continue
		} else if p.chart.free[i]&bit == 0 && c.form == fReading && p.strange(i) && p.parted(i, p.numbersIn(c)[0]) {
			n[p.chart.counts[i]+wBesideWord-wWord]++ // creek on the way from town, 9 inches
		} else if p.chart.free[i]&bit == 0 {
			n[p.chart.counts[i]]++
		} else if t.is(sPlace) {
			n[wSlip] += flag(t.slipped)
		}
	}
	p.countBeside(n, pieces, c)
	p.countGuards(n, c, bit)
	p.countForm(n, pieces, c)
	n[wEveryday] = flag(p.everyday(c))
	n[nothing] = 0
	return n
}

func flag(is bool) float64 {
	if is {
		return 1
	}
	return 0
}

// countBeside counts what stands beside a clause in its stretch.
func (p *parser) countBeside(n *[features]float64, pieces []piece, c *piece) {
	words := 0
	away := c.form == fReading && p.parted(c.from, p.numbersIn(c)[0]) // what is told of the way there is no matter
	for i := c.lo; i < c.hi; i++ {
		if i >= c.from && i < c.to || away && i < c.from {
			continue
		}
		t := &p.toks[i]
		if t.aside || c.form == fFrost && p.ofFrost(t) || c.form == fNoFrost && p.reader.hinted(t.f, hNobody) || t.is(soft|idle|where|sFrom|sTo|sField|sPlants|sAbout|sGrass|sAvg|sColon|sDash|sComma|sAnd|sVerb|sMorrow) && !t.is(sPlace|sNum|sHerd) {
			continue
		}
		switch f := p.chart.counts[i]; f {
		case wWord, wStranger:
			if words++; words <= mostBeside {
				n[f+wBesideWord-wWord]++
			}
		case wPlace:
			n[wBesidePlace]++
		case wNumber, wOddNumber:
			n[wBesideNumber]++
		case wTrade, wAnimals:
			n[wBesideTrade]++
		}
	}
	p.countNeighbours(n, pieces, c)
	if c.from > c.lo && p.names(c.from) {
		whole := p.toks[c.from].span > 1 && !p.reader.hinted(p.toks[c.from-1].s, hOfMonth) && p.reader.hinted(p.toks[c.from].f, hArticle) // reporto la loma
		n[wAtName] += flag(p.strange(c.from-1) && !whole && !p.reader.hinted(p.toks[c.from-1].f, hNoName) || p.toks[c.from-1].guard == gOther)
		if c.form == fReading && !away && p.toks[c.from-1].is(where) && c.from-1 > c.lo && (p.strange(c.from-2) || p.toks[c.from-2].is(sPlant) || p.toks[c.from-2].guard == gThing) {
			n[wAtName]++ // weeds on hill 20 inches
		}
	}
	if c.to+1 < c.hi && p.toks[c.to].is(where) && p.strange(c.to+1) {
		n[wAtName] += flag(c.form == fOff) // off creek on sat
	}
	if c.to < c.hi && c.form == fReading && p.toks[c.to].is(sBe) && p.toks[c.to-1].is(sNum) && p.toks[c.to-1].unit == 0 {
		n[wBehindNumber]++ // lane 2 is closed: another name
	}
	if k := c.to; p.toks[k-1].is(sOff|sOn|sIn) && k+1 < c.hi && p.toks[k].is(sFill) && p.strange(k+1) {
		n[wAtName]++ // off the draw, which is none
	}
	if c.to < c.hi && p.strange(c.to) && !p.marked(c.to) && !p.leavesNumber(c.to) && !(c.form == fFrost && p.ofFrost(&p.toks[c.to])) {
		n[wAtName] += flag(!p.reader.hinted(p.toks[c.to].f, hNoName) && !(c.form == fNoFrost && p.reader.hinted(p.toks[c.to].f, hNobody)) && (p.names(c.to-1) || p.toks[c.to-1].is(sFrost|sOff|sOn|sIn|sPlant)))
		n[wBehindNumber] += flag(p.toks[c.to-1].is(sNum) && !tokenAt(p.toks, c.to+1).is(sPlants) && p.toks[c.to-1].unit == 0 && (p.mayCount(c.to) || c.form == fBare && c.inText && c.from == c.lo || c.form == fReading && p.chart.prep[p.in(c, sPlace)[0]]&sAt != 0))
	}
	if c.from > c.lo {
		before := c.from - 1
		for before > c.lo && p.toks[before].is(sFill) {
			before--
		}
		n[wNoAnimals] += flag(c.form == fOff && p.toks[c.from].is(sHerd|sStock) && p.strange(before)) // kept the cows off creek
		i := c.from - 1
		for i > c.lo && p.toks[i].is(sBe|sWas|sAbout|sMeasure|sFill|where) {
			i--
		}
		n[wBeforeNumber] += flag(p.toks[c.from].is(sNum) && (p.strange(i) || p.toks[i].is(sField)))
		n[wNoAnimals] += flag(p.toks[c.from].is(sOff|sOut) && p.stray(c.from-1)) // fenced off creek
	}
}

// mayCount reports whether a number before token i may count what stands there, of
// which there are many, or be measured in it.
func (p *parser) mayCount(i int) bool {
	last := i+1 >= len(p.toks) || p.toks[i+1].is(sStop|sComma|sPlace)
	if p.toks[i-1].val == 1 || p.reader.hinted(p.toks[i].f, hHundred) || p.reader.hinted(p.toks[i].f, hNotThat) || last && p.tongue.likeUnit(p.toks[i].f) {
		return true
	}
	for k := i; k < min(i+3, len(p.toks)) && p.strange(k) && (k == i || !p.marked(k)); k++ {
		if p.reader.endsIn(p.toks[k].f, hMany) {
			return true
		}
	}
	return false
}

// stray reports whether a word right before an 'off' makes another verb of it:
// fenced off, better off.
func (p *parser) stray(i int) bool {
	const own = sHerd | sStock | sAll | motions | sBe | sWas | sFill | sDate | sSoft | sClock | sAnd | sComma | sColon | sDash | sPlace | sAck | sIt
	t := &p.toks[i]
	return t.kind == word && !t.is(own) && t.guard == noGuard
}

// countNeighbours counts the clauses right beside one, with no mark between, that
// say too little to stand by themselves: their number or name may belong to it.
func (p *parser) countNeighbours(n *[features]float64, pieces []piece, c *piece) {
	for i := range pieces {
		d := &pieces[i]
		if c.form == fReading && d.sentence == c.sentence && d.from > c.from && len(p.in(d, sPlace)) == 0 && p.guardOver(d.from, d.to) != gThing &&
			(d.form == fRange || d.form == fBare && !(p.strange(d.from-1) && p.parted(c.to-1, d.from))) {
			n[wBesideNumber]++ // the list goes on
		}
		if d.form == fPlace && c.form == fReading && d.to < c.from && !p.sameGround(c, d) && p.names(c.from) && p.enumerated(d.to-1, c.from) {
			n[wBesidePlace]++ // rest and back: 10 and 9
			continue
		}
		if d == c || d.to != c.lo && d.from != c.hi || d.sentence != c.sentence || c.form == fBare || c.form == fPlace {
			continue
		}
		n[wBesideNumber] += flag((d.form == fBare && d.facts == nil || d.form == fRange) && c.form != fReading)
		n[wBesideTrade] += flag(d.form == fLater || d.form == fUndo)
		n[wBesideTrade] += flag(c.form == fReading && p.toks[c.from].is(sNum) && shapes[d.form].core&sMoved != 0) // off creek 2 hill
		n[wBesidePlace] += flag(d.form == fPlace && !p.sameGround(c, d))
	}
}

// sameGround reports whether a clause names the paddock of a name that stands alone.
func (p *parser) sameGround(c, d *piece) bool {
	for _, i := range p.in(c, sPlace) {
		if p.toks[i].sameName(&p.toks[d.from]) {
			return true
		}
	}
	return false
}

func (p *parser) names(i int) bool { return p.toks[i].is(sPlace) }

// strange reports whether a token is a word that means nothing here.
func (p *parser) strange(i int) bool {
	return p.chart.counts[i] == wWord || p.chart.counts[i] == wStranger
}

// marked reports whether a mark that was dropped stands before token i.
func (p *parser) marked(i int) bool { return p.toks[i].from > p.toks[i-1].to+1 }

// countGuards counts the guards whose scope a clause stands in, and those beside
// it.
func (p *parser) countGuards(n *[features]float64, c *piece, bit uint32) {
	for _, w := range p.warnings {
		if c.form == fStatus && w.guard != gFix && w.guard != gNegation {
			continue // what is asked is only shown
		}
		if c.form == fDead && w.guard == gBefore && w.at >= c.from && len(p.in(c, sDead|sDown)) > 0 && p.parted(p.in(c, sDead|sDown)[0], w.at) || c.form == fNoFrost && w.guard == gRain {
			continue // down in lane, staggering before that; rain 0.8 no frost
		}
		if c.form == fNoFrost && w.guard == gNegation && (p.toks[w.at].is(sStay) || w.at == 0 && p.reader.hinted(p.toks[0].s, hNotThat) && c.from > 1) || w.guard == gThing && c.form == fBare && len(c.facts) > 0 && c.facts[0].Kind == diary.Rain {
			continue // no ha helado todavia; rain! 1.1 at the house
		}
		if w.guard == gThing && (c.event == eHayed || c.event == eRain && p.reader.hinted(p.toks[w.at].f, hFrosted)) {
			continue // 58 bales; 1.4 at the house
		}
		if c.form == fUndo && (w.guard == gFix || p.reader.hinted(p.toks[w.at].s, hNotThat)) {
			continue // oops, undo that
		}
		if w.guard == gPart && (c.event == eWean && p.toks[w.at].is(sBeast) || c.form == fStricter || c.form == fUndo) {
			continue // the calves were weaned, a cow is dead
		}
		if w.guard != gAsk && w.guard != gOrder && !(w.guard == gPlan && p.toks[w.at].is(verbs)) && w.at >= c.from && w.at < c.to && p.chart.free[w.at]&bit != 0 || w.at == c.spent {
			continue // a word of the clause itself: p3 still at 10
		}
		if w.guard == gRain && (c.form == fPlant || c.event == eRain && p.fell(c) > 0) || w.guard == gOther && c.form == fPlant && len(p.in(c, sTree)) > 0 && len(p.in(c, sDown|sWilt)) > 0 || w.guard == gThing && (c.form == fPlant || c.form == fFrost && p.frostedThing(&w, c)) {
			continue // along the fence
		}
		if day := p.dayIn(c.lo, c.hi); w.guard == gToCome && day.day.Before(p.day) && !day.soft {
			continue // before dark yesterday
		}
		if w.guard == gToCome && c.form == fOff && w.at > c.from && p.reader.hinted(p.toks[w.at].f, hTill) {
			continue // empty till spring
		}
		if w.guard == gToCome && c.form == fNoFrost && p.toks[w.at].is(sCold) {
			continue // no frost yet
		}
		if c.form == fDead && (p.reader.hinted(p.toks[w.at].s, hBeforeDayOnly) || w.guard == gToCome && w.at >= c.to || w.guard == gOther && p.reader.hinted(p.toks[w.at].s, hOfHer)) {
			continue // a dead cow by the road
		}
		if w.moves && c.form != fOff && c.form != fOn && c.form != fMove {
			continue
		}
		switch {
		case w.from < c.to && w.to > c.from && p.reaches(&w, c):
			g := w.guard
			if g == gOrder && p.toks[w.at].is(verbs) {
				if c.form == fOn && !p.who.Manager && !p.writes(hKindly) {
					continue // who helps reports, and gives no orders
				}
				g = gHedge // an order, or past with its accent left out
			}
			if p.reader.tells(&p.toks[w.at], hHearsay) && (c.form == fReading || c.form == fBare) {
				n[wHearsay] = 1
				continue
			}
			n[guardFeature(g)] = 1
		case w.at >= c.lo && w.at < c.hi:
			n[besideFeature(w.guard)] = 1
		}
	}
}

// ofFrost reports whether a word stands in many a report of a frost and makes nothing else
// of it: white in the bottoms, froze clear across the place.
func (p *parser) ofFrost(t *token) bool {
	return !t.is(sPlace) && slices.ContainsFunc([]hint{hOfFrost, hFrosted, hTender, hKills, hIce}, func(h hint) bool { return p.reader.tells(t, h) })
}

// frostedThing reports whether a guard is a thing that a frost is seen on, told
// behind the frost: frost on the roof, 27 at the barn.
func (p *parser) frostedThing(w *warning, c *piece) bool {
	return p.reader.hinted(p.toks[w.at].f, hFrosted) && w.at > p.in(c, sFrost)[0]
}

// reaches reports whether a guard that reaches forward stands before something
// that a clause says.
func (p *parser) reaches(w *warning, c *piece) bool {
	core := shapes[c.form].core
	if (c.form == fReading || c.form == fBare) && w.guard != gAsk && w.guard != gIf && w.guard != gFix {
		core = sNum // what is said of the paddock in another stretch is no matter
	}
	for i := max(w.from, c.from); i < min(w.to, c.to); i++ {
		if (i != w.at || w.guard == gOrder || w.guard == gAsk) && p.toks[i].is(core) {
			return true
		}
	}
	return false
}

// countForm counts what only clauses of a form may have.
func (p *parser) countForm(n *[features]float64, pieces []piece, c *piece) {
	switch c.form {
	case fReading, fBare:
		p.countReading(n, pieces, c)
	case fOff, fOn, fMove:
		p.countMove(n, c)
		from, to := p.sentenceOf(c)
		if c.form == fOff {
			n[guardFeature(gPart)] = max(n[guardFeature(gPart)], flag(p.othersStay(c)))
			n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], flag(p.nearlyOff(c) || p.writes(hGateOpen) && len(p.in(c, sMoved|sPut|sOff)) == 0))
		}
		for i := from; i < to && c.form == fOff; i++ {
			n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], flag(p.reader.tells(&p.toks[i], hNotQuite))) // off lane, more or less
		}
		n[guardFeature(gPart)] = max(n[guardFeature(gPart)], flag(c.form == fOff && p.leavesSome(c)))
		for i := range pieces { // sacamos las vacas pero quedaron 2 en creek
			d := &pieces[i]
			if c.form != fOff || d.from < c.from || p.isHour(c, d) || d.sentence != c.sentence || !p.toks[d.from].is(sNum) || p.toks[d.from].unit != 0 {
				continue
			}
			switch {
			case d.form == fReading:
				n[wBesideNumber]++
			case d.form == fBare && d.to == d.from+1 && (p.toks[d.from].val < leastLeft || d.to < len(p.toks) && p.toks[d.to].is(sLeft)):
				n[guardFeature(gPart)] = 1 // off front, 2 still in there
			}
		}
	case fNoFrost:
		from, to := p.sentenceOf(c)
		n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], flag(p.excepted(c)))
		elsewhere := slices.ContainsFunc(p.toks[min(c.hi, to):to], func(t token) bool { return t.is(sPlace|where) || p.reader.hinted(t.s, hBut) })
		for i := max(from, c.hi); i < to && elsewhere; i++ {
			n[wBesideWord] += flag(p.strange(i)) // no frost on upper, but plenty in the draws
		}
	case fFrost:
		at := p.in(c, sFrost)[0]
		if at > 0 && p.toks[at-1].is(sAbout|sAvg) && !p.reader.hinted(p.toks[at-1].s, hJust) {
			n[guardFeature(gHedge)] = 1 // looks like frost
		}
		n[guardFeature(gPlan)] = max(n[guardFeature(gPlan)], flag(p.writes(hFrostComes)))
		n[guardFeature(gOther)] = max(n[guardFeature(gOther)], flag(p.frostOfOthers(c, at)))
		if at+1 < len(p.toks) && p.toks[at+1].guard == gNegation {
			n[guardFeature(gNegation)] = 1 // la helada no ha caido
		}
		n[wAtName] = max(n[wAtName], flag(at+1 < len(p.toks) && p.strange(at+1) && !p.ofFrost(&p.toks[at+1]) && !p.marked(at+1) ||
			at+2 < len(p.toks) && (p.reader.hinted(p.toks[at+1].s, hArticle) || p.reader.hinted(p.toks[at+1].s, hWhose)) && p.strange(at+2))) // frost seeded, freeze the beef
		if k := at + 1; k+1 < len(p.toks) && p.toks[k].is(where) && len(p.in(c, sPlace)) == 0 {
			for k++; k < len(p.toks) && p.toks[k].is(sFill); k++ {
			}
			if k < len(p.toks) && (p.strange(k) || p.toks[k].set == sChat) && !p.reader.tells(&p.toks[k], hFrosted) {
				n[wAtName] = 1 // frost on my beer mug
			}
		}
		n[wOpenWater] = flag(p.openWater(c))
	case fStricter:
		from, to := p.sentenceOf(c)
		if c.event == eRain && c.to+1 < len(p.toks) && p.toks[c.to].is(where) && p.strange(c.to+1) {
			n[wAtName] = 1 // it rained 2 at mom's
		}
		for i := from; i < to && c.event == eRain; i++ {
			t := &p.toks[i]
			if (i < c.from || i >= c.to) && t.is(sNum) && t.unit == 0 && t.val < 6 {
				n[wBesideNumber] = 1 // creek 0.8, 1.1 rain
			}
		}
	case fPlant:
		for _, i := range p.in(c, sPlant) {
			n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], flag(p.toks[i].guard == gHedge))                                    // some tree
			n[wAtName] = max(n[wAtName], flag(i+1 < len(p.toks) && (p.strange(i+1) || p.toks[i+1].guard == gThing) && !p.marked(i+1))) // cherry pie
		}
		from, to := p.sentenceOf(c)
		chilled := func(t token) bool { return p.reader.tells(&t, hChill) }
		n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], flag(slices.ContainsFunc(p.toks[from:to], chilled))) // johnsongrass looks wilty since the cold
		for i := from; i < to && len(p.in(c, sDown|sWilt)) == 0; i++ {
			if t := &p.toks[i]; t.is(sGone|sEmpty|sOff|sLeft) || t.event == eClear {
				n[guardFeature(gHedge)] = 1 // johnsongrass gone from hill
			}
		}
	case fLooser:
		from, to := p.sentenceOf(c)
		for i := from; i < to && c.event == eBrown; i++ {
			n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], flag(p.toks[i].is(sClock)), flag(p.reader.hinted(p.toks[i].s, hGreen) && !p.toks[i].is(sPlace) && !(i > 0 && p.toks[i-1].guard == gNegation))) // brown, but green below
		}
	case fEvent:
		if c.event == eHayed && len(c.facts) > 0 && len(c.facts[0].Heights) > 0 {
			n[guardFeature(gOrder)], n[guardFeature(gHedge)] = 0, 0
		}
		if k := slices.IndexFunc(p.toks[c.from:], func(t token) bool { return t.event == eBurned }) + c.from + 1; c.event == eBurned && k > c.from {
			for k < len(p.toks) && p.toks[k].is(sFill) && !p.toks[k].is(sPlace) {
				k++
			}
			n[wTrade] += flag(k < len(p.toks) && (p.strange(k) && !p.marked(k) || p.toks[k].guard == gThing)) // burned trash at creek
		}
		n[wTrade] += 2 * flag(c.event == eDry && !p.writes(hDrought) && (len(pieces) > 1 || p.besideDry(c)))
	}
}

// frostOfOthers reports whether a person froze, or had it: I froze, my brother had frost.
func (p *parser) frostOfOthers(c *piece, at int) bool {
	if at > 0 && p.reader.hinted(p.toks[at-1].s, hWriter) && p.reader.hinted(p.toks[at].f, hPastFrost) {
		return true
	}
	i := at
	for i > 0 && (p.toks[i-1].is(sCold|sFill) && !p.reader.hinted(p.toks[i-1].s, hWhose)) {
		i--
	}
	if i > 0 && p.toks[i-1].is(sStock) && p.reader.hinted(p.toks[i-1].s, hPronoun) && len(p.in(c, sPlace)) == 0 {
		return true // they had frost
	}
	if i < 2 || i == at || !p.reader.hinted(p.toks[i-2].s, hWhose) {
		return false
	}
	t := &p.toks[i-1]
	return t.kind == word && !t.is(sPlace|sGrass|sField) && !p.ofFrost(t) && !p.reader.hinted(t.f, hElsewhere) && !p.reader.hinted(t.f, hGround)
}

// excepted reports whether what is denied is not denied of all: no frost, just the low
// spots; it did not frost all over; no frost up here, hill was white.
func (p *parser) excepted(c *piece) bool {
	denied := p.in(c, sFrost)
	if len(denied) == 0 || slices.ContainsFunc(p.toks, func(t token) bool { return p.reader.tells(&t, hDew) }) {
		return false
	}
	_, to := p.sentenceOf(c)
	for i := denied[0] + 1; i < to; i++ {
		t := &p.toks[i]
		named := t.is(sPlace) && p.parted(denied[0], i) && !(i+1 < to && p.toks[i+1].is(sNum|sBe|sMeasure|sColon|sWas|sAt))
		if p.reader.hinted(t.s, hException) && i+1 < to && !p.toks[i+1].is(sComma) && !p.heightBehind(i+1, to) || p.reader.hinted(t.s, hEverywhere) || p.reader.tells(t, hWhite) || named {
			return true
		}
	}
	return false
}

// heightBehind reports whether the tokens from one on begin with a name and its height:
// no frost, but the mill is 7.
func (p *parser) heightBehind(from, to int) bool {
	named := false
	for i := from; i < to; i++ {
		switch t := &p.toks[i]; {
		case t.is(sPlace):
			named = true
		case t.is(sNum):
			return named && t.val < leastBareCold
		case !t.is(sFill | sBe | sWas | sMeasure | where | sTo | sAbout | sColon):
			return false
		}
	}
	return false
}

// othersStay reports whether a clause of animals that left names another herd behind its
// paddock: heifers off creek, left the cows.
func (p *parser) othersStay(c *piece) bool {
	last := -1
	for _, i := range p.in(c, sHerd) {
		if last >= 0 && !slices.Equal(p.toks[i].herds, p.toks[last].herds) && !p.enumerated(last, i) {
			return true
		}
		last = i
	}
	return false
}

// nearlyOff reports whether a word for nearly stands right before the one for off: cows
// about off creek.
func (p *parser) nearlyOff(c *piece) bool {
	for i := c.lo; i < c.to; i++ {
		next := tokenAt(p.toks, i+1)
		if t := &p.toks[i]; t.is(sAbout) && !t.is(sFill) && !p.reader.hinted(t.s, hJust) && next.is(sOff|sEmpty|sGone|sOut|sAll) {
			return true
		}
	}
	return false
}

// leavesSome reports whether a denial that empties ground goes on with those that are left,
// or speaks of its grass: no cattle in creek but the heifers; no queda nada en creek de pasto.
func (p *parser) leavesSome(c *piece) bool {
	at := p.in(c, sOff|sEmpty)
	if len(at) == 0 || !p.reader.hinted(p.toks[at[0]].f, hDenies) {
		return false
	}
	_, to := p.sentenceOf(c)
	for i := at[0] + 1; i < to; i++ {
		t := &p.toks[i]
		if p.toks[at[0]].is(sEmpty) && (i == at[0]+1 && t.is(sTo|sVerb) || p.reader.hinted(t.s, hException) && p.parted(at[0], i+1)) {
			return true // nothing left in there to graze, or but stubble
		}
		if t.is(sMeasure|sGrass) && p.toks[i-1].is(sPlace) || p.reader.hinted(t.s, hException) && slices.ContainsFunc(p.toks[i+1:min(i+4, to)], func(u token) bool { return u.is(sHerd | sStock | sBeast) }) {
			return true
		}
	}
	return false
}

// isHour reports whether the number of a clause behind animals that left is when they did:
// off creek around 2.
func (p *parser) isHour(c, d *piece) bool {
	return d.from == c.to+1 && d.to == d.from+1 && p.toks[d.from].unit == 0 && p.toks[c.to].is(sAbout|sAt) && p.toks[d.from].val <= 12 && (d.to == len(p.toks) || p.toks[d.to].is(sStop|sComma|sAnd))
}

// besideDry reports whether anything stands beside a 'dry': of today's weather,
// a cow or a creek it says no drought.
func (p *parser) besideDry(c *piece) bool {
	for i := range p.toks {
		if t := &p.toks[i]; (i < c.from || i >= c.to) && (t.set == 0 || t.is(sDate) && t.day == p.day) {
			return true
		}
	}
	return false
}
