package reply

import (
	"fmt"
	"math"
	"strings"
)

// An elem is one place in a pattern: which senses may stand there, how often,
// and what it is called in what was caught.
type elem struct {
	set  senses
	sep  senses // marks that may part repetitions
	min  int
	max  int
	slot slot
}

// slot names what a pattern caught.
type slot uint8

// The slots. Words that only have to be there have none.
const (
	noSlot  slot = iota
	inFrom       // the paddock that animals left
	inTo         // the paddock that they are in
	inPlace      // any other paddock
	inHeights
	inStock
	inRange
	inDur
	inPlants
	inFrost
	slots
)

// A rule is one form of a clause.
type rule struct {
	form  form
	elems []elem
	skip  senses // what may stand anywhere and says nothing here
	first senses // what a clause of this form may begin with
	cost  int
	text  string
}

// patternWords are the words of the pattern language, as senses and slot, beside
// the meanings of heard.txt.
var patternWords = map[string]struct {
	set  senses
	sep  senses
	slot slot
}{
	"from:PLACE": {sPlace, sComma | sAnd | sSlash, inFrom},
	"to:PLACE":   {sPlace, sComma | sAnd | sSlash, inTo},
	"PLACE":      {sPlace, sComma | sAnd | sSlash, inPlace},
	"NUM":        {sNum, sComma | sAnd | sSlash | sDash, inHeights},
	"RANGE":      {sRange, 0, inRange},
	"PLANTS":     {sPlants, 0, inPlants},
	"STOCK":      {sHerd | sStock | sAll, sComma | sAnd | sField, inStock},
	"DUR":        {sDur, 0, inDur},
	"MORROW":     {sMorrow, 0, inDur},
	"FROST":      {sFrost, 0, inFrost},
	"mark":       {sColon | sDash | sComma, 0, noSlot},
	"and":        {sAnd | sComma, 0, noSlot},
	"that":       {sThat, 0, noSlot},
	"ack":        {sAck, 0, noSlot},
	"chat":       {sChat, 0, noSlot},
	"fill":       {sFill | sBe | sDate | sClock, 0, noSlot},
	"named":      {sNamed, 0, noSlot},
	"verb":       {sVerb, 0, noSlot},
	"temp":       {sTemp, 0, noSlot},
}

// pattern reads the pattern language: words parted by spaces, alternatives by
// |, with ? * or + behind them.
func pattern(f form, cost int, skip senses, text string) rule {
	r := rule{form: f, skip: skip, cost: cost, text: text, first: skip}
	open := true
	for _, w := range strings.Fields(text) {
		e := elem{min: 1, max: 1}
		switch w[len(w)-1] {
		case '?':
			e.min, w = 0, w[:len(w)-1]
		case '*':
			e.min, e.max, w = 0, math.MaxInt, w[:len(w)-1]
		case '+':
			e.max, w = math.MaxInt, w[:len(w)-1]
		}
		for _, alt := range strings.Split(w, "|") {
			x, ok := patternWords[alt]
			if !ok {
				m, known := meaningOf(alt)
				if !known || m.set == 0 {
					panic(fmt.Sprintf("reply: unknown word %q in pattern %q", alt, text))
				}
				x.set = m.set
			}
			e.set |= x.set
			e.sep |= x.sep
			if x.slot != noSlot {
				e.slot = x.slot
			}
		}
		r.elems = append(r.elems, e)
		if open {
			r.first |= e.set
			open = e.min == 0
		}
	}
	return r
}

// A matcher runs rules over tokens. It remembers which states led nowhere, so
// its work grows with the length of the text and no faster.
type matcher struct {
	rule  *rule
	toks  []token
	seen  []uint32 // by elem, whether it was met, and token
	round uint32
	path  []step
	ends  func(end int, path []step)
}

type step struct {
	tok  int
	slot slot
}

const mostElems = 16

// match calls ends for each end that a clause of this form may have which
// begins at i. The path is only good until ends returns.
func (m *matcher) match(r *rule, i int, ends func(end int, path []step)) {
	if !m.toks[i].is(r.first) {
		return
	}
	if need := 2 * mostElems * (len(m.toks) + 1); len(m.seen) < need {
		m.seen = make([]uint32, need)
	}
	m.round++
	m.rule, m.ends, m.path = r, ends, m.path[:0]
	m.run(0, 0, i)
}

// run stands at token j with elem e met n times already.
func (m *matcher) run(e, n, j int) {
	key := (j*mostElems+e)*2 + min(n, 1)
	if m.seen[key] == m.round {
		return
	}
	m.seen[key] = m.round
	if e == len(m.rule.elems) {
		m.ends(j, m.path)
		if j < len(m.toks) && m.toks[j].is(m.rule.skip) {
			m.run(e, n, j+1)
		}
		return
	}
	el := &m.rule.elems[e]
	if j < len(m.toks) {
		if m.toks[j].is(el.set) && n < el.max && (n == 0 || el.set&sPlace == 0 || m.path[len(m.path)-1].tok == j-1) {
			m.path = append(m.path, step{j, el.slot})
			m.run(e, n+1, j+1)
			m.path = m.path[:len(m.path)-1]
		}
		if m.toks[j].is(m.rule.skip) {
			m.run(e, n, j+1)
		}
		if n > 0 && n < el.max && m.toks[j].is(el.sep) {
			if k := m.again(el, j+1); k >= 0 {
				m.path = append(m.path, step{k, el.slot})
				m.run(e, n+1, k+1)
				m.path = m.path[:len(m.path)-1]
			}
		}
	}
	if n >= el.min {
		m.run(e+1, 0, j)
	}
}

// again finds the elem once more behind separators from j on; -1 where it does
// not stand there.
func (m *matcher) again(el *elem, j int) int {
	for j < len(m.toks) && m.toks[j].is(el.sep|m.rule.skip) && !m.toks[j].is(el.set) {
		j++
	}
	if j < len(m.toks) && m.toks[j].is(el.set) {
		return j
	}
	return -1
}
