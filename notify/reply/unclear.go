package reply

import "stubbled/scheduler/diary"

// leftOver asks about what was not taken up; nil where nothing of it may be
// news. told says that something else of the text was written down.
func (p *parser) leftOver(pieces []piece, told bool) *diary.Question {
	for i := range pieces {
		c := &pieces[i]
		if c.level != asked || c.form == fStatus || c.dropped {
			continue
		}
		if g := p.guardOver(c.from, c.to); told && g != noGuard && g != gFix && g != gHedge && !(len(c.facts) > 0 && p.guardedFrom(c, g)) {
			continue // it says itself that it is no news
		}
		if told && (c.form == fReading || c.form == fBare) && p.believedBefore(pieces, c) {
			continue // I had guessed ten, but the stick says 8
		}
		if told && c.form == fBare && (c.facts == nil || c.counts[wUnit] == 0 && p.reader.endsIn(tokenAt(p.toks, c.to).f, hMany)) && (c.counts[wBehindNumber] > 0 || c.counts[wBeforeNumber] > 0) {
			continue // two cups of coffee
		}
		if told && c.form == fOn && (c.counts[wNobody] > 0 && len(p.in(c, verbs)) == 0 || c.counts[wNoAnimals] > 0 && len(p.in(c, sHerd|sStock)) == 0) {
			continue // spent all day on the hill
		}
		if told && len(p.in(c, sPlace|sHerd|sStock|sNum|sFrost|sPlant|sEvent)) == 0 {
			continue // got off a double shift
		}
		if told && len(p.in(c, sPlace|sFrost|sDead|sPlant|sEvent)) == 0 && p.isStory(pieces, c) {
			continue // good help is worth three
		}
		return p.whatIsUnclear(c)
	}
	if told {
		return p.looseEnd(pieces)
	}
	if p.chatty() {
		return nil
	}
	return p.question(p.whole())
}

// whole is the question about a text of which no clause was made.
func (p *parser) whole() diary.Question {
	q := diary.Question{Why: diary.Unclear, Word: p.blamed(0, len(p.toks))}
	if q.Why = why(p.guardOver(0, len(p.toks))); q.Why == diary.ImpossibleHeight || q.Why == diary.WhichDay {
		return q
	}
	var places []int
	for i := range p.toks {
		if t := &p.toks[i]; t.is(sPlace) && len(t.places) == 1 {
			places = include(places, t.places[0])
		}
	}
	if len(places) == 1 {
		q.Paddock = p.reader.places[places[0]].ID
	}
	return q
}

// looseEnd asks about a number or a name that no clause took up, where nothing
// says that it is no news.
func (p *parser) looseEnd(pieces []piece) *diary.Question {
	for i := range p.toks {
		t := &p.toks[i]
		if !t.is(sNum) || t.is(sPlace) || p.taken(pieces, i) || p.guardOver(i, i+1) != noGuard {
			continue
		}
		return p.question(diary.Question{Why: diary.Unclear, Word: t.s})
	}
	return nil
}

func (p *parser) taken(pieces []piece, i int) bool {
	for k := range pieces {
		if c := &pieces[k]; i >= c.from && i < c.to {
			return true
		}
	}
	return false
}

// chatty reports whether a text is talk: a nod, thanks, a laugh, the weather,
// and nothing of the farm.
func (p *parser) chatty() bool {
	talk, strange := false, false
	for i := range p.toks {
		t := &p.toks[i]
		switch {
		case t.is(sNum|sRange|sPlants) || t.is(anchors) && !(t.is(sTemp) && t.val > mostFrost) && !t.is(soft):
			return false
		case t.guard != noGuard && t.guard != gRain && t.guard != gHedge && t.guard != gThing && t.guard != gWhen:
			return false
		case p.chart.counts[i] == wOddNumber:
			return false
		}
		talk = talk || t.is(sTemp|sChat|sAck|sDate|sSoft|sClock) || t.guard == gRain
		strange = strange || p.strange(i)
	}
	return (talk || !strange) && len(p.asks) == 0
}

// guardOver is the guard that speaks of some tokens, the plainest of them.
func (p *parser) guardOver(from, to int) guard {
	for _, g := range []guard{gPart, gNegation, gIf, gPlan, gToCome, gOrder, gAsk, gWhen, gBefore, gOther, gDay, gBad, gFix, gHedge, gThing, gRain} {
		for _, w := range p.warnings {
			if w.guard == g && w.from < to && w.to > from {
				return g
			}
		}
	}
	return noGuard
}

// guardedFrom reports whether only another sentence keeps what animals did out.
func (p *parser) guardedFrom(c *piece, g guard) bool {
	from, to := p.sentenceOf(c)
	away := false
	for _, w := range p.warnings {
		if w.guard == g && w.from < c.to && w.to > c.from {
			if w.at >= from && w.at < to {
				return false
			}
			away = away || w.moves
		}
	}
	return away
}

// why gives the question that a guard leads to.
func why(g guard) diary.Why {
	switch g {
	case gNegation:
		return diary.Negation
	case gPlan, gIf, gOrder, gToCome, gWhen:
		return diary.Plan
	case gPart:
		return diary.PartOfHerd
	case gDay:
		return diary.WhichDay
	case gBad:
		return diary.ImpossibleHeight
	}
	return diary.Unclear
}

