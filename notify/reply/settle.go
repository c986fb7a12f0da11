package reply

// signed takes the writer's own name for what it is at the end of a sentence,
// or before 'here' and a colon: a signature.
func (p *parser) signed(toks []token) {
	name := fold(firstWord(p.who.Name))
	for i := range toks {
		t := &toks[i]
		if (i == 0 || toks[i-1].is(sStop)) && i+1 < len(toks) && somebody(t) && overAndDone(&toks[i+1]) {
			t.lex = lex{set: sUs} // Luis pulled the cows
			continue
		}
		if t.f != name || name == "" || t.is(sPlace|sHerd) {
			continue
		}
		last := i+1 == len(toks) || toks[i+1].is(sStop)
		itIs := i > 0 && (toks[i-1].s == "its" || toks[i-1].s == "it's" || toks[i-1].s == "is")
		here := itIs || i == 0 && i+1 < len(toks) && (toks[i+1].s == "here" || toks[i+1].is(sColon))
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

// overAndDone reports whether a verb can only speak of what is past. 'Put' and
// 'let' may be an order.
func overAndDone(t *token) bool {
	switch t.s {
	case "moved", "pulled", "took", "brought", "shifted", "rotated", "switched", "hauled", "drove", "trailed", "walked",
		"measured", "sacó", "movió", "movio", "quitó", "cambió", "pasó", "llevó", "metió", "metio", "midió", "midio":
		return true
	}
	return false
}

func firstWord(s string) string {
	for _, t := range scan(normalise(s)) {
		if t.kind == word {
			return t.f
		}
	}
	return ""
}

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

// settle joins small words to the date or clock time that they stand before,
// tells clock times that are only known by what stands around them, and joins
// sentences that hold nothing but numbers to the one before.
func (p *parser) settle(toks []token) []token {
	out := toks[:0]
	for i := 0; i < len(toks); {
		t := toks[i]
		if n := p.hourAt(toks, i); n > 0 {
			t = join(toks[i : i+n])
			t.lex = lex{set: sClock}
			t.places = nil
			out = append(out, t)
			i += n
			continue
		}
		if t.is(sDate | sSoft | sClock) {
			for len(out) > 0 && (out[len(out)-1].is(sOn|sAt|sAbout) && !out[len(out)-1].is(sPlace|sMeasure) || out[len(out)-1].s == "the" || out[len(out)-1].s == "el" || out[len(out)-1].s == "dia") {
				t.from = out[len(out)-1].from
				out = out[:len(out)-1]
			}
		}
		out = append(out, t)
		i++
	}
	return p.joinSentences(out)
}

// hourAt reads 'at 6' in a text about animals, and 'a las 6' anywhere: an hour,
// never a height. It gives the tokens taken.
func (p *parser) hourAt(toks []token, i int) int {
	hour := func(j int) bool {
		return j < len(toks) && toks[j].is(sNum) && toks[j].unit == 0 && toks[j].val >= 1 && toks[j].val <= 12 && toks[j].val == float64(int(toks[j].val))
	}
	t := toks[i]
	if t.s == "a" && i+2 < len(toks) && (toks[i+1].s == "las" || toks[i+1].s == "la") && hour(i+2) {
		return 3
	}
	if (t.s == "at" || t.s == "@") && hour(i+1) && (i+2 >= len(toks) || toks[i+2].is(sStop|sComma|sDate)) {
		for _, u := range toks[:i] {
			if u.is(sOff|sMoved&^sMeasure) && !u.is(sMeasure) || u.is(sHerd|sStock) {
				return 2
			}
		}
	}
	return 0
}

// joinSentences makes one of a name and the numbers on the lines below it, and
// of numbers that are parted by full stops.
func (p *parser) joinSentences(toks []token) []token {
	for i := 1; i < len(toks); i++ {
		prev := &toks[i-1]
		j := i
		for j < len(toks) && toks[j].is(sStop) && toks[j].s != "?" {
			j++
		}
		if j == i || !prev.is(sNum|sPlace) || !p.onlyNumbers(toks, j) || numbered(toks, j) {
			continue
		}
		becomes := marks[","]
		if !prev.is(sNum) {
			becomes = marks[":"]
		}
		for k := i; k < j; k++ {
			toks[k].lex = becomes
			if k > i {
				toks[k].lex = lex{set: sFill | sComma}
			}
		}
	}
	return toks
}

// numbered reports whether the number at j is that of a list: it begins a line
// and a full stop parts it from words on the same line.
func numbered(toks []token, j int) bool {
	return toks[j-1].s == "\n" && j+2 < len(toks) && toks[j+1].s == "." && toks[j+2].kind == word
}

// onlyNumbers reports whether the sentence at i holds numbers and nothing else.
func (p *parser) onlyNumbers(toks []token, i int) bool {
	found := false
	for ; i < len(toks) && !toks[i].is(sStop); i++ {
		if toks[i].is(sNum) && !toks[i].is(sPlace) {
			found = true
		} else if !toks[i].is(sComma | sAnd) {
			return false
		}
	}
	return found
}
