package reply

import (
	"slices"
	"strconv"
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
	return len(w) >= 3 && !t.common(w)
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

// lettersOf runs the words and digits of a name together as they are written.
func lettersOf(toks []token) string {
	var b strings.Builder
	for _, t := range toks {
		if t.kind != mark {
			b.WriteString(fold(t.s))
		}
	}
	return b.String()
}

// namePiece reads one piece of a name at i: a word, a number in digits, or a
// number in words, which is the same as in digits. It gives how many tokens
// that took, 0 where there is none.
func (v *vocabulary) namePiece(toks []token, i int) (p string, isDigits bool, used int) {
	t := toks[i]
	switch t.kind {
	case digits:
		if i+1 < len(toks) && toks[i+1].glued && v.hints[hOrdinal][toks[i+1].s] {
			return strings.TrimLeft(t.f, "0") + ordinal, false, 2 // 1st bench
		}
		if p = strings.TrimLeft(t.f, "0"); p == "" {
			p = "0"
		}
		return p, true, 1
	case word:
		x, n := v.spoken(toks, i)
		if n > 0 {
			return strconv.Itoa(x), true, n
		}
		if x, ok := v.ordinals[t.f]; ok {
			return strconv.Itoa(x) + ordinal, false, 1
		}
		return fold(strings.TrimSuffix(t.s, "'s")) + possessive(t), false, 1
	}
	return "", false, 0
}

// ordinal marks a piece that counts: first bench and 1st bench are one name.
const ordinal = "."

// possessive keeps the s of O'Brien's in a name; in a text it is tried both
// with and without.
func possessive(t token) string {
	if t.poss {
		return "s"
	}
	return ""
}

// spoken reads a number in words at i, in any language.
func (v *vocabulary) spoken(toks []token, i int) (x, used int) {
	x, ok := v.counted[toks[i].f]
	if !ok {
		return 0, 0
	}
	if x >= 20 && x%10 == 0 && i+1 < len(toks) {
		j := i + 1
		if toks[j].s == "-" && j+1 < len(toks) {
			j++
		}
		if y, ok := v.counted[toks[j].f]; ok && y > 0 && y < 10 {
			return x + y, j - i + 1
		}
	}
	return x, 1
}

// beside reports whether token j may belong to the same name as the one
// before: nothing but a space, or a mark as in P-3 and No. 3, parts them.
func beside(toks []token, j int) (next int, ok bool) {
	if j < len(toks) && toks[j].kind == mark {
		switch toks[j].s {
		case "-", "#", "'":
			j++
		case ".":
			if !toks[j].glued {
				return j, false
			}
			j++
		case "&":
			return j, true
		}
	}
	return j, j < len(toks) && toks[j].kind != mark
}

// bears reports whether tokens hold a letter: 9 alone is a height even where a
// paddock is called Nine.
func bears(toks []token) bool {
	for _, t := range toks {
		if t.kind == word {
			return true
		}
	}
	return false
}

// hasUnit reports whether the digits before token j have something tied to
// them: 9in is no end of a name.
func hasUnit(toks []token, j int) bool {
	return j < len(toks) && toks[j-1].kind == digits && toks[j].kind == word && toks[j].glued
}

// partOfNumber reports whether the digits before token j go on: 40.5, 40/2.
func partOfNumber(toks []token, j int) bool {
	return j+1 < len(toks) && toks[j].kind == mark && toks[j].glued && toks[j+1].glued &&
		toks[j+1].kind == digits && (toks[j].s == "." || toks[j].s == "/")
}
