package reply

import (
	"slices"
	"strings"

	"stubbled/scheduler/diary"
)

// A motion is what a clause says of animals: which, and what they left and
// entered, as tokens.
type motion struct {
	herds     []int
	all       bool // every herd
	vague     bool // a word that several herds answer to
	from, to  []int
	unclear   *token // a name that fits several paddocks
	fromNames []int
	toNames   []int
}

// motionOf gathers what a clause says of animals. Where it names none they are
// those spoken of before.
func (p *parser) motionOf(c *piece, before []int) motion {
	var m motion
	stock := p.in(c, sHerd|sStock|sAll)
	if len(stock) == 0 || len(before) > 0 && (p.pronoun(stock) || !slices.ContainsFunc(stock, func(i int) bool { return p.toks[i].is(sHerd | sStock) })) {
		stock = before
	}
	for _, i := range stock {
		t := &p.toks[i]
		for _, h := range t.herds {
			if t.is(sHerd) {
				m.herds = include(m.herds, h)
			}
		}
		m.vague = m.vague || t.is(sHerd) && len(t.herds) > 1
		m.all = m.all || t.is(sAll) && !t.is(sHerd|sPlace)
	}
	if len(m.herds) > 0 {
		m.all = false
	} else if len(p.reader.herds) == 1 {
		m.herds = []int{0}
	}
	for _, i := range p.in(c, sPlace) {
		switch {
		case c.form == fOn || c.form == fStill || c.form == fMove && p.chart.prep[i]&(sTo|sOn|sIn) != 0:
			m.toNames = append(m.toNames, i)
		default:
			m.fromNames = append(m.fromNames, i)
		}
	}
	var a, b *token
	if c.form == fStill && (len(m.herds) == 0 || m.vague || p.counted(c)) {
		if m.herds = p.herdsNamed(); len(m.herds) != 1 || p.counted(c) {
			m.herds = nil // some are in, whoever they are of
		}
		m.all, m.vague = true, false
	}
	m.from, a = p.placesIn(m.fromNames)
	m.to, b = p.placesIn(m.toNames)
	if m.unclear = a; a == nil {
		m.unclear = b
	}
	return m
}

// counted reports whether a clause speaks of a part of the animals.
func (p *parser) counted(c *piece) bool {
	return p.anyIn(c, func(t *token) bool { return t.guard == gPart && !t.is(sPlace) || t.is(sBeast) })
}

// pronoun reports whether animals are named by a pronoun alone, so that they
// are those spoken of before.
func (p *parser) pronoun(toks []int) bool {
	pronoun := false
	for _, i := range toks {
		if t := &p.toks[i]; t.is(sHerd|sStock) && !p.reader.hinted(t.s, hPronoun) {
			return false
		} else if t.is(sHerd | sStock) {
			pronoun = true
		}
	}
	return pronoun
}

// buildMove makes the facts of animals that left a paddock, entered one, or
// went from one to another.
func (p *parser) buildMove(pieces []piece, c *piece, w when, before []int) {
	m := p.motionOf(c, before)
	switch {
	case m.unclear != nil:
		c.ask = p.whichPaddock(m.unclear.s, m.unclear.places, func(id string) []diary.Fact {
			if c.form != fOff {
				return p.ons(id, m.herds, w)
			}
			return p.offs(id, m.herds, w)
		})
	case c.form == fOff && len(m.from) == 0:
		p.placeless(c, p.told(pieces, fOn, fMove), func(id string) []diary.Fact { return p.offs(id, m.herds, w) })
	case c.form == fStill && len(m.to) == 0 && p.somewhereElse(c):
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: p.toks[c.to].s})
	case c.form == fStill && len(m.to) == 0:
		p.placeless(c, p.told(pieces), func(id string) []diary.Fact { return p.ons(id, m.herds, w) })
	case c.form == fOn && len(m.to) == 0:
		p.bareOn(pieces, c, m, w)
	case c.form == fMove && (len(m.from) == 0 || len(m.to) == 0): // a few still in creek, cows to hill
		c.ask = p.question(diary.Question{Why: diary.Unclear})
	case c.form == fMove && m.from[0] == m.to[0]:
		c.ask = p.question(diary.Question{Why: diary.Unclear, Paddock: p.reader.places[m.from[0]].ID})
	default:
		left, entered := p.twoDays(c, m, w)
		for _, i := range m.from {
			c.facts = append(c.facts, p.offs(p.reader.places[i].ID, m.herds, left)...)
		}
		if len(m.to) > 1 { // one herd in two paddocks at once
			c.ask = p.whichPaddock("", m.to, func(id string) []diary.Fact { return p.ons(id, m.herds, entered) })
			return
		}
		for _, i := range m.to {
			p.turnIn(c, p.reader.places[i].ID, m, entered)
		}
	}
}

