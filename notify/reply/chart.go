package reply

import "slices"

// A clause is a run of tokens that says one thing.
type clause struct {
	form     form
	event    event
	from, to int     // from its first to its last word that counts
	lo, hi   int     // with what stands beside it, up to the next mark
	score    float64 // of what stands in it
}

// Bounds on what one clause may hold.
const (
	longestSpan = 2*mostHeights + 12
	worst       = -7.0 // where no clause comes back from
)

// A cell is the best way to read the tokens up to a place.
type cell struct {
	score float64
	c     clause
}

// A chart weighs every run of tokens as every form that it may have. Its arrays
// serve one sentence after the other.
type chart struct {
	core, free []uint32 // by token, one bit a form
	counts     []feature
	prep       []senses // of a paddock: off, from, to, on, in
	prepAt     []int    // and where that stands
	best       []cell
	spans      int // weighed so far, for the bound
}

// mostSpans bounds the work on one text: more is too long to read with care.
const mostSpans = 60000

// A span is a run of tokens as it grows, and what stands in it.
type span struct {
	from                int
	score               [forms]float64
	open                uint32 // forms that it may still be, one bit each
	set                 senses // all that its tokens may be
	event               event
	events, eventAt     int
	places              [4]int // tokens, of different paddocks
	named               int
	left, entered, bare int // paddocks by what stands before them
	firstNum, lastNum   int
	nums, runs          int
	ranges              int
	stock               int
	beast               int  // the last animal, one by itself among them
	deadAt, downAt      int  // where it is said to be dead, or down
	tos                 int  // the last paddock that is entered
	plains              int  // the first paddock with nothing before it
	acts                bool // a verb of moving animals
	stays               bool // still, again
	particle            bool
	at                  int // paddocks behind an at
	frostAt             int
}

// grow takes token j into a span.
func (p *parser) grow(s *span, j int) {
	c, t := &p.chart, &p.toks[j]
	for bits := s.open &^ c.free[j]; bits != 0; bits &= bits - 1 {
		f := lowest(bits)
		s.score[f] += weights[c.counts[j]][shapes[f].column]
		if s.score[f] < worst {
			s.open &^= 1 << f
		}
	}
	s.set |= t.set
	if t.event != noEvent {
		s.event, s.eventAt, s.events = t.event, j, s.events+1
	}
	if t.is(sFrost) && (s.frostAt < 0 || !t.is(sTemp)) {
		s.frostAt = j
	}
	if t.is(sPlace) {
		p.growPlace(s, j)
	}
	switch {
	case t.is(sNum) && !t.is(sPlace):
		if s.nums == 0 {
			s.firstNum, s.runs = j, 1
		} else if !p.runsOn(s.lastNum, j) {
			s.runs++
		}
		s.lastNum = j
		s.nums++
	case t.is(sRange):
		s.ranges++
	case t.is(sHerd|sStock) || t.is(sAll) && !t.is(sPlace) && p.allOfThem(j):
		s.stock++
	}
	if t.is(sHerd | sStock | sBeast) {
		s.beast = j
	}
	s.acts = s.acts || t.is(verbs&^sGone) && !t.is(sMeasure|sWeak)
	s.stays = s.stays || t.is(sStay) && !t.is(sPlace)
	if t.is(sDown) {
		s.downAt = j
	}
	if t.is(sDead) && (s.deadAt < 0 || s.beast < s.deadAt) {
		s.deadAt = j
	}
	if t.is(sOff|sGone|sOut|sOn|sIn) && !p.opensName(j) {
		s.particle = true
	}
}

// lowest is the place of the lowest bit.
func lowest(bits uint32) form {
	f := form(0)
	for bits&1 == 0 {
		bits >>= 1
		f++
	}
	return f
}

func (p *parser) growPlace(s *span, j int) {
	if s.named < len(s.places) {
		s.places[s.named] = j
	}
	s.named++
	prep := p.chart.prep[j]
	if p.chart.prepAt[j] < s.from {
		prep = 0
	}
	switch {
	case prep&(sOff|sFrom|sLeft) != 0:
		s.left++
	case prep&(sTo|sOn|sIn) != 0:
		s.entered++
		s.tos = j
	default:
		if s.bare == 0 {
			s.plains = j
		}
		if prep&sAt != 0 {
			s.at++
		}
		s.bare++
	}
}

