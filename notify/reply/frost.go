package reply

import "stubbled/scheduler/diary"

// buildFrost makes the fact of a frost that a person saw.
func (p *parser) buildFrost(c *piece, w when) {
	for i := c.from; i < c.to; i++ {
		if t := &p.toks[i]; t.is(sTemp) && t.val > 36 {
			c.ask = p.question(diary.Question{Why: diary.Unclear, Word: t.s}) // no frost at 40 F
			return
		}
	}
	for _, i := range c.get(inHeights) {
		t := &p.toks[i]
		switch {
		case t.frac && len(t.parts) == 2:
			day := p.numeric(*t, int(t.parts[0]), int(t.parts[1]), 0)
			if !day.is(sDate) {
				c.ask = p.question(diary.Question{Why: diary.WhichDay, Word: t.s})
				return
			}
			w = when{day: day.day, word: t.s}
		case t.unit != 0 || t.val < 15 || t.val > 36:
			c.ask = p.question(diary.Question{Why: diary.Unclear, Word: t.s})
			return
		}
	}
	for _, i := range c.get(inRange) {
		t := p.toks[i]
		day := p.numeric(t, int(t.val), int(t.hi), 0)
		if !day.is(sDate) {
			c.ask = p.question(diary.Question{Why: diary.WhichDay, Word: t.s})
			return
		}
		w = when{day: day.day, word: t.s}
	}
	places, unclear := p.where(c, inPlace)
	of := func(id string) []diary.Fact { return []diary.Fact{p.fact(diary.Frost, id, w.day)} }
	switch {
	case unclear != nil:
		c.ask = p.whichPaddock(unclear.s, unclear.places, of)
	case p.openWater(c):
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: "froze", Paddock: p.reader.places[places[0]].ID})
	case len(places) == 0:
		c.facts = of("")
	}
	if c.ask != nil || unclear != nil {
		return
	}
	for _, i := range places {
		c.facts = append(c.facts, of(p.reader.places[i].ID)...)
	}
}
