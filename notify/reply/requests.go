package reply

import (
	"time"

	"stubbled/scheduler/diary"
)

// buildLater makes the fact that puts a rung off.
func (p *parser) buildLater(pieces []piece, c *piece) {
	places, unclear := p.placesIn(p.in(c, sPlace))
	waits := p.in(c, sDur|sMorrow)
	var wait time.Duration
	for _, i := range waits {
		wait = time.Duration(p.toks[i].val * float64(time.Hour))
		if p.toks[i].is(sMorrow) {
			wait = time.Duration(p.toks[i].val * float64(time.Hour))
		}
	}
	day := p.dayIn(c.lo, c.hi)
	weekday := day.soft && !day.many && day.day.Before(p.day)
	if weekday { // remind me thursday: the one to come
		const week = 7
		wait = time.Duration(week-p.day.DaysSince(day.day)%week) * 24 * time.Hour
	}
	of := func(id string) []diary.Fact {
		f := p.fact(diary.Later, id, p.day)
		f.Wait = wait
		return []diary.Fact{f}
	}
	switch {
	case unclear != nil:
		c.ask = p.whichPaddock(unclear.s, unclear.places, of)
	case day.word != "" && (!weekday || len(waits) > 0): // until 11/3: not said in days
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: day.word})
	case wait < 0 || wait > 31*24*time.Hour || (len(waits) > 0 && wait < time.Hour) || wait%time.Hour != 0:
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: p.toks[waits[0]].s})
	case len(places) > 0:
		for _, i := range places {
			c.facts = append(c.facts, of(p.reader.places[i].ID)...)
		}
	case p.saysMore(pieces, c): // 'creek 9 later'
		c.ask = p.question(diary.Question{Why: diary.Plan, Word: p.toks[c.from].s})
	default:
		if list := p.askedPlaces(); len(list) == 1 {
			c.facts = of(p.reader.places[list[0]].ID)
			return
		}
		c.facts = of("")
	}
}

// buildUndo makes the request to take the latest text back, or the newest fact
// of a kind.
func (p *parser) buildUndo(c *piece, w when) {
	f := diary.Fact{Kind: diary.Undo}
	kind := diary.Kind("")
	for i := c.from; i < c.to; i++ {
		switch t := &p.toks[i]; {
		case t.is(sFrost) && p.toks[i-1].guard == gNegation:
			kind = diary.NoFrost
		case t.is(sFrost):
			kind = diary.Frost
		case t.is(sEvent):
			kind = events[t.event].kind
		case t.is(sDead):
			kind = diary.Emergency
		case t.is(sPlant) && kind == "":
			kind, f.Plant = diary.Plant, t.plant
		case t.is(sDown|sWilt) && kind == diary.Plant:
			kind, f.Plant = diary.Danger, ""
		}
	}
	if kind != "" {
		f.Words = string(kind)
		if places, unclear := p.placesIn(p.in(c, sPlace)); unclear == nil && len(places) > 0 {
			f.Paddock = p.reader.places[places[0]].ID
		}
		if w.word != "" {
			f.Day = w.day
		}
	}
	c.facts = []diary.Fact{f}
}

// buildStatus makes the request for the state of a paddock, or of all.
func (p *parser) buildStatus(pieces []piece, c *piece) {
	places, unclear := p.placesIn(p.in(c, sPlace))
	of := func(id string) []diary.Fact {
		return []diary.Fact{{Kind: diary.Status, Paddock: id, Words: p.words}}
	}
	if unclear != nil {
		c.ask = p.whichPaddock(unclear.s, unclear.places, of)
		return
	}
	if len(places) == 0 {
		c.facts = of("")
	}
	for _, i := range places {
		c.facts = append(c.facts, of(p.reader.places[i].ID)...)
	}
	for i := range pieces { // the answer to a height says it already
		d := &pieces[i]
		if d.form != fReading || len(d.facts) != 1 {
			continue
		}
		if len(places) == 0 || p.reader.index(d.facts[0].Paddock) == places[0] {
			c.facts = nil
		}
	}
}
