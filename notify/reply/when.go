package reply

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// dateAlone asks about a day that stands alone in a sentence beside facts: which of
// them it goes with is not clear.
func (p *parser) dateAlone(pieces []piece, c *piece) {
	if c.form != fNothing {
		return
	}
	for i := c.from; i < c.to; i++ {
		if t := &p.toks[i]; (t.is(sDate) && t.day != p.day || t.is(sSoft)) && !p.dayOf(pieces, c).whole {
			for j := range pieces {
				if d := &pieces[j]; d.speaks() && d.sentence != c.sentence {
					c.ask = p.question(diary.Question{Why: diary.WhichDay, Word: t.s})
					d.dropped = true
				}
			}
		}
	}
}

// A when is the day that a clause speaks of.
type when struct {
	day   civil.Date
	soft  bool // may be a day to come
	many  bool // several days are named
	whole bool
	word  string
}

// dayOf finds the day of a clause: its own, or one that stands first in its
// sentence, or last in it behind a clause of the same sort.
func (p *parser) dayOf(pieces []piece, c *piece) when {
	if w := p.dayIn(c.from, c.to); w.word != "" {
		return w
	}
	from, to := c.from, c.to
	var holder *piece
	for i := range pieces {
		d := &pieces[i]
		if d.sentence != c.sentence {
			continue
		}
		from, to = min(from, d.from), max(to, d.to)
		if w := p.dayIn(d.from, d.to); w.word != "" {
			if holder != nil || w.many || d.form == 0 {
				return when{day: p.day}
			}
			holder = d
		}
	}
	if holder == nil {
		return when{day: p.day}
	}
	w := p.dayIn(holder.from, holder.to)
	w.whole = true
	for i := holder.from; i < holder.to; i++ {
		if p.toks[i].is(sDate|sSoft) && (p.leads(from, i) || p.trails(i+1, to) && alike(holder.form, c.form)) {
			return w
		}
	}
	return when{day: p.day}
}

// alike reports whether a day behind one clause goes for another before it.
func alike(a, b form) bool {
	reads := func(f form) bool { return f == fReading || f == fNumberFirst }
	return a == b || a == fNothing || reads(a) && reads(b) || moves(a) && moves(b)
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
		if !t.is(sDate | sSoft) {
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
	}
	return w
}

// oldest is how many days back a fact may be told; but for the kinds that may be told late.
const oldest = 120

// unsure asks about the day of facts where it is not clear; nil where it is.
// past says that the words leave no doubt that it is over.
func (p *parser) unsure(w when, past bool, facts []diary.Fact) *diary.Question {
	if len(facts) == 0 {
		return nil
	}
	q := diary.Question{Why: diary.WhichDay, Word: w.word, Paddock: facts[0].Paddock}
	if w.many {
		return p.question(q)
	}
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
func (p *parser) isPast(c *piece) bool {
	switch c.form {
	case fReading, fNumberFirst, fBare:
		return true
	}
	if eventIn(c.form).past {
		return true
	}
	for _, st := range c.caught {
		t := &p.toks[st.tok]
		if p.reader.mayBePlan(t.f) {
			return false
		}
		if t.is(sMoved|sPut|sWent|sLeft|sGone) || p.reader.hinted(t.f, hPastFrost) {
			return true
		}
	}
	return false
}
