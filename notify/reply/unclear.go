package reply

import "stubbled/scheduler/diary"

// whatIsUnclear puts the question about a clause that could not be read.
func (p *parser) whatIsUnclear(c *piece, b unparsed) *diary.Question {
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
func (p *parser) likeName(c *piece, b unparsed) *diary.Question {
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
