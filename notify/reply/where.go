package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// in lists the tokens of a clause that may be something.
func (p *parser) in(c *piece, set senses) []int {
	var list []int
	for i := c.from; i < c.to; i++ {
		if p.toks[i].is(set) {
			list = append(list, i)
		}
	}
	return list
}

// placesIn lists the paddocks that a clause names. A name that fits several is
// unclear.
func (p *parser) placesIn(toks []int) (places []int, unclear *token) {
	for _, i := range toks {
		t := &p.toks[i]
		if len(t.places) != 1 {
			return nil, t
		}
		places = include(places, t.places[0])
	}
	return places, nil
}

// told lists the paddocks that a text names, but for those that the clauses of
// a form enter or read.
func (p *parser) told(pieces []piece, but ...form) []int {
	var list, taken []int
	for i := range p.toks {
		if t := &p.toks[i]; t.is(sPlace) && len(t.places) == 1 {
			list = include(list, t.places[0])
		}
	}
	for i := range pieces {
		for _, f := range but {
			if pieces[i].form != f || f == fReading && p.noNews(&pieces[i]) {
				continue
			}
			for _, k := range p.in(&pieces[i], sPlace) {
				if f != fMove || p.chart.prep[k]&(sTo|sOn|sIn) != 0 {
					taken = append(taken, p.toks[k].places...)
				}
			}
		}
	}
	return slices.DeleteFunc(list, func(x int) bool { return slices.Contains(taken, x) })
}

// noNews reports whether a guard that leaves nothing open reaches a clause.
func (p *parser) noNews(c *piece) bool {
	switch p.guardOver(c.from, c.to) {
	case gNegation, gPlan, gIf, gBefore, gWhen, gToCome, gOther:
		return true
	}
	return false
}

type context int

const (
	fromNowhere context = iota
	fromText
	fromAsked
)

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

// placeless makes the facts of a clause that names no paddock, or asks which.
func (p *parser) placeless(c *piece, told []int, of func(id string) []diary.Fact) {
	place, from := p.contextPlace(told)
	asked := p.askedPlaces()
	switch {
	case len(asked) == 2 && len(told) == 0 && !p.asked.Stale && p.anyIn(c, func(t *token) bool { return p.reader.hinted(t.f, hBoth) }):
		c.facts = append(of(p.asked.Paddocks[0]), of(p.asked.Paddocks[1])...)
	case from == fromAsked && p.asked.Stale:
		id := p.reader.places[place].ID
		c.ask = p.question(diary.Question{Why: diary.StaleText, Paddock: id,
			Choices: []diary.Choice{{Name: p.nameOf(id), Facts: of(id)}}})
	case from != fromNowhere:
		c.inText = from == fromText
		c.facts = of(p.reader.places[place].ID)
	default:
		choices := p.askedPlaces()
		for _, x := range told {
			choices = include(choices, x)
		}
		c.ask = p.whichPaddock("", choices, of)
	}
}
