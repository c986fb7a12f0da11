package reply

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// build makes the facts or the question of each clause that was read.
func (p *parser) build(pieces []piece) {
	places := p.placesTold(pieces)
	var stock []int // indexes of tokens: the animals last spoken of
	sentence := -1
	for i := range pieces {
		c := &pieces[i]
		if c.sentence != sentence {
			sentence = c.sentence
			if !p.pronoun(c.get(inStock)) {
				stock = nil
			}
		}
		if !c.speaks() {
			p.dateAlone(pieces, c)
			continue
		}
		if own := c.get(inStock); len(own) > 0 && !(p.pronoun(own) && len(stock) > 0) {
			stock = own
		}
		p.buildOne(pieces, c, places, stock)
	}
}

// dateAlone asks about a day that stands alone in a sentence beside facts: which of
// them it goes with is not clear.
func (p *parser) dateAlone(pieces []piece, c *piece) {
	if c.form != fNothing {
		return
	}
	for i := c.from; i < c.to; i++ {
		if t := &p.toks[i]; t.is(sDate) && t.day != p.day && p.dayOf(pieces, c).whole == false {
			for j := range pieces {
				if d := &pieces[j]; d.speaks() && d.sentence != c.sentence {
					c.ask = p.question(diary.Question{Why: diary.WhichDay, Word: t.s})
					d.dropped = true
				}
			}
		}
	}
}

// pronoun reports whether animals are named by a pronoun alone, so that they
// are those spoken of before.
func (p *parser) pronoun(toks []int) bool {
	for _, i := range toks {
		switch p.toks[i].s {
		case "them", "em", "they", "they're", "theyre", "them all", "em all", "all of them", "all of em":
		default:
			return false
		}
	}
	return len(toks) > 0
}

// placesTold lists the paddocks that a text names.
func (p *parser) placesTold(pieces []piece) []int {
	var list []int
	for i := range pieces {
		for j := pieces[i].from; j < pieces[i].to; j++ {
			for _, x := range p.toks[j].places {
				if p.toks[j].is(sPlace) {
					list = include(list, x)
				}
			}
		}
	}
	return list
}

// A when is the day that a clause speaks of.
type when struct {
	day   civil.Date
	soft  bool // may be a day to come
	many  bool // several days are named
	whole bool
	word  string
}

// dayOf finds the day of a clause: its own, or the only one of its sentence
// where that stands first or last in it.
func (p *parser) dayOf(pieces []piece, c *piece) when {
	if w := p.dayIn(c.from, c.to); w.word != "" {
		return w
	}
	from, to := c.from, c.to
	for i := range pieces {
		if pieces[i].sentence == c.sentence {
			from, to = min(from, pieces[i].from), max(to, pieces[i].to)
		}
	}
	w := p.dayIn(from, to)
	if w.word == "" || w.many {
		return when{day: p.day}
	}
	for i := from; i < to; i++ {
		if !p.toks[i].is(sDate | sSoft) {
			continue
		}
		if p.leads(from, i) || p.trails(i+1, to) {
			w.whole = true
			return w
		}
	}
	return when{day: p.day}
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

// oldest is how many days back a fact may be told; a frost may be a year old.
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
	if w.soft && !past || (p.day.DaysSince(w.day) > oldest && facts[0].Kind != diary.Frost) {
		q.Choices = []diary.Choice{{Name: w.day.String(), Facts: facts}}
		return p.question(q)
	}
	return nil
}

// buildOne makes the facts of one clause.
func (p *parser) buildOne(pieces []piece, c *piece, told []int, stock []int) {
	w := p.dayOf(pieces, c)
	others := false
	for i := range pieces {
		others = others || (&pieces[i] != c && pieces[i].speaks())
	}
	switch c.form {
	case fReading, fNumberFirst:
		p.buildReading(pieces, c, w)
	case fBare:
		p.buildBare(c, w, others)
	case fRange:
		c.ask = p.rangeAsked(c)
	case fPlace:
		c.ask = p.nameAlone(c)
	case fBareOff:
		p.buildMove(c, w, p.notEntered(pieces, told), stock)
	case fOff, fOffAt, fOn, fMove, fBareOn:
		p.buildMove(c, w, told, stock)
	case fFrost:
		p.buildFrost(c, w)
	case fLater:
		p.buildLater(c, others)
	case fUndo, fUndoFrost:
		p.buildUndo(c, w)
	case fStatus:
		p.buildStatus(pieces, c)
	default:
		p.buildEvent(c, w, told)
	}
	if c.ask == nil {
		if _, entered := p.twoDays(c, w); c.form == fMove {
			w = entered
		}
		c.ask = p.unsure(w, p.isPast(c), c.facts)
		if c.ask != nil {
			c.facts = nil
		}
	}
}

// isPast reports whether a clause can only speak of what is over.
func (p *parser) isPast(c *piece) bool {
	switch c.form {
	case fReading, fNumberFirst, fBare, fHayed, fBurned, fBrown, fRegrowth, fWean:
		return true
	}
	for _, st := range c.caught {
		t := &p.toks[st.tok]
		if t.is(sMoved|sPut|sWent|sLeft|sGone) || t.s == "froze" || t.s == "frosted" || t.f == "helo" {
			return true
		}
	}
	return false
}

