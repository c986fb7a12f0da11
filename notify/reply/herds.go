package reply

import (
	"slices"
	"strings"
)

// kindsOf tells what animals a herd is of, by its kind and its names: a yearling
// steer is both.
func (v *vocabulary) kindsOf(h Herd) []stockKind {
	var list []stockKind
	for _, s := range append([]string{h.Kind, h.ID}, h.Names...) {
		for _, w := range strings.Fields(fold(strings.ToLower(s))) {
			k := v.kinds[strings.Trim(w, ",.;:()")]
			if k == calves && len(list) > 0 {
				continue // cow, of 'cow with calf'
			}
			if k != noStock && !slices.Contains(list, k) {
				list = append(list, k)
			}
		}
	}
	return list
}

// herdWords turns words for animals into herds of this farm: vacas is the herd
// of cows. Where no herd of the kind is on file, cattle may be any cattle;
// goats on a farm without goats are nobody's.
func (p *parser) herdWords(toks []token) {
	for i := range toks {
		t := &toks[i]
		if (t.is(sHerd) || t.stock != noStock) && i > 0 && toks[i-1].poss && !(i > 1 && toks[i-1].is(sPlace) && toks[i-2].is(sOn|sOff|sIn|sTo|sFrom)) {
			t.lex, t.herds = lex{guard: gOther}, nil // Jim's cows
			continue
		}
		if t.is(sHerd) {
			t.guard, t.role = noGuard, noRole
			t.set &= sHerd
			if t.poss {
				t.lex = lex{guard: gPart}
			}
			continue
		}
		if t.guard == gPart && p.reader.voc.kinds[t.f] != noStock {
			t.set |= sBeast
		}
		if t.stock == noStock {
			continue
		}
		if t.poss {
			t.lex = lex{guard: gPart}
			continue
		}
		which := p.reader.ofKind(t.stock)
		switch {
		case len(which) > 0 && !p.reader.hinted(t.s, hYoung):
			t.set |= sHerd
			t.herds = which
			t.guard = noGuard
		case t.guard != noGuard || t.stock == calves: // bulls, calves: not the herd
			if t.guard == noGuard {
				t.guard = gPart
			}
			t.set |= sBeast
		case t.stock == cows && p.reader.onlyCattle():
			t.set |= sStock
		default:
			t.guard = gOther
		}
	}
}

// ofKind lists the herds of a kind.
func (r *Reader) ofKind(k stockKind) []int {
	var list []int
	for i, kinds := range r.kinds {
		if slices.Contains(kinds, k) {
			list = append(list, i)
		}
	}
	return list
}

// onlyCattle reports whether people may call every herd on file cows.
func (r *Reader) onlyCattle() bool {
	for _, kinds := range r.kinds {
		if slices.ContainsFunc(kinds, func(k stockKind) bool { return !k.cattle() }) {
			return false
		}
	}
	return true
}

// herdOf tells which herd is meant by a count of heads: the one that has as
// many, and of that animal where one was named; -1 where none or several fit.
func (r *Reader) herdOf(count int, animal token) int {
	found := -1
	for i, h := range r.herds {
		if h.Head != count || count == 0 {
			continue
		}
		if animal.is(sHerd) && !slices.Contains(animal.herds, i) {
			continue
		}
		if animal.guard != noGuard && !animal.is(sHerd|sStock) {
			continue
		}
		if found >= 0 {
			return -1
		}
		found = i
	}
	return found
}

// allHeads reports whether a count is of all herds together.
func (r *Reader) allHeads(count int) bool {
	sum := 0
	for _, h := range r.herds {
		if h.Head == 0 {
			return false
		}
		sum += h.Head
	}
	return sum == count && len(r.herds) > 1
}

// heads reads 38 cows, 38 head of cattle. As many as a herd has are that herd;
// any other number is a part of one.
func (p *parser) heads(toks []token, i int) (token, int) {
	j := i + 1
	which := -1
	if toks[j].role == rHead {
		j++
		if k := j + 1; k < len(toks) && p.reader.hinted(toks[j].s, hOfMonth) && (toks[k].stock != noStock || toks[k].is(sHerd|sStock)) {
			j++
		}
	}
	var animal token
	if j < len(toks) && (toks[j].stock != noStock || toks[j].is(sHerd|sStock)) {
		animal = toks[j]
		j++
	} else if j < len(toks) && toks[j].guard == gPart && toks[j-1].role == rNumber {
		j++
	}
	which = p.reader.herdOf(int(toks[i].val), animal)
	t := join(toks[i:j])
	t.lex = lex{set: sBeast, guard: gPart, val: toks[i].val}
	t.herds = nil
	if which >= 0 && toks[i].val == float64(int(toks[i].val)) {
		t.lex = lex{set: sHerd}
		t.herds = []int{which}
	} else if p.reader.allHeads(int(toks[i].val)) && !animal.is(sHerd) {
		t.lex = lex{set: sStock | sAll}
	}
	return t, j - i
}
