package reply

import (
	"strconv"
	"strings"
)

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
