package reply

import "strings"

// mend takes an unknown word for the word of the trade that it is one slip
// away from, where that is one alone.
func (t *tongue) mend(toks []token) {
	for i := range toks {
		tok := &toks[i]
		if tok.kind != word || tok.known || tok.set != 0 || tok.guard != noGuard || tok.role != noRole || tok.span > 1 {
			continue
		}
		w := squeeze(tok.f)
		if list := t.lexicon[w]; w != tok.f && len(list) > 0 && len(list[len(list)-1].words) == 1 {
			tok.lex, tok.known = list[len(list)-1].lex, true // offff
			continue
		} else if list := t.lexicon[strings.TrimRight(w, w[len(w)-1:])+w[len(w)-1:]]; w != tok.f && len(list) > 0 && len(list[len(list)-1].words) == 1 {
			tok.lex, tok.known = list[len(list)-1].lex, true // hiii
			continue
		}
		if len(w) < 4 || !t.mayBeSlip(w) {
			continue
		}
		if x, ok := t.nearest(w); ok {
			tok.lex, tok.known = x, true
		}
	}
}

// squeeze writes letters that stand three times or more in a row twice.
func squeeze(w string) string {
	var out []rune
	for _, r := range w {
		if n := len(out); n >= 2 && out[n-1] == r && out[n-2] == r {
			continue
		}
		out = append(out, r)
	}
	return string(out)
}

// nearest finds the only word of five letters or more within one slip.
func (t *tongue) nearest(w string) (x lex, ok bool) {
	for n := len(w) - 1; n <= len(w)+1; n++ {
		for _, p := range t.long[n] {
			if distance(w, p.words[0]) != 1 {
				continue
			}
			if ok && x != p.lex {
				return lex{}, false
			}
			x, ok = p.lex, true
		}
	}
	return x, ok
}
