package reply

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// A when is the day that a clause speaks of.
type when struct {
	day   civil.Date
	soft  bool // may be a day to come
	many  bool // several days are named
	whole bool
	word  string
}

// dayOf finds the day of a clause: its own, or one that stands alone in its
// sentence, before all or behind all.
func (p *parser) dayOf(pieces []piece, c *piece) when {
	if w := p.dayIn(c.lo, c.hi); w.word != "" {
		return p.dayBetween(pieces, c, w)
	}
	if w := p.heading(); w.word != "" {
		return w
	}
	if w := p.dayIn(0, c.from); w.word != "" && (c.form == fOff || c.form == fOn || c.form == fMove) && slices.ContainsFunc(p.toks[c.lo:c.hi], func(t token) bool { return p.reader.hinted(t.s, hSinceThen) }) {
		w.soft = false
		return w
	}
	if w := p.daySentence(pieces, c); w.word != "" {
		return w
	}
	if d := p.leftBy(pieces, c); d != nil {
		return p.dayOf(pieces, d)
	}
	for i := range pieces { // killing frost saturday, my tomatoes are black
		if d := &pieces[i]; c.form == fFrost && d.form == fFrost && d.sentence == c.sentence && d.to <= c.from {
			return p.dayOf(pieces, d)
		}
	}
	if from, _ := p.sentenceOf(c); (c.form == fOn || c.form == fOff) && p.toks[c.from].is(sAll) && c.to == c.from+2 && len(p.in(c, sPlace|sHerd)) == 0 { // let them into hill yesterday, all in
		if w := p.dayIn(from, c.from); w.word != "" && !w.many {
			return w
		}
	}
	for i := range pieces { // pulled them out of hill on Friday, not a head left in there
		if d := &pieces[i]; c.form == fOff && d.form == fOff && d.sentence == c.sentence && d.to <= c.from && len(p.in(c, sPlace)) == 0 && len(d.facts) > 0 {
			return when{day: d.facts[0].Day}
		}
	}
	from, to := p.sentenceOf(c)
	var alone when
	for i := from; i < to; i++ {
		t := &p.toks[i]
		if !t.is(sDate|sSoft) || within(pieces, i, alike(c)) || i > 0 && p.reader.hinted(p.toks[i-1].f, hTill) || i < c.lo && i > 0 && p.toks[i-1].is(sBe) && i+1 < len(p.toks) && p.toks[i+1].is(sComma) {
			continue // deer season is Saturday, so the cows are off creek
		}
		if alone.word != "" || !p.leads(from, i) && !p.trails(i+1, to) && c.form != fOff && c.form != fOn && c.form != fMove && c.event != eRain {
			return when{day: p.day}
		}
		alone = p.dayIn(i, i+1)
		alone.whole = true
	}
	if alone.word == "" {
		alone.day = p.day
	}
	return alone
}

// leftBy is the clause that took animals off and left the height of another behind
// it, in one sentence: took them off creek Saturday, left 9.
func (p *parser) leftBy(pieces []piece, c *piece) *piece {
	for i := range pieces {
		d := &pieces[i]
		if (c.form == fReading || c.form == fBare) && (d.form == fOff || d.form == fMove) && d.sentence == c.sentence && d.to <= c.from &&
			slices.ContainsFunc(p.toks[d.to:c.to], func(t token) bool { return t.is(sLeft) }) {
			return d
		}
	}
	return nil
}

// dayBetween tells whose a day is that stands between two clauses with no mark:
// it goes with the one that has no other, and with neither where both lack one.
func (p *parser) dayBetween(pieces []piece, c *piece, w when) when {
	for i := range pieces {
		d := &pieces[i]
		from, to := min(c.to, d.to), max(c.from, d.from)
		if d == c || d.form == fPlace || d.sentence != c.sentence || d.lo > c.to && c.lo > d.to || p.dayIn(from, to).word == "" || max(c.lo, d.lo) > min(c.hi, d.hi) {
			continue
		}
		own, others := p.dayIn(c.lo, c.hi), p.dayIn(d.lo, d.hi)
		switch {
		case own.many && !others.many || own.many && others.many: // it has one of its own
			if c.from < d.from {
				return p.dayIn(c.lo, c.to)
			}
			return p.dayIn(c.to, c.hi)
		case (c.form == fFrost || d.form == fFrost) && w.day.Before(p.day) && p.reader.hinted(w.word, hNight):
			return w // frost last night moved cows to lane
		case !others.many:
			w.many = w.many || w.day != p.day || w.soft
		}
	}
	return w
}

