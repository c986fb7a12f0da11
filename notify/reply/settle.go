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
		past = past || t.role == rOffset || p.reader.hinted(t.s, hAlready) || t.role == rWeekday && i > 0 && p.reader.hinted(toks[i-1].s, hBeforeDay)
		if t.guard == gOrder && t.is(verbs|sEvent|sMeasure) && (past || p.overYesterday(toks[i:])) {
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
