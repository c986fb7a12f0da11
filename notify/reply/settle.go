package reply

// settleOrders takes a verb that may be an order or, its accent left out, past,
// for past where a word before it says so: ya saque las vacas.
func (p *parser) settleOrders(toks []token) {
	past, kindly := false, false
	for i := range toks {
		kindly = kindly || p.reader.hinted(toks[i].s, hKindly)
	}
	for i := range toks {
		t := &toks[i]
		if t.is(sStop) {
			past = false
		}
		if i == 0 && t.guard == gIf && p.reader.voc.said("in where out", t.f) && (len(toks) == 1 || toks[1].is(sComma|sStop)) {
			t.lex = lex{set: sAck} // si, ya
		}
		if kindly && t.is(verbs) && p.reader.mayBePlan(t.f) {
			t.guard = gOrder // put cows on hill please
		}
		past = past || t.role == rOffset || p.reader.hinted(t.s, hAlready)
		if past && t.guard == gOrder && t.is(verbs|sEvent|sMeasure) {
			t.guard = noGuard
		}
	}
}

// settleNumbers takes a name that is a number for the number where it stands as
// one: behind a name, another number, or a word for measuring.
func settleNumbers(toks []token) {
	for i := range toks {
		t := &toks[i]
		if t.val == 1 && t.kind == word && t.unit == 0 && t.is(sNum) && !t.is(sPlace) && !(i+1 < len(toks) && toks[i+1].is(sNum)) && i > 0 && !toks[i-1].is(sNum|sComma|sAnd|sColon) {
			t.set, t.role = sFill, noRole // the back one
		}
		if !t.is(sPlace) || !t.is(sNum) {
			continue
		}
		before := i - 1
		for before >= 0 && toks[before].is(sFill|sComma|sAnd|sColon|sDash) && !toks[before].is(sNum) {
			before--
		}
		named := i+1 < len(toks) && toks[i+1].is(sPlace) && !toks[i+1].is(sNum) // nine nine oaks
		if named || t.unit != 0 || before >= 0 && toks[before].is(sPlace|sNum|sMeasure|sWas|sBe|sAvg|sAbout) {
			t.set, t.places = t.set&^sPlace, nil
		}
	}
}
