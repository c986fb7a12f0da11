package reply

import (
	"slices"
	"strings"
)

// slip finds the longest name at i of which one word is a slip of the finger
// away: one letter too many, too few, another, or two swapped. The word must be
// of no language on file, a digit is never corrected, and short words are left
// alone. Where several names of that length fit, all are given.
func (n *naming) slip(toks []token, i int, t *tongue) (who []int, end int) {
	end = i
	if toks[i].kind == mark {
		return nil, i
	}
	for _, nm := range n.names {
		to := n.slipAt(nm, toks, i, t)
		if to == i && nm.ranTogether(toks[i].f) && t.mayBeSlip(toks[i].f) {
			to = i + 1
		}
		switch {
		case to == i || to < end:
		case to > end:
			who, end = []int{nm.index}, to
		default:
			who = include(who, nm.index)
		}
	}
	return who, end
}

func include(list []int, x int) []int {
	for _, y := range list {
		if x == y {
			return list
		}
	}
	return append(list, x)
}

// slipAt gives the end of the name at i, with one slip in one of its words, or
// i where it does not stand there.
func (n *naming) slipAt(nm name, toks []token, i int, t *tongue) int {
	slips := 0
	j := i
	for k, want := range nm.pieces {
		if k > 0 {
			next, ok := beside(toks, j)
			if !ok {
				return i
			}
			j = next
		}
		p, isDigits, used := n.voc.namePiece(toks, j)
		if used == 0 || (isDigits && partOfNumber(toks, j+used)) {
			return i
		}
		if isDigits != nm.digits[k] {
			if isDigits { // a number stands where a word should
				return i
			}
			want = nm.raw[k] // nin for nine; 40 is nobody's slip
		}
		if p != want {
			slips++
			if isDigits || slips > 1 || !t.mayBeSlip(p) || !nm.mayHaveSlip(want) || distance(p, want) != 1 {
				return i
			}
		}
		j += used
	}
	if slips == 0 || hasUnit(toks, j) {
		return i // written right: found elsewhere
	}
	return j
}

// ranTogether reports whether a word is a name of several, written as one with a
// slip in it: hayfeild.
func (nm name) ranTogether(w string) bool {
	return len(nm.pieces) > 1 && len(w) >= 6 && !slices.Contains(nm.digits, true) && distance(w, strings.Join(nm.pieces, "")) == 1
}

// mayHaveSlip reports whether a word of a name is long enough to be known by a
// slip of it: four letters, or three where other words of the name stand by it.
func (nm name) mayHaveSlip(want string) bool {
	return len(want) >= 4 || len(want) == 3 && len(nm.pieces) > 1
}

// mayBeSlip reports whether a word is one that nobody means: in no language on
// file, and of three letters at least.
func (t *tongue) mayBeSlip(w string) bool {
	return len(w) >= 3 && !t.common[w]
}

// distance is 1 where one insertion, deletion, substitution or swap of
// neighbours makes b of a, 0 where they are equal, else 2 (Damerau 1964, cut
// short).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > len(y) {
		x, y = y, x
	}
	if len(y)-len(x) > 1 {
		return 2
	}
	i := 0
	for i < len(x) && x[i] == y[i] {
		i++
	}
	j := 0
	for j < len(x)-i && x[len(x)-1-j] == y[len(y)-1-j] {
		j++
	}
	midX, midY := x[i:len(x)-j], y[i:len(y)-j]
	switch {
	case len(midX) == 0 && len(midY) == 0:
		return 0
	case len(midX) == 0 && len(midY) == 1, len(midX) == 1 && len(midY) == 1:
		return 1
	case len(midX) == 2 && len(midY) == 2 && midX[0] == midY[1] && midX[1] == midY[0]:
		return 1
	}
	return 2
}
