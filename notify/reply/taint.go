package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// A blot is a clause that could not be read, and what is in it.
type blot struct {
	guards [gUnknown + 1]bool
	places []int
	number bool
	trade  bool // a word of the trade: off, moved, frost
	words  int
	asks   bool
	named  bool // a word that asks for the state of a paddock
	chat   bool
}

// chatty reports whether an unread clause is small talk: thanks, a laugh, the
// weather, and no word of the farm.
func (b *blot) chatty() bool {
	if len(b.places) > 0 || b.number || b.trade || b.asks || !(b.chat || b.guards[gRain]) {
		return false
	}
	for _, g := range []guard{gNegation, gPlan, gIf, gOrder, gAsk, gFix, gOther, gDay, gBad} {
		if b.guards[g] {
			return false
		}
	}
	return true
}

const tradeWords = sOff | sMoved | sGone | sEmpty | sFrost | sHayed | sBurned | sBrown |
	sRegrowth | sClear | sDry | sWeaned | sLater | sUndo | sStatus | sHerd | sStock | sRange | sPlants | sTemp

// known reports whether every word of a blot is one that says something, so
// that only their order is odd.
func (b *blot) known() bool {
	for g := gNegation; g < gUnknown; g++ {
		if b.guards[g] {
			return false
		}
	}
	return true
}

// look gathers what is in a clause that could not be read.
func (p *parser) look(c *piece) blot {
	b := blot{asks: c.asks}
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		if t.kind == mark && t.is(separators) {
			continue
		}
		b.words++
		b.guards[t.guardOf()] = true
		if t.is(sPlace) && len(t.places) == 1 {
			b.places = include(b.places, t.places[0])
		}
		b.chat = b.chat || t.is(sChat)
		b.trade = b.trade || t.role == rHead || t.stock != noStock && t.guard != gPart
		b.number = b.number || t.role == rNumber || t.val != 0
		b.named = b.named || t.is(sNamed)
		b.number = b.number || t.is(sNum|sRange)
		b.trade = b.trade || t.is(tradeWords) && !t.is(sMeasure|sCold|sWeak)
	}
	return b
}

// taint asks about each clause that could not be read, and keeps the facts that
// it casts doubt on out of the diary.
func (p *parser) taint(pieces []piece) {
	told := false
	for i := range pieces {
		if pieces[i].speaks() && len(pieces[i].facts) > 0 {
			told = true
		}
	}
	for i := range pieces {
		c := &pieces[i]
		if c.form != 0 {
			continue
		}
		b := p.look(c)
		if !told && b.chatty() {
			c.form = fChat
			continue
		}
		if told && p.idle(pieces, c, b) {
			c.form = fNothing
			continue
		}
		c.ask = p.whatIsUnclear(c, b)
		for j := range pieces {
			if d := &pieces[j]; d.speaks() && p.doubts(b, c, d) {
				d.dropped = true
			}
		}
	}
}

// idle reports whether an unread sentence is mere talk beside the facts: it
// stands by itself and speaks of no paddock, number or work on the farm.
func (p *parser) idle(pieces []piece, c *piece, b blot) bool {
	if p.rainAside(pieces, c, b) {
		return true
	}
	for i := range pieces {
		if d := &pieces[i]; d.sentence == c.sentence && d.speaks() {
			return false
		}
	}
	if b.guards[gFix] || b.guards[gIf] || b.guards[gNegation] || b.guards[gHedge] || len(b.places) > 0 || b.trade {
		return false
	}
	if b.asks {
		return b.words > 2 || b.named
	}
	readings := p.onlyReadings(pieces)
	switch {
	case b.guards[gDay] || b.guards[gBefore]:
		return false
	case b.guards[gRain]:
		return readings && (b.number || b.words > 2)
	case b.guards[gPart]:
		return readings && b.words > 1
	case b.guards[gThing] || b.guards[gOther]:
		phone := b.words == 1 && p.toks[c.from].typed
		return phone || readings && b.words > 1 && !b.guards[gPlan]
	}
	return !b.number && !b.guards[gPlan] && !b.guards[gOrder]
}

// rainAside reports whether an unread clause gives the rain, with its own
// number, after heights that can not be rain: creek 9, 0.8 rain.
func (p *parser) rainAside(pieces []piece, c *piece, b blot) bool {
	if !b.guards[gRain] || len(b.places) > 0 || b.asks || !p.onlyReadings(pieces) {
		return false
	}
	for g := range b.guards {
		if b.guards[g] && guard(g) != gRain && guard(g) != noGuard {
			return false
		}
	}
	numbers := b.number
	for i := c.from; i < c.to; i++ {
		numbers = numbers || p.toks[i].guard == gRain && p.toks[i].val > 0
	}
	for i := range pieces {
		for _, f := range pieces[i].facts {
			if pieces[i].from > c.from || slices.Min(f.Heights) <= 3 {
				return false
			}
		}
	}
	return numbers
}

