package reply

import "strings"

// settleOrders takes a verb that may be an order or, its accent left out, past,
// for past where a word before it says so, or a verb that can be nothing else: ya saque
// las vacas; saque las vacas y las puse en creek.
func (p *parser) settleOrders(toks []token) {
	past, over, kindly, placed := false, false, false, false
	for i := range toks {
		kindly = kindly || p.reader.hinted(toks[i].s, hKindly)
		placed = placed || p.reader.hinted(toks[i].s, hPlacedPast)
	}
	for i := range toks {
		t := &toks[i]
		if t.is(sStop) {
			past, over = false, false
		}
		if (i == 0 || toks[i-1].is(sPlace)) && t.guard == gIf && p.reader.voc.said("in where out", t.f) && (i+1 == len(toks) || toks[i+1].is(sComma|sStop)) {
			t.lex = lex{set: sAck} // si, ya; pero el creek si, 9
		}
		if i == 0 && t.is(sNamed) && tokenAt(toks, 1).is(sComma) && !strings.Contains(p.text, "?") {
			t.lex = lex{set: sFill} // que tal, creek 9
		}
		if kindly && t.is(verbs) && p.reader.mayBePlan(t.f) {
			t.guard = gOrder // put cows on hill please
		}
		if i == 2 && toks[1].is(sComma) && somebody(&toks[0]) && (t.is(sVerb) || t.is(verbs) && p.reader.mayBePlan(t.f)) {
			t.guard = gOrder // Hob, shut the cows out of lower
		}
		past = past || t.role == rOffset || p.reader.hinted(t.s, hAlready) || t.role == rWeekday && i > 0 && p.reader.hinted(toks[i-1].s, hBeforeDay)
		over = over || p.reader.hinted(t.s, hAlready) && (t.role != rOffset || t.val < 0)
		clitic := i > 0 && !p.overYesterday(toks[i:]) && p.reader.hinted(toks[i-1].s, hClitic) // ya las saco: I am about to
		if t.guard == gPlan && t.is(verbs) && (over || p.overYesterday(toks[i:])) && !kindly && !clitic {
			t.guard = noGuard // ya saco: he took out; hoy saco: I will
		}
		if t.guard == gOrder && t.is(verbs) && i > 0 && p.reader.hinted(toks[i-1].s, hClitic) && !kindly && !(i > 1 && (toks[i-2].guard != noGuard || toks[i-2].role != noRole)) {
			t.guard = noGuard // los eche en long: an order has its pronoun behind it
		}
		if t.guard == gOrder && t.is(verbs|sEvent|sMeasure) && (past || placed || p.overYesterday(toks[i:])) && !kindly {
			t.guard = noGuard
		}
	}
}

// settleNumbers takes a name that is a number for the number where it stands as
// one: behind a name, another number, or a word for measuring.
func settleNumbers(toks []token, hinted func(string) bool) {
	for i := range toks {
		t := &toks[i]
		if t.is(sMeasure) && t.is(sGone) && i+1 < len(toks) && toks[i+1].is(sNum) && !toks[i+1].is(sPlace) && !(i+2 < len(toks) && toks[i+2].is(sTo)) {
			t.set &^= sGone // salio de 8
		}
		if t.val == 1 && t.kind == word && t.unit == 0 && t.is(sNum) && !t.is(sPlace) && !(i+1 < len(toks) && toks[i+1].is(sNum)) && i > 0 && !toks[i-1].is(sNum|sComma|sAnd|sColon) {
			t.set, t.role = sFill, noRole // the back one
		}
		if t.val == 1 && t.kind == word && t.is(sNum) && i > 0 && toks[i-1].is(sAnd) && i+1 < len(toks) && toks[i+1].is(sNum) && toks[i+1].typed {
			t.lex = lex{set: sFill} // 13, 15 and one 12
		}
		if t.val == 1 && t.kind == word && t.is(sNum) && i > 0 && i+2 < len(toks) && toks[i+2].is(sNum) && toks[i+1].kind == word && toks[i+1].set == 0 && toks[i+1].guard == noGuard && toks[i-1].is(sComma|sAnd) {
			t.lex, toks[i+1].lex = lex{set: sFill}, lex{set: sFill} // 9 and one lonely 12
		}
		if !t.is(sPlace) || !t.is(sNum) {
			continue
		}
		before := i - 1
		for before >= 0 && toks[before].is(sFill|sComma|sAnd|sColon|sDash) && !toks[before].is(sNum) {
			before--
		}
		named := i+1 < len(toks) && toks[i+1].is(sPlace) && !toks[i+1].is(sNum) // nine nine oaks
		behind := i + 1
		for behind < len(toks) && toks[behind].is(sBe|sColon|sDash) {
			behind++
		}
		article := i > 0 && hinted(lastWord(toks[i-1].s))
		if t.val >= leastNumber && (article || behind < len(toks) && toks[behind].is(sNum) && !toks[behind].is(sPlace)) {
			t.set &^= sNum // short 6, sixty 10
			continue
		}
		if named || t.unit != 0 || before >= 0 && toks[before].is(sPlace|sNum|sMeasure|sWas|sBe|sAvg|sAbout) {
			t.set, t.places = t.set&^sPlace, nil
		}
	}
}