// partNamed reports whether a part of a herd stands before a clause, in its sentence, that
// speaks of 'them': six head of the heifers got by me, they're in hill.
func (p *parser) partNamed(c *piece) bool {
	from, _ := p.sentenceOf(c)
	for i := from; i+1 < c.from; i++ {
		if t := &p.toks[i]; t.is(sBeast) && t.guard == gPart && p.reader.hinted(p.toks[i+1].s, hOfMonth) {
			return true
		}
	}
	return false
}

// somewhereElse reports whether a place that is none on file stands right behind a clause:
// there are still calves in the draw.
func (p *parser) somewhereElse(c *piece) bool {
	in := c.to
	if p.toks[in-1].is(where) {
		in--
	}
	i := in
	for ; i < c.hi && p.toks[i].is(where|sFill) && !p.toks[i].is(sPlace); i++ {
	}
	return i > in && i < c.hi && p.toks[in].is(where) && p.strange(i)
}

// twoDays tells the days of a move that took two: off creek yesterday, on hill
// today.
func (p *parser) twoDays(c *piece, m motion, w when) (left, entered when) {
	if c.form != fMove || !w.many {
		return w, w
	}
	from, to := m.fromNames[0], m.toNames[0]
	left, entered = p.dayIn(c.lo, to), p.dayIn(to, c.hi)
	if from > to || left.word == "" || entered.word == "" || left.many || entered.many || entered.day.Before(left.day) {
		return w, w
	}
	return left, entered
}

func (p *parser) offs(id string, herds []int, w when) []diary.Fact {
	if len(herds) == 0 || (len(p.reader.herds) > 0 && len(herds) == len(p.reader.herds)) && len(herds) > 1 {
		return []diary.Fact{p.fact(diary.Off, id, w.day)}
	}
	var facts []diary.Fact
	for _, h := range herds {
		f := p.fact(diary.Off, id, w.day)
		f.Herd = p.reader.herds[h].ID
		facts = append(facts, f)
	}
	return facts
}

func (p *parser) ons(id string, herds []int, w when) []diary.Fact {
	facts := p.offs(id, herds, w)
	for i := range facts {
		facts[i].Kind = diary.On
	}
	return facts
}

// whichOf reports whether it is not clear which herd is meant.
func (p *parser) whichOf(c *piece, m motion) bool {
	if len(p.reader.herds) < 2 || m.all && c.form != fMove {
		return false
	}
	return len(m.herds) == 0 || m.vague
}

// turnIn makes the facts of animals that entered a paddock. Where several herds
// could be meant it asks which.
func (p *parser) turnIn(c *piece, id string, m motion, w when) {
	if !p.whichOf(c, m) {
		c.facts = append(c.facts, p.ons(id, m.herds, w)...)
		return
	}
	choices := m.herds
	if len(choices) == 0 {
		choices = make([]int, len(p.reader.herds))
		for i := range choices {
			choices[i] = i
		}
	}
	c.ask = p.whichHerd(choices, func(herd string) []diary.Fact {
		f := p.fact(diary.On, id, w.day)
		f.Herd = herd
		return []diary.Fact{f}
	})
	c.ask.Paddock = id
}

// bareOn makes the fact of animals turned in where no paddock is named.
func (p *parser) bareOn(pieces []piece, c *piece, m motion, w when) {
	told := p.told(pieces, fOff)
	if all := p.told(pieces); len(told) == 0 && len(all) == 1 && p.othersLeft(pieces, m) {
		told = all // cows off lane, heifers in
	}
	if !p.whichOf(c, m) {
		p.placeless(c, told, func(id string) []diary.Fact { return p.ons(id, m.herds, w) })
		return
	}
	place, from := p.contextPlace(told)
	if from == fromNowhere {
		c.ask = p.question(diary.Question{Why: diary.WhichPaddock})
		return
	}
	p.turnIn(c, p.reader.places[place].ID, m, w)
}

// othersLeft reports whether those that left a paddock are all known to be other
// herds than the ones that a motion is of.
func (p *parser) othersLeft(pieces []piece, m motion) bool {
	for i := range pieces {
		for _, f := range pieces[i].facts {
			if f.Kind == diary.Off && (f.Herd == "" || slices.ContainsFunc(m.herds, func(h int) bool { return p.reader.herds[h].ID == f.Herd })) {
				return false
			}
		}
	}
	return len(m.herds) > 0 && !m.vague
}

