package reply

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// A piece is a clause with what became of it: facts, a question, or nothing.
type piece struct {
	clause
	sentence int
	asks     bool // in a sentence that asks
	dropped  bool // kept out of the diary by what stands beside it
	facts    []diary.Fact
	ask      *diary.Question
}

// speaks reports whether a clause says something of the farm.
func (c *piece) speaks() bool {
	return c.form != 0 && c.form != fAck && c.form != fChat && c.form != fNothing
}

// read makes facts and at most one question of the tokens.
func (p *parser) read() Heard {
	var pieces []piece
	n := 0
	for from := 0; from < len(p.toks); {
		to := from
		for to < len(p.toks) && !p.toks[to].is(sStop) {
			to++
		}
		end := min(to+1, len(p.toks))
		for end < len(p.toks) && p.toks[end].is(sStop) {
			end++
		}
		if to > from {
			pieces = append(pieces, p.sentence(from, to, p.asking(from, to, end), n)...)
			n++
		}
		from = end
	}
	p.adjoin(pieces)
	p.build(pieces)
	p.taint(pieces)
	return p.conclude(pieces)
}

// asking reports whether a sentence is a question: by its mark, or by the word
// that it begins with.
func (p *parser) asking(from, to, end int) bool {
	for _, t := range p.toks[to:end] {
		if t.s == "?" || t.s == "question mark" || t.s == "signo de interrogacion" || t.s == "signo de interrogación" {
			return true
		}
	}
	for i := from; i < to; i++ {
		t := &p.toks[i]
		if t.guard == gAsk {
			return true
		}
		if t.s == "is" || t.s == "are" || t.s == "was" || t.s == "were" {
			return i+1 < to && (p.toks[i+1].is(sFill|sStock|sHerd|sPlace|sAll) || p.toks[i+1].stock != noStock)
		}
		if !t.is(sFill|sAck|sChat|sComma|sPlease) || t.is(sDate) {
			return false
		}
	}
	return false
}

// sentence parts one sentence in clauses.
func (p *parser) sentence(from, to int, asks bool, n int) []piece {
	grammar := rules
	if asks {
		grammar = questions
	}
	var list []piece
	for _, c := range p.clauses(grammar, from, to) {
		list = append(list, piece{clause: c, sentence: n, asks: asks})
	}
	if asks && len(list) > 1 { // a question is understood whole or not at all
		return []piece{{clause: clause{from: from, to: to}, sentence: n, asks: true}}
	}
	return list
}

// conclude gathers what was understood.
func (p *parser) conclude(pieces []piece) Heard {
	var h Heard
	spoke, acked := false, false
	for i := range pieces {
		c := &pieces[i]
		if c.ask != nil && h.Ask == nil {
			h.Ask = c.ask
		}
		if c.form == fAck {
			acked = true
			continue
		}
		if c.speaks() || c.ask != nil {
			spoke = true
		}
		if !c.dropped {
			h.Facts = append(h.Facts, c.facts...)
		}
	}
	h.Facts = p.merge(h.Facts)
	for i, f := range h.Facts {
		if f.Kind == diary.Undo && i > 0 { // undo stands first, or it might mean what was said just before it
			return p.ask(diary.Question{Why: diary.Unclear, Word: "undo"})
		}
	}
	if q := p.contradiction(append(h.Facts[:len(h.Facts):len(h.Facts)], offered(pieces)...)); q != nil {
		return Heard{Ask: q}
	}
	switch {
	case len(h.Facts) == 0 && h.Ask == nil && acked:
		if w := p.onlyDates(pieces); finished[fold(w)] {
			return p.whatIsDone(w)
		}
		return p.nod()
	case !spoke && h.Ask == nil:
		if w := p.onlyDates(pieces); w != "" {
			return p.whatIsDone(w)
		}
		h.Nod = true
	}
	return h
}

// finished are words that say that something is done, and not what.
var finished = phrases("done, all done, finished, all set, all finished, listo, listos, hecho, ya estuvo, ya quedo")

// onlyDates gives the day or hour that a text holds and nothing else with it,
// or a word that says that something is done.
func (p *parser) onlyDates(pieces []piece) string {
	word := ""
	for i := range pieces {
		c := &pieces[i]
		for j := c.from; j < c.to; j++ {
			t := &p.toks[j]
			if finished[fold(t.s)] {
				return t.s
			}
			if t.is(sDate|sSoft|sClock) && c.form != fChat {
				word = t.s
			}
		}
	}
	return word
}

// whatIsDone asks what is done; the likeliest is what was asked for.
func (p *parser) whatIsDone(word string) Heard {
	q := diary.Question{Why: diary.Unclear, Word: word}
	if list := p.askedPlaces(); len(list) == 1 && finished[fold(word)] {
		id := p.reader.places[list[0]].ID
		q.Paddock = id
		q.Choices = []diary.Choice{{Name: p.nameOf(id), Facts: p.offs(id, nil, when{day: p.day})}}
	}
	return p.ask(q)
}

// offered lists the facts of the choices of all questions.
func offered(pieces []piece) []diary.Fact {
	var list []diary.Fact
	for i := range pieces {
		if q := pieces[i].ask; q != nil {
			for _, c := range q.Choices {
				list = append(list, c.Facts...)
			}
		}
	}
	return list
}

// nod makes the fact of an ok.
func (p *parser) nod() Heard {
	paddock := ""
	if p.reader.index(p.asked.OpenQuestion) >= 0 {
		paddock = p.asked.OpenQuestion
	} else if list := p.askedPlaces(); len(list) == 1 {
		paddock = p.reader.places[list[0]].ID
	}
	f := p.fact(diary.Ack, paddock, p.day)
	if p.asked.Stale && paddock != "" {
		return p.ask(diary.Question{Why: diary.StaleText, Paddock: paddock,
			Choices: []diary.Choice{{Name: p.nameOf(paddock), Facts: []diary.Fact{f}}}})
	}
	return Heard{Facts: []diary.Fact{f}, Nod: paddock == ""}
}

// fact makes a fact of this text.
func (p *parser) fact(k diary.Kind, paddock string, day civil.Date) diary.Fact {
	f := diary.Fact{Kind: k, Paddock: paddock, Day: day, Words: p.words}
	return f
}

func (p *parser) nameOf(id string) string {
	if i := p.reader.index(id); i >= 0 {
		return p.reader.places[i].Name
	}
	return id
}

// merge drops what was said twice, and makes one visit of two readings of one
// paddock on one day.
func (p *parser) merge(facts []diary.Fact) []diary.Fact {
	var out []diary.Fact
next:
	for _, f := range facts {
		for i := range out {
			g := &out[i]
			if g.Kind != f.Kind || g.Paddock != f.Paddock || g.Day != f.Day || g.Herd != f.Herd {
				continue
			}
			if f.Kind == diary.Reading {
				g.Heights = append(append([]float64(nil), g.Heights...), f.Heights...)
			}
			continue next
		}
		out = append(out, f)
	}
	return out
}

// contradiction finds a paddock that is said to be left and entered at once.
func (p *parser) contradiction(facts []diary.Fact) *diary.Question {
	for _, f := range facts {
		for _, g := range facts {
			if f.Kind == diary.Off && g.Kind == diary.On && f.Paddock == g.Paddock &&
				(f.Herd == "" || g.Herd == "" || f.Herd == g.Herd) && f.Day == g.Day {
				return p.question(diary.Question{Why: diary.Unclear, Word: p.nameOf(f.Paddock), Paddock: f.Paddock})
			}
		}
	}
	return nil
}
