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
	p.askUnparsed(pieces)
	return p.conclude(pieces)
}

// asking reports whether a sentence is a question: by its mark, or by the word
// that it begins with.
func (p *parser) asking(from, to, end int) bool {
	for _, t := range p.toks[to:end] {
		if t.s == "?" || p.reader.hinted(t.s, hQuestionMark) {
			return true
		}
	}
	for i := from; i < to; i++ {
		t := &p.toks[i]
		if t.guard == gAsk {
			return true
		}
		if p.reader.hinted(t.s, hBeginsQuestion) {
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