// countMove counts what makes a motion doubtful.
func (p *parser) countMove(n *[features]float64, c *piece) {
	n[wNoAnimals] = max(n[wNoAnimals], flag(p.strayVerb(c)))
	n[wNobody] = flag(c.form == fOn && len(p.in(c, sHerd|sStock|sAll)) == 0 && c.from > 0 && p.reader.hinted(p.toks[c.from-1].s, hSubject) && p.toks[c.from].is(sWent) ||
		c.form == fOn && len(p.reader.herds) > 1 && len(p.in(c, sHerd|sStock|sAll|verbs)) == 0)
	n[wNoAnimals] = max(n[wNoAnimals], flag(p.somebodyElseOff(c)))
	n[wNotWhere] = flag(c.form == fOff && len(p.in(c, sOff|sGone|sEmpty|sOut|sPlace)) == 0 && !p.askedToMove(c) && !p.tookAway(c))
	if c.form == fOn && len(p.in(c, sDown)) > 0 {
		n[guardFeature(gHedge)] = 1 // cows down in the bottom: lying there, perhaps
	}
	n[guardFeature(gPart)] = max(n[guardFeature(gPart)], flag(p.pronoun(p.in(c, sHerd|sStock)) && p.partNamed(c)))
	kindly := slices.ContainsFunc(p.toks, func(t token) bool { return p.reader.hinted(t.s, hKindly) })
	n[guardFeature(gOrder)] = max(n[guardFeature(gOrder)], flag(kindly && len(p.in(c, verbs)) == 0)) // heifers to hill, please
	if c.form == fOn && c.to < len(p.toks) && p.toks[c.to].is(sEvent) && !slices.ContainsFunc(p.in(c, sHerd|sStock), func(i int) bool { return !p.toks[i].is(sAll) }) {
		n[guardFeature(gThing)] = 1 // everything in creek is brown
	}
	n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], flag(c.form == fOn && p.onlySeen(c)))
	switch {
	case p.isPast(c, when{day: p.day}):
		n[besideFeature(gWhen)] = 0 // pulled them before the storm
	case c.form != fOff && p.until(c):
		n[guardFeature(gPlan)] = 1 // heifers on p3 when you get here
	}
	if (c.form == fOff || c.form == fMove || c.form == fOn && p.anyIn(c, func(t *token) bool { return t.is(sTo) })) &&
		(!p.isPast(c, when{day: p.day}) && p.notYet(c) || !p.actsOn(c) && p.comesByThen(c)) {
		n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], 1)
	}
	if c.form == fOff && slices.ContainsFunc(p.toks[c.to:], func(t token) bool { return t.is(sStay) && !t.is(sMeasure|sFill|sPlace|sTo) }) {
		n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], 1) // and somebody is back
	}
	n[wInText] = flag(c.inText)
}

// somebodyElseOff reports whether who is off, in a clause that names neither ground nor animals,
// may be anybody: the kids are off school today. Creek 9.
func (p *parser) somebodyElseOff(c *piece) bool {
	if c.form != fOff || len(p.in(c, sPlace|sHerd|sStock|sEmpty)) > 0 {
		return false
	}
	i := c.from - 1
	if len(p.in(c, verbs)) > 0 {
		i = c.lo - 1 // got off school early
	}
	for i >= c.lo && p.toks[i].is(sBe|sWas|sFill) && !p.toks[i].is(sChat) {
		i--
	}
	other := func(k int) bool { return p.strange(k) || p.toks[k].is(sChat) && !p.toks[k].is(sAck) }
	return i >= c.lo && i < c.from-1 && other(i) || c.inText && c.to < c.hi && other(c.to) && !p.marked(c.to)
}

// onlySeen reports whether animals stand behind a verb of seeing: took her to see the steers
// on hill.
func (p *parser) onlySeen(c *piece) bool {
	stock := p.in(c, sHerd|sStock)
	if len(stock) == 0 {
		return false
	}
	i := stock[0] - 1
	for i > 0 && p.toks[i].is(sFill) {
		i--
	}
	return i >= 0 && p.reader.hinted(p.toks[i].s, hSees)
}

