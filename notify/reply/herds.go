package reply

import (
	"slices"
	"strings"
)

// kindOf tells what animals a herd is of, by its kind and its names.
func (v *vocabulary) kindOf(h Herd) stockKind {
	for _, s := range append([]string{h.Kind, h.ID}, h.Names...) {
		for _, w := range strings.Fields(fold(strings.ToLower(s))) {
			if k := v.kinds[strings.Trim(w, ",.;:()")]; k != noStock {
				return k // cow, of 'cow with calf'
			}
		}
	}
	return noStock
}

// herdWords turns words for animals into herds of this farm: vacas is the herd
// of cows. Where no herd of the kind is on file, cattle may be any cattle;
// goats on a farm without goats are nobody's.
func (p *parser) herdWords(toks []token) {
	for i := range toks {
		t := &toks[i]
		if t.is(sHerd) {
			t.guard, t.role = noGuard, noRole
			t.set &= sHerd | sCalves
			if t.poss {
				t.lex = lex{guard: gPart}
			}
			continue
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
		case t.guard != noGuard || t.is(sCalves): // bulls, calves: not the herd
			if t.guard == noGuard {
				t.guard = gPart
			}
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
	for i, has := range r.kinds {
		if has == k {
			list = append(list, i)
		}
	}
	return list
}

// onlyCattle reports whether people may call every herd on file cows.
func (r *Reader) onlyCattle() bool {
	for _, k := range r.kinds {
		if k != noStock && !k.cattle() {
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
