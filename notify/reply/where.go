package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

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

// where finds the paddocks in a slot. A name that fits several is asked about:
// of gives the facts for each.
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
				entered = entered || slices.Contains(p.toks[k].places, x)
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
func (p *parser) placeless(c *piece, told []int, of func(id string) []diary.Fact) {
	place, from := p.contextPlace(told)
	switch {
	case from == fromAsked && p.asked.Stale:
		id := p.reader.places[place].ID
		c.ask = p.question(diary.Question{Why: diary.StaleText, Paddock: id,
			Choices: []diary.Choice{{Name: p.nameOf(id), Facts: of(id)}}})
	case from != fromNowhere:
		c.facts = of(p.reader.places[place].ID)
	default:
		choices := p.askedPlaces()
		for _, x := range told {
			choices = include(choices, x)
		}
		c.ask = p.whichPaddock("", choices, of)
	}
}