// listMarks may stand between the numbers of a list.
const listMarks = sComma | sAnd | sSlash | sDash | sFill | sAbout | sColon | sAvg

// runsOn reports whether a number goes on the list that another began: nothing
// but marks and small words stand between them.
func (p *parser) runsOn(last, j int) bool {
	about, marked := false, false
	for k := last + 1; k < j; k++ {
		t := &p.toks[k]
		if !t.is(listMarks) || t.is(sColon|sWas) || p.reader.hinted(t.s, hArticle) {
			return false
		}
		about, marked = about || p.reader.hinted(t.s, hBeforeHour), marked || t.is(listMarks&^(sFill|sAbout|sAvg))
	}
	return !about || marked // 9 around 14
}

// read parts the tokens from..to in clauses: of all ways the one with the
// highest sum.
func (p *parser) clauses(from, to int) []clause {
	best := p.chart.best
	for i := from; i <= to; i++ {
		best[i] = cell{score: -1e9}
	}
	best[from].score = 0
	for i := from; i < to; i++ {
		p.talk(i)
		if p.chart.core[i] == 0 {
			continue
		}
		p.spansFrom(i, to)
	}
	var list []clause
	for j := to; j > from; {
		c := best[j].c
		if c.form != fTalk {
			list = append(list, c)
		}
		j = c.from
	}
	slices.Reverse(list)
	return list
}

// talk leaves token i to no clause.
func (p *parser) talk(i int) {
	cost := 0.0
	if p.toks[i].guard == noGuard || p.toks[i].set != 0 {
		if p.toks[i].set&^(sFill|sDate|sSoft|sClock|sBe|sIt|sChat|sAck|where|sField|sAbout) != 0 || p.toks[i].set == 0 {
			cost = weights[p.chart.counts[i]][cTalk]
		}
	}
	p.take(i, i+1, cost, clause{from: i, to: i + 1})
}

func (p *parser) take(i, j int, score float64, c clause) {
	best := p.chart.best
	if sum := best[i].score + score; sum > best[j].score {
		best[j] = cell{sum, c}
	}
}

// entryEnds may end a clause of animals that entered a paddock.
const entryEnds = sPlace | sIn | sOn | sHerd | sStock | verbs

// spansFrom weighs all runs that begin at token i.
func (p *parser) spansFrom(i, to int) {
	s := span{from: i, open: p.chart.core[i], firstNum: -1, lastNum: -1, beast: -1, deadAt: -1, downAt: -1, frostAt: -1}
	for j := i; j < min(to, i+longestSpan) && s.open != 0; j++ {
		if p.toks[j].guard == gWhen && s.named > 0 && !p.toks[j].is(sPlace|sNum) {
			s.open &^= 1<<fOn | 1<<fOff | 1<<fMove // in mill, where I can see them
		}
		if s.named == 0 && p.toks[j].is(sAnd) && p.begins(j+1) {
			s.open &^= 1<<fOn | 1<<fOff | 1<<fMove // put out salt, and creek is empty
		}
		p.grow(&s, j)
		if p.chart.spans++; p.chart.spans > mostSpans {
			return
		}
		ends := p.chart.core[j]
		if p.toks[j].is(sTo) && !p.toks[j].is(entryEnds) {
			ends &^= 1<<fOn | 1<<fMove | 1<<fStill // and I'm off to eat
		}
		if t := &p.toks[j]; s.entered > 0 && t.is(sIn|sOn) && !t.is(entryEnds&^(sIn|sOn)) {
			ends &^= 1<<fOn | 1<<fMove // and the water is on
		}
		if t := &p.toks[j]; s.left > 0 && t.is(sStock) && p.reader.hinted(t.s, hPronoun) && p.parted(s.from, j) {
			ends &^= 1 << fOff // off creek, and the gate shut behind them
		}
		for bits := s.open & ends; bits != 0; bits &= bits - 1 {
			f := lowest(bits)
			score, ok := p.weigh(&s, f, j)
			if !ok {
				continue
			}
			score += s.score[f] + weights[wClause][shapes[f].column]
			p.take(i, j+1, score+shapes[f].bonus, clause{form: f, event: s.event, from: i, to: j + 1, score: score})
		}
	}
}