// heading finds the day that stands over a list: a day alone, or a date among words
// that say nothing of the farm, before the first end of line or colon.
func (p *parser) heading() when {
	alone := true
	for i := range p.toks {
		t := &p.toks[i]
		switch {
		case t.is(sColon) || t.s == "\n":
			if w := p.dayIn(0, i); alone || !w.soft {
				return w
			}
			return when{}
		case t.is(sStop) || t.is(anchors) && !t.is(soft|sClock):
			return when{}
		}
		alone = alone && t.is(sDate|sSoft|sClock|sFill|sComma)
	}
	return when{}
}

// daySentence finds a day that stands as a sentence of its own beside that of a
// clause: which clause it goes with is not clear.
func (p *parser) daySentence(pieces []piece, c *piece) when {
	from, to := p.sentenceOf(c)
	for _, side := range [2][2]int{{from, from}, {to, to}} {
		i, j := side[0], side[1]
		for i > 0 && side[0] == from && p.toks[i-1].is(sStop) {
			i--
		}
		for i > 0 && side[0] == from && !p.toks[i-1].is(sStop) {
			i--
		}
		for j < len(p.toks) && side[1] == to && (j == to || !p.toks[j].is(sStop)) {
			j++
		}
		w := p.dayIn(i, j)
		if w.word == "" || w.day == p.day && !w.soft {
			continue
		}
		alone := true
		for k := i; k < j; k++ {
			alone = alone && p.toks[k].is(sDate|sSoft|sFill|sIt|sWas|sBe|sStop|sClock|sChat|sAck)
		}
		if alone {
			w.many = w.many || p.clausesIn(pieces, from, to) > 1
			return w
		}
	}
	return when{}
}

// clausesIn counts the clauses between two tokens.
func (p *parser) clausesIn(pieces []piece, from, to int) int {
	n := 0
	for i := range pieces {
		if pieces[i].from >= from && pieces[i].to <= to {
			n++
		}
	}
	return n
}

// sentenceOf gives the tokens of the sentence of a clause.
func (p *parser) sentenceOf(c *piece) (from, to int) {
	from, to = c.from, c.to
	for from > 0 && !p.toks[from-1].is(sStop) {
		from--
	}
	for to < len(p.toks) && !p.toks[to].is(sStop) {
		to++
	}
	return from, to
}

// alike tells the clauses that may share a day that stands behind one of them.
func alike(c *piece) func(d *piece) bool {
	kind := func(f form) int {
		switch f {
		case fReading, fBare:
			return 1
		case fOff, fOn, fMove:
			return 2
		}
		return 3 + int(f)
	}
	return func(d *piece) bool { return kind(d.form) == kind(c.form) }
}

// within reports whether token i belongs to a clause of another sort.
func within(pieces []piece, i int, same func(d *piece) bool) bool {
	for k := range pieces {
		if d := &pieces[k]; i >= d.lo && i < d.hi && !same(d) {
			return true
		}
	}
	return false
}

func (p *parser) leads(from, i int) bool {
	for ; from < i; from++ {
		if !p.toks[from].is(sFill | sAck | sChat | sComma) {
			return false
		}
	}
	return true
}

func (p *parser) trails(i, to int) bool {
	for ; i < to; i++ {
		if !p.toks[i].is(sFill | sAck | sChat | sComma | sClock) {
			return false
		}
	}
	return true
}

