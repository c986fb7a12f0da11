package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// The senses and the forms of the plain events.
const (
	sHayed senses = sEvent << iota
	sBurned
	sBrown
	sRegrowth
	sClear
	sDry
	sWeaned

	eventWords = ^(sEvent - 1) // all of them
)

const (
	fHayed form = fEvent + iota
	fBurned
	fBrown
	fRegrowth
	fClear
	fDry
	fWean
)

// An event is a kind of fact with a word of its own. It is a meaning in
// heard.txt, a word of the pattern language, and the form of the clauses made of
// it.
type event struct {
	word  string
	kind  diary.Kind
	sense senses
	form  form
	past  bool // the word itself says that it is over
}

var events = []event{
	{"hayed", diary.Hayed, sHayed, fHayed, true},
	{"burned", diary.Burned, sBurned, fBurned, true},
	{"brown", diary.Brown, sBrown, fBrown, true},
	{"regrowth", diary.Regrowth, sRegrowth, fRegrowth, true},
	{"clear", diary.Clear, sClear, fClear, false},
	{"dry", diary.Dry, sDry, fDry, false},
	{"weaned", diary.Wean, sWeaned, fWean, true},
}

// eventOf finds an event by its word.
func eventOf(word string) (event, bool) {
	i := slices.IndexFunc(events, func(e event) bool { return e.word == word })
	if i < 0 {
		return event{}, false
	}
	return events[i], true
}

// eventIn is the event that a clause tells; none where it tells another thing.
func eventIn(f form) event {
	if f < fEvent {
		return event{}
	}
	return events[f-fEvent]
}

// buildEvent makes the facts of hay, fire, brown tops and the like.
func (p *parser) buildEvent(pieces []piece, c *piece, w when, told []int, others bool) {
	if c.form == fWean {
		p.buildWean(c, w)
		return
	}
	kind := eventIn(c.form).kind
	row := kind.Row()
	if c.form == fDry && (others || p.alone(pieces, c) != "" || w.word != "" && w.day == p.day) { // dry today: the weather
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: p.span(c)})
		return
	}
	if row.Manager && !p.who.Manager {
		c.ask = p.question(diary.Question{Why: diary.NotAllowed, Word: p.span(c)})
		return
	}
	var left []float64
	if nums := c.get(inHeights); len(nums) > 0 {
		h, q := p.heightsOf(nums)
		if q != nil {
			c.ask = p.question(*q)
			return
		}
		left = h
	}
	of := func(id string) []diary.Fact {
		f := p.fact(kind, id, w.day)
		f.Heights = left
		return []diary.Fact{f}
	}
	places, unclear := p.where(c, inPlace)
	switch {
	case unclear != nil:
		c.ask = p.whichPaddock(unclear.s, unclear.places, of)
	case len(places) > 0:
		for _, i := range places {
			c.facts = append(c.facts, of(p.reader.places[i].ID)...)
		}
	case row.Farm:
		c.facts = of("")
	case row.Named:
		c.ask = p.whichPaddock("", p.askedPlaces(), of)
	case c.form == fRegrowth && others:
		c.form = fNothing // 'good regrowth' beside a height praises the grass
	default:
		p.placeless(c, told, of)
	}
}

// alone gives a word that stands in the sentence of a clause beside it; empty
// where there is none but a nod.
func (p *parser) alone(pieces []piece, c *piece) string {
	for i := range pieces {
		if d := &pieces[i]; d != c && d.sentence == c.sentence && d.form != fAck {
			return p.span(d)
		}
	}
	return ""
}

// span gives the words of a clause.
func (p *parser) span(c *piece) string {
	return p.text[p.toks[c.from].from:p.toks[c.to-1].to]
}

// buildWean makes the fact that the calves of a herd were weaned.
func (p *parser) buildWean(c *piece, w when) {
	var herds []int
	for _, i := range c.get(inStock) {
		for _, h := range p.toks[i].herds {
			herds = include(herds, h)
		}
	}
	if len(herds) == 0 {
		herds = p.reader.ofKind(cows)
	}
	if len(herds) == 0 {
		herds = every(len(p.reader.herds))
	}
	of := func(id string) []diary.Fact {
		f := p.fact(diary.Wean, "", w.day)
		f.Herd = id
		return []diary.Fact{f}
	}
	if len(herds) != 1 {
		c.ask = p.whichHerd(herds, of)
		return
	}
	c.facts = of(p.reader.herds[herds[0]].ID)
}
