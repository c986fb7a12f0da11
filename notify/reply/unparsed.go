package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// askUnparsed asks about each clause that could not be read, and keeps the facts that
// it casts doubt on out of the diary.
func (p *parser) askUnparsed(pieces []piece) {
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
func (p *parser) idle(pieces []piece, c *piece, b unparsed) bool {
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
	if b.dated && !b.guards[gRain] && !b.guards[gThing] && !b.guards[gPart] && !b.guards[gOther] && !b.guards[gUnknown] {
		return false // that was yesterday
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
func (p *parser) rainAside(pieces []piece, c *piece, b unparsed) bool {
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
func (p *parser) doubts(b unparsed, c, d *piece) bool {
	if b.guards[gFix] || b.guards[gIf] || p.takesBack(c) {
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
	if (b.guards[gPlan] || b.guards[gOrder]) && b.words > 3 && !b.that && !b.guards[gNegation] && !b.guards[gHedge] {
		return false // 'Will move them tomorrow', after what was done
	}
	if b.guards[gNegation] || b.guards[gHedge] || b.asks || b.words <= 3 {
		return true
	}
	return len(d.facts) == 0 || d.facts[0].Kind != diary.Reading
}

// takesBack reports whether an unread clause begins by taking back what was just
// said: no, hill; or hill.
func (p *parser) takesBack(c *piece) bool {
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		if p.reader.hinted(t.f, hNotThat) || p.reader.hinted(t.s, hNotThat) {
			return true
		}
		if !t.is(sFill | sAck | sChat) {
			return false
		}
	}
	return false
}

// shares reports whether an unread clause speaks of a paddock that a fact
// speaks of; a fact for the whole farm is of each.
func (p *parser) shares(b unparsed, d *piece) bool {
	for _, f := range d.facts {
		if f.Paddock == "" || slices.Contains(b.places, p.reader.index(f.Paddock)) {
			return true
		}
	}
	return false
}