// dayIn finds the one day between two tokens.
func (p *parser) dayIn(from, to int) when {
	w := when{day: p.day}
	for i := from; i < to; i++ {
		t := &p.toks[i]
		if !t.is(sDate|sSoft) || i > from && p.reader.hinted(p.toks[i-1].f, hTill) && !p.any(sLater) {
			continue
		}
		day := t.day
		if !t.is(sDate) {
			day = p.day
		}
		if w.word != "" && day != w.day {
			w.many = true
		}
		w.day, w.word, w.soft = day, t.s, w.soft || t.is(sSoft)
		w.many = w.many || i > from+1 && p.toks[i-1].is(sWas) && p.toks[i-2].is(sIt) // 9 like it was yesterday
	}
	return w
}

// lately is how many days back a weekday beside a frost is the last one, not the next.
const lately = 2

// oldest is how many days back a fact may be told; but for the kinds that may be told late.
const oldest = 120

// unsure asks about the day of facts where it is not clear; nil where it is.
// past says that the words leave no doubt that it is over.
func (p *parser) unsure(w when, past bool, facts []diary.Fact) *diary.Question {
	if len(facts) == 0 || facts[0].Kind == diary.Emergency || facts[0].Kind == diary.Later {
		return nil
	}
	q := diary.Question{Why: diary.WhichDay, Word: w.word, Paddock: facts[0].Paddock}
	if w.many {
		return p.question(q)
	}
	past = past || facts[0].Kind == diary.Frost && p.day.DaysSince(w.day) <= lately
	if w.soft && !past || (p.day.DaysSince(w.day) > oldest && !facts[0].Kind.Row().Late) {
		q.Choices = []diary.Choice{{Name: w.day.String(), Facts: facts}}
		return p.question(q)
	}
	return nil
}

// mayBePlan reports whether a verb looks the same where it speaks of what is to
// come: put, let, sacamos.
func (r *Reader) mayBePlan(f string) bool {
	return r.hinted(f, hMayBeToCome) || r.endsIn(f, hEndsToCome)
}

// isPast reports whether a clause can only speak of what is over.
func (p *parser) isPast(c *piece, w when) bool {
	plain := func(t token) bool { return t.is(sEvent) && p.reader.hinted(t.f, hMayBeToCome) } // wean friday
	if c.form == fReading || c.form == fBare || c.event != noEvent && events[c.event].past && !slices.ContainsFunc(p.toks[c.from:c.to], plain) {
		return true
	}
	past := false
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		if t.is(verbs) && (p.reader.hinted(t.f, hMayBeToCome) || p.reader.endsIn(t.f, hEndsToCome) && w.day == p.day) {
			return p.writes(hLate) || p.tellsOfPast(c)
		}
		past = past || t.is(motions) || p.reader.hinted(t.f, hPastFrost) || p.reader.hinted(t.f, hIsPast) || p.reader.tells(t, hIsPast)
	}
	for i := c.from - 1; c.form == fFrost && i >= c.lo && p.toks[i].is(sFill|sCold) && p.toks[i].guard == noGuard; i-- { // had a frost friday
		past = past || p.reader.tells(&p.toks[i], hPastFrost)
	}
	return past || p.writes(hLate)
}

// tellsOfPast reports whether the sentence of a clause goes on, or begins, with an unknown
// verb of the past: they looked hungry so I let them into spring.
func (p *parser) tellsOfPast(c *piece) bool {
	from, to := p.sentenceOf(c)
	for i := from; i < to; i++ {
		if t := &p.toks[i]; i > c.to && t.is(sWas) && p.reader.hinted(p.toks[i-1].s, hSubject) && tokenAt(p.toks, i+1).guard == noGuard {
			return true // put the ewes on hill this evening, they were glad
		} else if t.kind == word && !t.is(sPlace|sHerd) && len(t.f) > shortAdverb && p.reader.endsIn(p.toks[i].f, hPastEnds) && (i == from || !p.reader.hinted(p.toks[i-1].f, hArticle)) {
			return true
		}
	}
	return false
}
