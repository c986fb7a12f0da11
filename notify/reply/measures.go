package reply

// height reads a number with its unit, feet and inches among them.
func (p *parser) height(toks []token, i int) (made token, n int) {
	if i >= len(toks) || toks[i].role != rNumber || toks[i].val < 0 {
		return made, 0
	}
	made = toks[i]
	made.set |= sNum
	n = 1
	if j := p.ish(toks, i+1); j > i+1 { // 9ish inches
		n = j - i
		if j < len(toks) && toks[j].role == rUnit {
			made, n = measured(toks[i:j+1], toks[j].val), n+1
		}
		return made, n
	}
	if i+1 >= len(toks) {
		return made, n
	}
	if toks[i+1].is(sDash) && toks[i+1].glued && i+2 < len(toks) && toks[i+2].glued && toks[i+2].role == rUnit { // 8-inch
		return measured([]token{toks[i], toks[i+2]}, toks[i+2].val), 3
	}
	switch next := toks[i+1]; {
	case next.role == rFoot || (next.s == "'" && next.glued):
		return p.feet(toks, i)
	case next.role == rUnit || (next.s == `"` && next.glued):
		return p.withPart(toks, i, i+1, toks[i].val)
	case next.role == rUnitIn && p.inIsUnit(toks, i+1) && !(made.val == 1 && i > 0 && p.reader.hinted(toks[i-1].s, hArticle)): // the one in hill
		return measured(toks[i:i+2], 1), 2
	}
	return made, n
}

// part reads what stands behind a unit: and a half, y cuarto, and two tenths.
func (p *parser) part(toks []token, k int) (add float64, n int) {
	if k+1 >= len(toks) || !toks[k].is(sAnd) {
		return 0, 0
	}
	j, times := k+1, 1.0
	switch {
	case toks[j].role == rArticle || p.reader.hinted(toks[j].s, hCountedOne):
		j++
	case toks[j].role == rNumber && toks[j].val < 1:
		return toks[j].val, j + 1 - k
	case toks[j].role == rNumber && toks[j].val <= 3:
		times = toks[j].val
		j++
	}
	if j < len(toks) && toks[j].role == rHalf && times*toks[j].val < 1 {
		return times * toks[j].val, j + 1 - k
	}
	return 0, 0
}

// withPart is a length with the part behind its unit, if it has one.
func (p *parser) withPart(toks []token, i, unit int, v float64) (token, int) {
	size := toks[unit].val
	if size == 0 {
		size = 1 // an inch by its mark
	}
	n := unit + 1 - i
	if v == float64(int(v)) {
		add, used := p.part(toks, unit+1)
		v, n = v+add, n+used
	}
	return measuredAs(toks[i:i+n], v, size), n
}

// ish skips the end of 9ish and 9-ish.
func (p *parser) ish(toks []token, j int) int {
	k := j
	if k < len(toks) && toks[k].s == "-" && toks[k].glued {
		k++
	}
	if k < len(toks) && p.reader.hinted(toks[k].s, hIsh) && toks[k].glued {
		return k + 1
	}
	return j
}

func measured(toks []token, unit float64) token {
	t := join(toks)
	t.lex = lex{set: sNum, role: rNumber, val: toks[0].val}
	t.unit, t.places = unit, nil
	return t
}

// inIsUnit tells '9 in' from '9 in the trailer'. Before a paddock's name both
// mean the same where the farm counts in inches.
func (p *parser) inIsUnit(toks []token, j int) bool {
	if j+1 >= len(toks) {
		return true
	}
	next := toks[j+1]
	if next.is(sLeft) { // 8 in left on hill, but not 3 in left field
		return j+2 >= len(toks) || toks[j+2].is(sStop|sComma|sAnd|where|sPlace)
	}
	return next.role == rNumber || next.is(sStop|sComma|sAnd|sDash|sSlash|sMeasure|sDate|sAt|sOn) || next.role == rOffset ||
		next.kind == digits || (next.is(sPlace) && p.reader.units == Inches)
}

// feet reads 1'3", 1 ft 3 in, 2 feet, one foot three.
func (p *parser) feet(toks []token, i int) (made token, n int) {
	v := toks[i].val
	j := i + 2
	mark := toks[i+1].s == "'"
	k := j
	if k < len(toks) && toks[k].is(sAnd|sComma) && k+2 < len(toks) && toks[k+1].role == rNumber && inchUnit(toks[k+2]) {
		k++
	}
	if add, used := p.part(toks, k); used > 0 { // a foot and a half
		return measuredAs(toks[i:k+used], v+add, 12), k + used - i
	}
	if k < len(toks) && toks[k].role == rNumber && toks[k].val < 12 {
		if k+1 < len(toks) && inchUnit(toks[k+1]) {
			return measuredAs(toks[i:k+2], 12*v+toks[k].val, 1), k + 2 - i
		}
		if k+1 >= len(toks) || toks[k+1].is(sStop|sComma) {
			return measuredAs(toks[i:k+1], 12*v+toks[k].val, 1), k + 1 - i
		}
	}
	if mark && v > 3 { // 9' is more likely a slip for 9"
		return odd(toks[i:j], gUnknown), j - i
	}
	return measuredAs(toks[i:j], v, 12), j - i
}

func inchUnit(t token) bool {
	return (t.role == rUnit && t.val == 1) || t.role == rUnitIn || t.s == `"`
}

func measuredAs(toks []token, v, unit float64) token {
	t := measured(toks, unit)
	t.val = v
	return t
}

// wordedLength reads a length whose number is a word for one or a half, or is
// left out: half an inch, medio pie, an inch and a half, and of rain an inch.
func (p *parser) wordedLength(toks []token, i int) (made token, n int) {
	j, v := i, 1.0
	switch {
	case toks[i].role == rHalf, toks[i].role == rArticle && i+1 < len(toks) && toks[i+1].role == rHalf:
		if toks[i].role == rArticle {
			j++ // a quarter of an inch
		}
		v = toks[j].val
		for j++; j < len(toks) && (toks[j].role == rArticle || p.reader.hinted(toks[j].s, hOfMonth)); {
			j++
		}
	case toks[i].role == rArticle:
		j++
	case i > 0 && (toks[i-1].role == rNumber || toks[i-1].role == rUnit):
		return made, 0
	}
	if j >= len(toks) || toks[j].role != rUnit && toks[j].role != rFoot {
		return made, 0
	}
	made, n = p.withPart(toks, i, j, v)
	if v == 1 && made.val == 1 && !rains(toks) || j == i && made.val == 1 && toks[j].role != rUnit {
		return made, 0 // an inch of what?
	}
	return made, n
}

// rains reports whether a text speaks of rain, so that 'an inch' is an amount.
func rains(toks []token) bool {
	for i := range toks {
		if toks[i].event == eRain {
			return true
		}
	}
	return false
}