// overYesterday reports whether a sentence goes on with a day that is over.
func (p *parser) overYesterday(toks []token) bool {
	for i := range toks {
		if toks[i].is(sStop) {
			return false
		}
		if toks[i].role == rOffset && toks[i].val < 0 {
			return true
		}
	}
	return false
}

// noMore makes an 'off' of a negation before where something stands, in a sentence
// that says it is so no more: them sheep aint in church no more.
func (p *parser) noMore(toks []token) []token {
	out := toks[:0]
	for i := 0; i < len(toks); i++ {
		t := toks[i]
		if at := p.nobodyIn(toks, i); at > i {
			out = append(out, herdsAmong(toks[i:at])...)
			t = join(toks[i : at+1])
			t.lex = lex{set: sOff}
			for i = at; at < len(toks) && !toks[at].is(sStop|sComma); at++ {
				if p.reader.hinted(toks[at].s, hAnyMore) {
					toks[at].lex = lex{set: sFill}
				}
			}
		}
		if end := p.hasNobody(toks, i); end > i {
			out = append(out, herdsAmong(toks[i:end])...)
			t = join(toks[i:end])
			t.lex = lex{set: sEmpty}
			i = end - 1
		}
		if t.guard == gNegation && i+1 < len(toks) && toks[i+1].is(sIn|sOn) && !toks[i+1].is(sPlace) {
			for k := i + 2; k < len(toks) && !toks[k].is(sStop|sComma); k++ {
				if p.reader.hinted(toks[k].s, hAnyMore) || k+1 < len(toks) && p.reader.hinted(toks[k].s+" "+toks[k+1].s, hAnyMore) {
					t = join(toks[i : i+2])
					t.lex = lex{set: sOff}
					toks[k].lex = lex{set: sFill}
					i++
					break
				}
			}
		}
		out = append(out, t)
	}
	return out
}

// nobodyIn finds the word for in, of a negation at token i that leaves no animals
// there: nobody left in south draw, no cows on mill, ya no hay nada en long. It is i
// where there is none.
func (p *parser) nobodyIn(toks []token, i int) int {
	if toks[i].guard != gNegation || toks[i].is(sStay) {
		return i
	}
	nobody, here := p.reader.hinted(lastWord(toks[i].f), hNobody), false
	animals := false
	for k := i + 1; k+1 < len(toks); k++ {
		t := &toks[k]
		switch {
		case t.is(sPlace):
			return i
		case t.is(sIn|sOn) && (nobody && (here || t.is(sStay)) || animals) && toks[k+1].is(sPlace|sField|sFill):
			if p.saidOfIn(toks[k+1:]) {
				return k
			}
			return i
		case p.reader.hinted(t.s, hPronoun), t.is(sBe) && t.is(sStock):
			return i // no, they're on hill
		case p.reader.hinted(t.f, hNobody):
			nobody = true
		case t.stock != noStock, t.is(sHerd | sStock):
			animals = true
		case t.is(sBe|sWeak|sLeft) && t.guard == noGuard:
			here = true
		case !t.is(sBe|sWeak|sLeft|sFill|sAll) || t.guard != noGuard:
			return i
		}
	}
	return i
}