// notYet reports whether animals said to be out, with no verb that says that they were
// taken out, may be out only later, or may have been out before: off draw by supper, draw
// empty come noon, cows were off draw.
func (p *parser) notYet(c *piece) bool {
	w := p.dayIn(c.lo, c.hi)
	if w.day.Before(p.day) {
		return false // cows off creek 2 pm yesterday
	}
	over := p.reader.hinted(w.word, hOfNight) // at 7 this morning
	for i := c.lo; i < len(p.toks) && (i < c.hi || !p.toks[i].is(sComma|sStop|sAck)); i++ {
		t := &p.toks[i]
		if i >= c.to && (t.is(sAnd) && p.begins(i+1) || p.leavesNumber(i)) {
			break
		}
		if t.is(sWas) || t.is(sClock) && !over && !p.since(t) {
			return true
		}
		passesOn := i+1 < len(p.toks) && p.toks[i+1].is(sChat) && p.toks[i+1].span > 1 // Dale asked me to tell you
		if t.kind == word && t.set == 0 && t.guard == noGuard && t.role == noRole && !passesOn && !p.reader.hinted(t.s, hOfMonth) {
			return true // a word that may say anything
		}
		if i > c.lo && p.reader.hinted(p.toks[i-1].s+" "+t.s, hBeforeHourToo) {
			return true // a las cinco
		}
	}
	return p.comesByThen(c)
}

// leavesNumber reports whether a word and a number say at token i what was left behind:
// off walnut with 7 8 7.
func (p *parser) leavesNumber(i int) bool {
	return p.reader.tells(&p.toks[i], hLeftBehind) && i+1 < len(p.toks) && p.toks[i+1].is(sNum) && !p.toks[i+1].is(sPlace)
}

// comesByThen reports whether a clause, or what follows it up to the next mark, names
// what comes first: by supper, after chores, para la tarde.
func (p *parser) comesByThen(c *piece) bool {
	for i := c.lo; i < len(p.toks) && (i < c.hi || !p.toks[i].is(sComma|sStop)); i++ {
		t := &p.toks[i]
		if (p.reader.tells(t, hComesBy) || p.reader.hinted(t.f, hComesBy)) && p.namesHour(i+1) && !p.cameThen(i, len(p.toks)) {
			return true
		}
	}
	return false
}

// actsOn reports whether a verb of a clause has its animals behind it: pulled the cows off
// draw, and not cows pulled off draw, which may be still to do.
func (p *parser) actsOn(c *piece) bool {
	acts := false
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		if acts && t.is(sHerd|sStock|sAll) {
			return true
		}
		acts = acts || t.is(verbs)
	}
	return false
}

// since reports whether an hour is one from which on something is so: as of noon.
func (p *parser) since(t *token) bool {
	for begins := range p.reader.voc.hints[hSince] {
		if strings.HasPrefix(t.s, begins+" ") {
			return true
		}
	}
	return false
}

// namesHour reports whether what stands from token i on may be an hour or a deed that is
// still to come: no paddock, and no animals.
func (p *parser) namesHour(i int) bool {
	for i < len(p.toks) && p.toks[i].is(sFill) {
		i++
	}
	return i == len(p.toks) || !p.toks[i].is(sPlace|sHerd|sStock|sField)
}

// until reports whether the sentence of a clause goes on with what has to come
// first: when you get here, after the sale.
func (p *parser) until(c *piece) bool {
	from, to := p.sentenceOf(c)
	for i := from; i < to && !(i >= c.to && p.toks[i].is(sNum)); i++ { // lot b was 12 when they went in
		if p.reader.hinted(p.toks[i].s, hUntil) && !p.cameThen(i, to) {
			return true
		}
	}
	return false
}

// strayVerb reports whether the verb of a clause may not be about the animals:
// it speaks of them only where they stand beside it, or behind it.
func (p *parser) strayVerb(c *piece) bool {
	stock := p.in(c, sHerd|sStock)
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		if len(stock) == 0 && t.is(sMoved) && p.reader.hinted(t.s, hAnimalsBehind) {
			return true // got off school at 3
		}
		if !t.is(motions) || t.is(sFill|sEmpty) {
			continue
		}
		if p.reader.hinted(t.s, hNeedsAnimals) && len(stock) == 0 && c.form != fOn {
			return true
		}
		if p.reader.hinted(t.s, hAnimalsBehind) && (len(stock) == 0 || stock[len(stock)-1] < i) {
			return true
		}
	}
	return false
}

// tookAway reports whether a verb says by itself that animals left the paddock
// that was asked about: pulled them.
func (p *parser) tookAway(c *piece) bool {
	return (len(p.askedPlaces()) == 1 || c.inText && len(p.in(c, sHerd|sStock)) > 0) && p.anyIn(c, func(t *token) bool { return t.is(sMoved) && p.reader.hinted(t.f, hTakesAway) })
}

// askedToMove reports whether the paddock of a clause is one that its writer was
// asked to empty.
func (p *parser) askedToMove(c *piece) bool {
	return len(c.facts) > 0 && slices.Contains(p.asked.Moves, c.facts[0].Paddock)
}
