package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// correction offers to change this person's latest entry where a text takes it
// back and names another number or another paddock; nil where it does not.
func (p *parser) correction() *diary.Question {
	if len(p.asked.Last) == 0 || !p.sorry() && !slices.ContainsFunc(p.warnings, func(w warning) bool { return w.guard == gFix || w.guard == gNegation }) {
		return nil
	}
	last := p.asked.Last
	place := last[0].Paddock
	if slices.ContainsFunc(last, func(f diary.Fact) bool { return f.Paddock != place }) || place == "" {
		return nil
	}
	facts := []diary.Fact{{Kind: diary.Undo}}
	heights, places := p.said()
	switch {
	case len(places) == 0 && len(heights) > 0 && len(last) == 1 && last[0].Kind == diary.Reading:
		f := p.fact(diary.Reading, place, last[0].Day)
		f.Heights = heights
		facts = append(facts, f)
	case len(places) == 1 && len(heights) == 0 && places[0] != place:
		for _, f := range last {
			moved := p.fact(f.Kind, places[0], f.Day)
			moved.Heights, moved.Herd, moved.Plant, moved.Amount = f.Heights, f.Herd, f.Plant, f.Amount
			facts = append(facts, moved)
		}
	default:
		return nil
	}
	return p.question(diary.Question{Why: diary.Likely, Paddock: facts[1].Paddock, Choices: []diary.Choice{{Facts: facts}}})
}

// sorry reports whether a text begins by taking something back.
func (p *parser) sorry() bool {
	return len(p.toks) > 0 && p.reader.hinted(p.toks[0].f, hSorry)
}

// said gives the heights of a correction, and the paddocks that it puts in the
// place of the old one: those that no 'not' stands before.
func (p *parser) said() (heights []float64, places []string) {
	var nums []int
	wrong := p.speaksOf(p.asked.Last[0].Paddock) // not creek, hill
	for i := range p.toks {
		t := &p.toks[i]
		switch {
		case t.is(sPlace) && len(t.places) == 1:
			if id := p.reader.places[t.places[0]].ID; id != p.asked.Last[0].Paddock && (wrong || !p.negated(i)) && !slices.Contains(places, id) {
				places = append(places, id)
			}
		case t.is(sNum) && !p.negated(i):
			nums = append(nums, i)
		}
	}
	if len(nums) > 0 {
		heights, _ = p.heightsOf(nums)
	}
	return heights, places
}

// speaksOf reports whether a text names a paddock.
func (p *parser) speaksOf(id string) bool {
	return slices.ContainsFunc(p.toks, func(t token) bool {
		return t.is(sPlace) && len(t.places) == 1 && p.reader.places[t.places[0]].ID == id
	})
}

func (p *parser) negated(i int) bool {
	return slices.ContainsFunc(p.warnings, func(w warning) bool { return w.guard == gNegation && i > w.at && i < w.to })
}
