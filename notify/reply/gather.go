package reply

// An unparsed is a clause that could not be read, and what is in it.
type unparsed struct {
	guards [gUnknown + 1]bool
	places []int
	number bool
	trade  bool // a word of the trade: off, moved, frost
	words  int
	asks   bool
	named  bool // a word that asks for the state of a paddock
	chat   bool
	that   bool // it, that: may mean what was said before
	dated  bool // speaks of another day
}

// chatty reports whether an unread clause is small talk: thanks, a laugh, the
// weather, and no word of the farm.
func (b *unparsed) chatty() bool {
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

const tradeWords = sOff | sMoved | sGone | sEmpty | sFrost | eventWords | sLater | sUndo | sStatus | sHerd | sStock |
	sRange | sPlants | sTemp

// known reports whether every word of one is one that says something, so
// that only their order is odd.
func (b *unparsed) known() bool {
	for g := gNegation; g < gUnknown; g++ {
		if b.guards[g] {
			return false
		}
	}
	return true
}

// look gathers what is in a clause that could not be read.
func (p *parser) look(c *piece) unparsed {
	b := unparsed{asks: c.asks}
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
		b.dated = b.dated || t.is(sSoft) || t.is(sDate) && t.day != p.day
		b.that = b.that || t.is(sIt)
		b.chat = b.chat || t.is(sChat)
		b.trade = b.trade || t.role == rHead || t.stock != noStock && t.guard != gPart
		b.number = b.number || t.role == rNumber || t.val != 0
		b.named = b.named || t.is(sNamed)
		b.number = b.number || t.is(sNum|sRange)
		b.trade = b.trade || t.is(tradeWords) && !t.is(sMeasure|sCold|sWeak)
	}
	return b
}