// whatIsUnclear puts the question about a clause that is not clear.
func (p *parser) whatIsUnclear(c *piece) *diary.Question {
	g := p.guardOver(c.from, c.to)
	q := diary.Question{Why: why(g)}
	places, _ := p.placesIn(p.in(c, sPlace))
	if len(places) == 1 {
		q.Paddock = p.reader.places[places[0]].ID
	}
	for _, w := range p.warnings {
		if w.guard == g && w.from < c.to && w.to > c.from && q.Word == "" {
			q.Word = p.toks[w.at].s
		}
	}
	if q.Word == "" {
		q.Word = p.blamed(c.lo, c.hi)
	}
	switch {
	case q.Why != diary.Unclear || g == gAsk:
	case c.ask != nil && (c.ask.Why == diary.Range || c.ask.Why == diary.ImpossibleHeight || c.ask.Why == diary.NoNumber || c.ask.Why == diary.WhichDay || c.ask.Why == diary.NotAllowed ||
		c.ask.Why == diary.WhichHerd && g == noGuard && p.blamed(c.lo, c.hi) == ""):
		return c.ask
	case len(places) == 0 && len(p.numbersIn(c)) > 0:
		if like := p.likeName(c); like != nil {
			return like
		}
	case len(places) == 0 && (c.form == fOff || c.form == fOn) && c.to < len(p.toks) && p.strange(c.to):
		return p.question(diary.Question{Why: diary.UnknownPaddock, Word: p.toks[c.to].s})
	}
	return p.question(q)
}

// blamed gives the first strange word among some tokens.
func (p *parser) blamed(from, to int) string {
	for i := from; i < to; i++ {
		if t := &p.toks[i]; t.s > "\x03" && (p.strange(i) || p.chart.counts[i] == wOddNumber || t.guard != noGuard && !t.is(sPlace)) {
			return t.s
		}
	}
	return ""
}

// likeName asks about a word that stands beside a height where a name should:
// it gives the paddocks with a name like it.
func (p *parser) likeName(c *piece) *diary.Question {
	i := p.strangeBefore(c)
	if i < 0 {
		return nil
	}
	w := &p.toks[i]
	places := p.reader.like(w.f)
	heights, q := p.heightsOf(p.numbersIn(c))
	if len(places) == 0 || q != nil {
		return p.question(diary.Question{Why: diary.UnknownPaddock, Word: w.s})
	}
	return p.whichPaddock(w.s, places, func(id string) []diary.Fact {
		f := p.fact(diary.Reading, id, p.day)
		f.Heights = heights
		return []diary.Fact{f}
	})
}

// believedBefore reports whether the height of a clause is what somebody had thought, or read
// another day, of ground that is read in the text.
func (p *parser) believedBefore(pieces []piece, c *piece) bool {
	g := p.guardOver(c.from, c.to)
	past := c.counts[wWas] > 0 && p.dayIn(c.lo, c.hi).day.Before(p.day)
	return (g == gHedge || g == gPlan || g == gBefore || past) && surely(pieces, func(d *piece) bool {
		return d.form == fReading && (len(p.in(c, sPlace)) == 0 || len(c.facts) > 0 && c.facts[0].Paddock == d.facts[0].Paddock)
	})
}

// isStory reports whether a clause that names no unit stands in a sentence of its own with
// more words that say nothing here.
func (p *parser) isStory(pieces []piece, c *piece) bool {
	words := 0
	from, to := p.sentenceOf(c)
	for i := from; i < to; i++ {
		words += int(flag(p.strange(i) || p.toks[i].guard != noGuard || p.toks[i].is(sChat)))
		if p.toks[i].unit != 0 || p.toks[i].is(sPlace) {
			return false
		}
	}
	return words > 1 && !surely(pieces, func(d *piece) bool { return d.sentence == c.sentence })
}

// countsThings reports whether a number beside news counts something else: had 3 calls;
// it took four of us.
func (p *parser) countsThings(pieces []piece, c *piece) bool {
	told := surely(pieces, func(*piece) bool { return true })
	return told && (p.isStory(pieces, c) || c.counts[wBehindNumber] > 0 || p.guardOver(c.from, c.to) == gThing || c.to < len(p.toks) && p.reader.hinted(p.toks[c.to].f, hOfMonth))
}

// strangeBefore finds the strange word that stands before the numbers of a
// clause, or right behind them with a small word between: 9 on valley; -1 where
// there is none.
func (p *parser) strangeBefore(c *piece) int {
	for i := c.from - 1; i >= c.lo; i-- {
		if p.strange(i) {
			return i
		}
		if !p.toks[i].is(sFill | sMeasure | sBe | sField | where) {
			break
		}
	}
	for i := c.to; i < c.hi; i++ {
		if p.strange(i) {
			return i
		}
		if !p.toks[i].is(sFill | sField | where) {
			break
		}
	}
	return -1
}

// like lists the paddocks of which one word is the same or one slip away.
func (r *Reader) like(w string) []int {
	var list []int
	for _, nm := range r.fields.names {
		for k, piece := range nm.pieces {
			if !nm.digits[k] && len(piece) >= 4 && distance(w, piece) <= 1 {
				list = include(list, nm.index)
			}
		}
	}
	return list
}
