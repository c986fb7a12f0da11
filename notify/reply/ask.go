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