// hasNobody finds the end of a negation at token i that says of the name before it that
// no animals are there, and nothing besides: hill has none left, long quedo sin vacas. It
// is i where there is none.
func (p *parser) hasNobody(toks []token, i int) int {
	if toks[i].guard != gNegation || toks[i].is(sStay) {
		return i
	}
	at := i - 1
	for at >= 0 && toks[at].is(sBe|sWeak|sFill|sMeasure) && toks[at].guard == noGuard && !toks[at].is(sPlace) {
		at--
	}
	end, animals := i+1, p.reader.hinted(lastWord(toks[i].f), hNobody)
	for end < len(toks) && !toks[end].is(sStop|sComma) && (toks[end].stock != noStock || toks[end].is(sHerd|sStock|sLeft|sFill|sDate)) && toks[end].guard == noGuard {
		animals = animals || toks[end].stock != noStock || toks[end].is(sHerd|sStock)
		end++
	}
	if at < 0 || at == i-1 && !p.reader.hinted(toks[i].f, hWithout) || !toks[at].is(sPlace) || !animals || end < len(toks) && !toks[end].is(sStop|sComma) {
		return i
	}
	return end
}

// saidOfIn reports whether what stands behind an 'in' is a paddock, and besides it only a
// day and small words: nothing that changes what is said.
func (p *parser) saidOfIn(toks []token) bool {
	place := false
	for k := range toks {
		t := &toks[k]
		if t.is(sStop | sComma) {
			break
		}
		day := t.role != noRole && t.role != rNumber || t.is(sDate|sSoft|sClock)
		if !day && !t.is(sPlace|sField|sFill|sAnd|sChat|sAck) && !p.reader.hinted(t.s, hAnyMore) || t.is(sStay|sCold) && !t.is(sPlace|sFill|sChat) || t.guard != noGuard && !p.reader.hinted(t.s, hSince) && !t.is(sPlace) {
			return false // nobody in creek checks the water; no cows in creek are sick
		}
		place = place || t.is(sPlace)
	}
	return place
}

// herdsAmong are the herds that some tokens name.
func herdsAmong(toks []token) []token {
	var list []token
	for _, t := range toks {
		if t.is(sHerd) || t.stock != noStock {
			list = append(list, t)
		}
	}
	return list
}

// signed takes the writer's own name for what it is at the end of a sentence,
// or before 'here' and a colon: a signature.
func (p *parser) signed(toks []token) {
	name := fold(firstWord(p.who.Name))
	for i := range toks {
		t := &toks[i]
		if to := p.whoDid(toks, i); to > i {
			for k := i; k < to; k++ {
				toks[k].lex, toks[k].known = lex{set: sFill}, true // Luis and his friend pulled the cows
			}
			continue
		}
		if t.is(sChat) && i > 0 && p.reader.hinted(toks[i-1].f, hCompany) && toks[i-1].set == 0 {
			toks[i-1].lex, toks[i-1].known = lex{set: sFill}, true // with dad
		}
		if plain := t.kind == word && t.set == 0 && t.guard == noGuard && t.role == noRole; somebody(t) && p.introduced(toks, i) || plain && p.besideMe(toks, i) {
			t.lex, t.known = lex{set: sFill}, true
			if i > 0 && p.reader.hinted(toks[i-1].f, hCompany) {
				toks[i-1].lex, toks[i-1].known = lex{set: sFill}, true
			}
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
			p.cameAgain(toks, i)
		}
		if last || here {
			t.lex = lex{set: sFill}
			t.known = true
		}
	}
}

// introduced reports whether a name at token i is of somebody who writes, or who helped:
// this is Ruth; Ruth here; Ruth: creek is 9; me and Wade.
func (p *parser) introduced(toks []token, i int) bool {
	at := func(k int) *token { return tokenAt(toks, k) }
	next := at(i + 1)
	switch {
	case i > 0 && i < 3 && p.reader.hinted(at(i-1).s, hNameComes) && (i == 1 || toks[0].is(sFill)):
		p.cameAgain(toks, i)
		return !next.is(sNum)
	case i > 0:
		return false
	case next.is(sColon):
		return !at(2).is(sNum)
	case p.reader.hinted(next.s, hNameCame):
		next.lex = lex{set: sFill}
		return true
	}
	return false
}

// cameAgain takes an 'again' behind the name of who writes for a small word: this is Ruth again
// the cows are off creek.
func (p *parser) cameAgain(toks []token, name int) {
	if next := tokenAt(toks, name+1); p.reader.hinted(next.s, hNameCame) {
		next.lex = lex{set: sFill}
	}
}

