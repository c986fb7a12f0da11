package reply

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// level is what becomes of a clause.
type level uint8

// The levels: its facts are written down, or first confirmed by a letter, or
// the clause is asked about.
const (
	asked level = iota
	likely
	sure
)

// A piece is a clause with what became of it.
type piece struct {
	clause
	sentence int
	level    level
	spent    int // a guard that is a part of what it says: no frost; -1 where none is
	counts   *[features]float64
	dropped  bool // taken back by what follows it
	afar     bool // other paddocks were named too
	inText   bool // its paddock was named elsewhere in the text
	facts    []diary.Fact
	ask      *diary.Question // what its parts leave open, however clear it is
}

// read makes facts and at most one question of the tokens.
func (p *parser) read() Heard {
	h := p.conclude(p.judged())
	if p.asked.Frost && h.Ask == nil && p.opensWithYes() && !slices.ContainsFunc(h.Facts, func(f diary.Fact) bool { return f.Kind == diary.Frost || f.Kind == diary.NoFrost }) {
		h.Ask, h.Nod = p.confirm([]diary.Fact{p.fact(diary.Frost, "", p.day)}), false // yes. creek 9
	}
	if len(h.Facts) == 0 {
		if told, ok := p.amongTalk(); ok {
			return told
		}
	}
	if len(h.Facts) == 0 || p.sorry() {
		if q := p.correction(); q != nil {
			return p.withDangers(Heard{Ask: q})
		}
	}
	return p.notSupposed(p.withDangers(h))
}

// judged are the clauses of a text, each with its facts and how sure it is.
func (p *parser) judged() []piece {
	p.warn()
	p.prepare()
	pieces := p.pieces()
	p.build(pieces)
	for i := range pieces {
		p.judge(pieces, &pieces[i])
	}
	return pieces
}

// pieces parts every sentence in clauses. A stretch that asks about one paddock
// is a request for its state.
func (p *parser) pieces() []piece {
	var list []piece
	n := 0
	for from := 0; from < len(p.toks); {
		to := from
		for to < len(p.toks) && !p.toks[to].is(sStop) {
			to++
		}
		if to > from {
			list = append(list, p.sentence(from, to, n)...)
			n++
		}
		from = to + 1
	}
	p.extend(list)
	return list
}

func (p *parser) sentence(from, to, n int) []piece {
	var list []piece
	end := to
	for _, a := range p.asks {
		if a[0] >= from && a[1] <= to && p.asksOf(a[0], a[1]) {
			list = append(list, piece{clause: clause{form: fStatus, from: a[0], to: a[1], score: weights[wClause][cRequest]}, sentence: n, spent: -1})
			end = a[0]
		}
	}
	var said []piece
	for _, c := range p.clauses(from, end) {
		said = append(said, piece{clause: c, sentence: n, spent: -1})
	}
	return append(said, list...)
}

// asksOf reports whether a question is about one paddock and no number.
func (p *parser) asksOf(from, to int) bool {
	var places []int
	about, everyday, words, strange := false, false, 0, 0
	for i := from; i < to; i++ {
		t := &p.toks[i]
		about = about || t.is(sNamed|sVerb|sStatus)
		everyday = everyday || t.is(sPlace) && p.isEveryday(t)
		words += int(flag(t.kind == word && !t.is(sPlace)))
		strange += int(flag(p.strange(i)))
		if t.guard == gOrder && !t.is(sVerb) || t.is(sNum|sRange|sFrost|sOff|sPut|sLater) && !t.is(sPlace) || t.is(sMoved) && !t.is(sMeasure) {
			return false
		}
		for _, x := range t.places {
			if t.is(sPlace) {
				places = include(places, x)
			}
		}
	}
	return len(places) == 1 && strange < 2 && (about || !everyday || words == 0)
}

// extend gives each clause what stands beside it in its stretch and belongs to
// no other.
func (p *parser) extend(list []piece) {
	at := p.stretches()
	find := func(i int) stretch {
		k := slices.IndexFunc(at, func(s stretch) bool { return i >= s.from && i < s.to })
		if k < 0 {
			return stretch{from: i, to: i + 1}
		}
		return at[k]
	}
	for i := range list {
		c := &list[i]
		c.lo, c.hi = min(c.from, find(c.from).from), max(c.to, find(c.to-1).to)
		if i > 0 {
			c.lo = max(c.lo, list[i-1].to)
		}
		if i+1 < len(list) {
			c.hi = min(c.hi, list[i+1].from)
		}
	}
}

// judge weighs a clause with all that stands in it and beside it.
func (p *parser) judge(pieces []piece, c *piece) {
	c.counts = p.count(pieces, c)
	col := shapes[c.form].column
	sum := 0.0
	for f, n := range c.counts {
		sum += weights[f][col] * n
	}
	c.score = sum
	for _, w := range p.warnings {
		c.dropped = c.dropped || w.guard == gFix && w.at >= c.to && c.form != fUndo
	}
	c.dropped = c.dropped || c.form == fEvent && len(p.in(c, sPlace)) == 0 && p.beforeReading(pieces, c)
	switch {
	case c.dropped:
	case sum >= weights[wRecord][col]:
		c.level = sure
	case sum >= weights[wConfirm][col]:
		c.level = likely
	}
}

// beforeReading reports whether a reading begins right behind a clause, so that its
// word may belong to the name: burned oak is nine inches.
func (p *parser) beforeReading(pieces []piece, c *piece) bool {
	for i := range pieces {
		if d := &pieces[i]; d.from == c.to && d.form == fReading && p.names(d.from) {
			return true
		}
	}
	return false
}

// fact makes a fact of this text.
func (p *parser) fact(k diary.Kind, paddock string, day civil.Date) diary.Fact {
	return diary.Fact{Kind: k, Paddock: paddock, Day: day, Words: p.words}
}

func (p *parser) nameOf(id string) string {
	if i := p.reader.index(id); i >= 0 {
		return p.reader.places[i].Name
	}
	return id
}
