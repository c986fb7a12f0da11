package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

const mostChoices = 4

// ask makes the answer that records nothing and asks.
func (p *parser) ask(q diary.Question) Heard {
	return Heard{Ask: p.question(q)}
}

// question clips a question to what a text holds.
func (p *parser) question(q diary.Question) *diary.Question {
	q.Word = clip(q.Word, longestWord)
	if len(q.Choices) > mostChoices {
		q.Choices = nil // too many to name: the whole question is put
	}
	return &q
}

// whichPaddock asks which of some paddocks facts are about; of gives the
// facts for one of them.
func (p *parser) whichPaddock(word string, places []int, of func(id string) []diary.Fact) *diary.Question {
	q := diary.Question{Why: diary.WhichPaddock, Word: word}
	for _, i := range places {
		pl := p.reader.places[i]
		q.Choices = append(q.Choices, diary.Choice{Name: pl.Name, Facts: of(pl.ID)})
	}
	return p.question(q)
}

// whichHerd asks which of some herds were turned in.
func (p *parser) whichHerd(herds []int, of func(id string) []diary.Fact) *diary.Question {
	q := diary.Question{Why: diary.WhichHerd}
	for _, i := range herds {
		h := p.reader.herds[i]
		q.Choices = append(q.Choices, diary.Choice{Name: herdName(h), Facts: of(h.ID)})
	}
	return p.question(q)
}

func herdName(h Herd) string {
	if len(h.Names) > 0 {
		return h.Names[0]
	}
	return h.ID
}

// index finds a paddock by id; -1 where it is not on the farm.
func (r *Reader) index(id string) int {
	return slices.IndexFunc(r.places, func(p Place) bool { return p.ID == id })
}

// askedPlaces are the paddocks that were asked about and are on the farm.
func (p *parser) askedPlaces() []int {
	var list []int
	for _, id := range p.asked.Paddocks {
		if i := p.reader.index(id); i >= 0 && !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	return list
}

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