// whoDid gives the end of the people named at token i, where a sentence begins and goes on
// with what they did.
func (p *parser) whoDid(toks []token, i int) int {
	if i > 0 && !toks[i-1].is(sStop) {
		return i
	}
	to, named := i, false
	for ; to < min(len(toks), i+6) && !p.reader.hinted(toks[to].s, hIsPast); to++ {
		t := &toks[to]
		whose := p.reader.hinted(t.s, hWhose) && (t.guard == noGuard || tokenAt(toks, to-1).is(sAnd))
		person := somebody(t) || t.kind == word && (t.set == 0 || t.set == sChat) && t.guard == noGuard && t.role == noRole && to > i && (toks[to-1].is(sAnd) || p.reader.hinted(toks[to-1].s, hWhose))
		if named = named || person; t.poss || !person && !whose && !t.is(sAnd) && !(to > i && p.reader.hinted(t.f, hArticle)) {
			return i
		}
	}
	if !named || to >= min(len(toks), i+6) {
		return i
	}
	return to
}

// besideMe reports whether a word at token i stands beside one for the writer or a helper:
// me and Wade, he and Wade.
func (p *parser) besideMe(toks []token, i int) bool {
	me := func(k int) bool { return p.reader.hinted(tokenAt(toks, k).f, hWriter) }
	return p.reader.hinted(tokenAt(toks, i-1).f, hCompany) && somebody(&toks[i]) || tokenAt(toks, i-1).is(sAnd) && me(i-2) || tokenAt(toks, i+1).is(sAnd) && me(i+2)
}

// inPassing takes words for small ones where what stands beside them says so: he still
// helped; on the back side; your creek; dice Beto que.
func (p *parser) inPassing(toks []token) {
	for i := range toks[:max(0, len(toks)-1)] {
		t, next := &toks[i], &toks[i+1]
		strange := next.kind == word && next.set == 0
		switch plain := strange && next.guard == noGuard && next.role == noRole && next.stock == noStock; {
		case t.is(sStay) && (t.is(sMeasure) && plain && len(next.f) > 3 || i == 1 && p.reader.hinted(t.s, hNameCame) && next.is(sComma|sStop)),
			t.is(sFrost) && next.is(sPlant) && p.eaten(toks[:i]),                                                   // eating the frosted johnsongrass
			t.kind == word && t.is(sComma) && !p.reader.hinted(t.s, hBut) && i > 0 && toks[i-1].guard == gNegation, // not so sure; but: could not, but
			p.reader.hinted(t.s, hYours) && next.is(sPlace),
			p.reader.hinted(t.s, hJoins) && (p.reader.hinted(next.f, hArticle) || p.reader.hinted(next.s, hAlready)) && !strings.Contains(p.text, "?"): // que el creek esta a 9
			t.lex = lex{set: sFill}
		case t.guard == gNegation && next.guard == gNegation && p.reader.hinted(t.f, hNotThat) && (i == 0 || toks[i-1].is(sStop|sComma|sFill|sChat)):
			t.lex = lex{set: sAck} // nope no frost
		case t.is(sDead) && t.is(sBeast) && (p.reader.hinted(next.s, hNoIllness) || i+2 < len(toks) && p.reader.hinted(toks[i+2].f, hPrice)):
			t.lex = lex{guard: gPart} // a cow went down to the pond; bloat blocks
		case t.is(sStay) && i > 0 && p.reader.hinted(lastWord(toks[i-1].s), hArticle) && strange:
			t.set &^= sStay
		case p.reader.hinted(t.s, hHearsay):
			p.passesOn(toks[i+1 : min(i+5, len(toks))])
		}
	}
}

// eaten reports whether a verb of eating stands before what follows, with an article or none.
func (p *parser) eaten(toks []token) bool {
	n := len(toks)
	if n > 0 && p.reader.hinted(toks[n-1].f, hArticle) {
		n--
	}
	return n > 0 && p.reader.hinted(toks[n-1].f, hEats)
}

// passesOn takes the 'que' behind who says it for no question.
func (p *parser) passesOn(toks []token) {
	for k := range toks {
		t := &toks[k]
		switch {
		case p.reader.hinted(t.s, hJoins):
			t.lex = lex{set: sFill}
			return
		case !somebody(t) && !t.is(sFill|sChat|sAnd):
			return
		}
	}
}

// somebody reports whether a word may be a person's name: it is no other word.
func somebody(t *token) bool {
	return t.kind == word && !t.known && t.set == 0 && t.guard == noGuard && t.role == noRole && len(t.f) > 1
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

// longGuard is how many letters a slip of a guard has at least: segui is no segun.
const longGuard = 7

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
			if (p.lex.guard != noGuard || p.lex.set&(sDead|sDown|sPlant) != 0) && len(w) < longGuard {
				continue // too short to be sure of a word that forbids
			}
			x, ok = p.lex, true
		}
	}
	return x, ok
}