// where finds the paddocks in a slot. A name that fits several is asked about:
// make gives the facts for each.
func (p *parser) where(c *piece, s slot) (places []int, unclear *token) {
	for _, i := range c.get(s) {
		t := &p.toks[i]
		if len(t.places) != 1 {
			return nil, t
		}
		places = include(places, t.places[0])
	}
	return places, nil
}

// contextPlace finds the paddock of a clause that names none: the only one that
// the text names, or the only one that was asked about.
func (p *parser) contextPlace(told []int) (place int, from context) {
	asked := p.askedPlaces()
	switch {
	case len(told) == 1 && (len(asked) != 1 || asked[0] == told[0]):
		return told[0], fromText
	case len(told) == 0 && len(asked) == 1:
		return asked[0], fromAsked
	}
	return -1, fromNowhere
}

// notEntered leaves out the paddocks that a text says animals were turned in
// to: they are not the ones that were left.
func (p *parser) notEntered(pieces []piece, told []int) []int {
	var left []int
	for _, x := range told {
		entered := false
		for i := range pieces {
			for _, k := range pieces[i].get(inTo) {
				entered = entered || holds(p.toks[k].places, x)
			}
		}
		if !entered {
			left = append(left, x)
		}
	}
	return left
}

type context int

const (
	fromNowhere context = iota
	fromText
	fromAsked
)

// placeless makes the facts of a clause that names no paddock, or asks which.
func (p *parser) placeless(c *piece, told []int, make func(id string) []diary.Fact) {
	place, from := p.contextPlace(told)
	switch {
	case from == fromAsked && p.asked.Stale:
		id := p.reader.places[place].ID
		c.ask = p.question(diary.Question{Why: diary.StaleText, Paddock: id,
			Choices: []diary.Choice{{Name: p.nameOf(id), Facts: make(id)}}})
	case from != fromNowhere:
		c.facts = make(p.reader.places[place].ID)
	default:
		choices := p.askedPlaces()
		for _, x := range told {
			choices = include(choices, x)
		}
		c.ask = p.whichPaddock("", choices, make)
	}
}

// buildLater makes the fact that puts a rung off.
func (p *parser) buildLater(c *piece, others bool) {
	places, unclear := p.where(c, inPlace)
	var wait time.Duration
	for _, i := range c.get(inDur) {
		wait = time.Duration(p.toks[i].val * float64(time.Hour))
		if p.toks[i].is(sMorrow) {
			wait = 24 * time.Hour
		}
	}
	make := func(id string) []diary.Fact {
		f := p.fact(diary.Later, id, p.day)
		f.Wait = wait
		return []diary.Fact{f}
	}
	switch {
	case unclear != nil:
		c.ask = p.whichPaddock(unclear.s, unclear.places, make)
	case p.dayIn(c.from, c.to).word != "": // until friday: not said in days
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: p.dayIn(c.from, c.to).word})
	case wait < 0 || wait > 31*24*time.Hour || (len(c.get(inDur)) > 0 && wait < time.Hour) || wait%time.Hour != 0:
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: p.toks[c.get(inDur)[0]].s})
	case len(places) > 0:
		for _, i := range places {
			c.facts = append(c.facts, make(p.reader.places[i].ID)...)
		}
	case others: // 'creek 9 later'
		c.ask = p.question(diary.Question{Why: diary.Plan, Word: p.toks[c.from].s})
	default:
		if list := p.askedPlaces(); len(list) == 1 {
			c.facts = make(p.reader.places[list[0]].ID)
			return
		}
		c.facts = make("")
	}
}

// buildUndo makes the request to take the latest text back.
func (p *parser) buildUndo(c *piece, w when) {
	f := diary.Fact{Kind: diary.Undo}
	if c.form == fUndoFrost {
		f.Words = "frost"
		if places, unclear := p.where(c, inPlace); unclear == nil && len(places) > 0 {
			f.Paddock = p.reader.places[places[0]].ID
		}
		f.Day = w.day
		if w.word == "" {
			f.Day = civil.Date{}
		}
	}
	c.facts = []diary.Fact{f}
}

// buildStatus makes the request for the state of a paddock, or of all.
func (p *parser) buildStatus(pieces []piece, c *piece) {
	places, unclear := p.where(c, inPlace)
	make := func(id string) []diary.Fact {
		return []diary.Fact{{Kind: diary.Status, Paddock: id, Words: p.words}}
	}
	if unclear != nil {
		c.ask = p.whichPaddock(unclear.s, unclear.places, make)
		return
	}
	if len(places) == 0 {
		c.facts = make("")
	}
	for _, i := range places {
		c.facts = append(c.facts, make(p.reader.places[i].ID)...)
	}
	for i := range pieces { // the answer to a height says it already
		d := &pieces[i]
		if d == c || !c.asks || (d.form != fReading && d.form != fNumberFirst) || len(d.facts) != 1 {
			continue
		}
		if len(places) == 0 || p.reader.index(d.facts[0].Paddock) == places[0] {
			c.facts = nil
		}
	}
}
