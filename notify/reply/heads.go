package reply

// heads reads 38 cows, 38 head of cattle. As many as a herd has are that herd;
// any other number is a part of one.
func (p *parser) heads(toks []token, i int) (token, int) {
	j := i + 1
	which := -1
	if toks[j].role == rHead {
		j++
		if k := j + 1; k < len(toks) && p.reader.hinted(toks[j].s, hOfMonth) && (toks[k].stock != noStock || toks[k].is(sHerd|sStock)) {
			j++
		}
	}
	var animal token
	if j < len(toks) && (toks[j].stock != noStock || toks[j].is(sHerd|sStock)) {
		animal = toks[j]
		j++
	} else if j < len(toks) && toks[j].guard == gPart && toks[j-1].role == rNumber {
		j++
	}
	which = p.reader.herdOf(int(toks[i].val), animal)
	t := join(toks[i:j])
	t.lex = lex{set: sBeast, guard: gPart, val: toks[i].val}
	t.herds = nil
	if which >= 0 && toks[i].val == float64(int(toks[i].val)) {
		t.lex = lex{set: sHerd}
		t.herds = []int{which}
	} else if p.reader.allHeads(int(toks[i].val)) && !animal.is(sHerd) {
		t.lex = lex{set: sStock | sAll}
	}
	return t, j - i
}
