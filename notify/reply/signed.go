package reply

// signed takes the writer's own name for what it is at the end of a sentence,
// or before 'here' and a colon: a signature.
func (p *parser) signed(toks []token) {
	name := fold(firstWord(p.who.Name))
	for i := range toks {
		t := &toks[i]
		if (i == 0 || toks[i-1].is(sStop)) && i+1 < len(toks) && somebody(t) && p.reader.hinted(toks[i+1].s, hIsPast) {
			t.lex = lex{set: sFill} // Luis pulled the cows
			continue
		}
		if t.f != name || name == "" || t.is(sPlace|sHerd) {
			continue
		}
		last := i+1 == len(toks) || toks[i+1].is(sStop)
		itIs := i > 0 && p.reader.hinted(toks[i-1].s, hNameComes)
		here := itIs || i == 0 && i+1 < len(toks) && (p.reader.hinted(toks[i+1].s, hNameCame) || toks[i+1].is(sColon))
		if itIs {
			toks[i-1].lex = lex{set: sFill}
		}
		if last || here {
			t.lex = lex{set: sFill}
			t.known = true
		}
	}
}

// somebody reports whether a word may be a person's name: it is no other word.
func somebody(t *token) bool {
	return t.kind == word && !t.known && t.set == 0 && t.guard == noGuard && t.role == noRole && len(t.f) > 2
}

func firstWord(s string) string {
	for _, t := range scan(normalise(s)) {
		if t.kind == word {
			return t.f
		}
	}
	return ""
}