func (p *parser) onlyReadings(pieces []piece) bool {
	for i := range pieces {
		for _, f := range pieces[i].facts {
			if f.Kind != diary.Reading {
				return false
			}
		}
	}
	return true
}

// doubts reports whether an unread clause c casts doubt on what d says.
func (p *parser) doubts(b blot, c, d *piece) bool {
	if b.guards[gFix] || b.guards[gIf] {
		return true
	}
	if c.sentence == d.sentence && !b.guards[gUnknown] && b.known() {
		return true // both creek and hill 9
	}
	if len(b.places) > 0 && !p.shares(b, d) || c.ask != nil && c.ask.Why == diary.UnknownPaddock || c.ask != nil && c.ask.Why == diary.WhichPaddock {
		return false // it speaks of another paddock
	}
	if c.sentence == d.sentence || len(b.places) > 0 {
		return true
	}
	if (b.guards[gPlan] || b.guards[gOrder]) && b.words > 3 && !b.guards[gNegation] && !b.guards[gHedge] {
		return false // 'Will move them tomorrow', after what was done
	}
	if b.guards[gNegation] || b.guards[gHedge] || b.asks || b.words <= 3 {
		return true
	}
	return len(d.facts) == 0 || d.facts[0].Kind != diary.Reading
}

// shares reports whether an unread clause speaks of a paddock that a fact
// speaks of; a fact for the whole farm is of each.
func (p *parser) shares(b blot, d *piece) bool {
	for _, f := range d.facts {
		if f.Paddock == "" || holds(b.places, p.reader.index(f.Paddock)) {
			return true
		}
	}
	return false
}

// whatIsUnclear puts the question about a clause that could not be read.
func (p *parser) whatIsUnclear(c *piece, b blot) *diary.Question {
	q := diary.Question{Why: diary.Unclear}
	if len(b.places) == 1 {
		q.Paddock = p.reader.places[b.places[0]].ID
	}
	if c.asks {
		q.Word = p.blamed(c, func(t *token) bool { return t.guardOf() == gAsk || t.guardOf() == gUnknown })
		return p.question(q)
	}
	for _, g := range []guard{gPart, gNegation, gIf, gPlan, gOrder, gDay, gBad} {
		if b.guards[g] {
			q.Why = g.why()
			q.Word = p.blamed(c, func(t *token) bool { return t.guard == g })
			if like := p.likeName(c, b); like != nil && g != gPart && g != gDay && g != gBad {
				return like
			}
			return p.question(q)
		}
	}
	if like := p.likeName(c, b); like != nil {
		return like
	}
	if len(b.places) == 1 && !b.number && !b.trade && !b.guards[gThing] && !b.guards[gOther] && !b.guards[gHedge] {
		q.Why = diary.NoNumber
	}
	for i := c.from; i < c.to; i++ {
		if p.toks[i].is(sRange) && len(b.places) == 1 {
			q.Why = diary.Range
		}
	}
	q.Word = p.blamed(c, func(t *token) bool { return t.guardOf() != noGuard })
	return p.question(q)
}

// blamed gives the first word of a clause that is to blame.
func (p *parser) blamed(c *piece, is func(t *token) bool) string {
	for i := c.from; i < c.to; i++ {
		if p.toks[i].s > "\x03" && is(&p.toks[i]) {
			return p.toks[i].s
		}
	}
	return ""
}

// likeName asks about a word that stands beside a height where a name should:
// it gives the paddocks with a name like it.
func (p *parser) likeName(c *piece, b blot) *diary.Question {
	if len(b.places) > 0 || !b.number || b.trade || b.words > 6 {
		return nil
	}
	first := &p.toks[c.from]
	for i := c.from; i < c.to && first.is(sFill|sMeasure|sAck); i++ {
		first = &p.toks[i]
	}
	if first.kind != word || first.guardOf() == noGuard && !first.is(sField) || first.guard == gRain || first.guard == gFix {
		return nil
	}
	heights := p.heightsIn(c)
	places := p.reader.like(first.f)
	if len(places) == 0 || heights == nil {
		if first.guard != gUnknown && first.guard != noGuard {
			return nil
		}
		return p.question(diary.Question{Why: diary.UnknownPaddock, Word: first.s})
	}
	return p.whichPaddock(first.s, places, func(id string) []diary.Fact {
		f := p.fact(diary.Reading, id, p.day)
		f.Heights = heights
		return []diary.Fact{f}
	})
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
