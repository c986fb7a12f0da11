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
		return p.andAHalf(toks, i, measured(toks[i:i+2], max(next.val, boolInch(next))))
	case next.role == rUnitIn && p.inIsUnit(toks, i+1):
		return measured(toks[i:i+2], 1), 2
	}
	return made, n
}

// andAHalf reads the half that stands behind the unit: nine inches and a half.
func (p *parser) andAHalf(toks []token, i int, whole token) (token, int) {
	k := i + 2
	if k+1 < len(toks) && toks[k].is(sAnd) && whole.val == float64(int(whole.val)) {
		k++
		if toks[k].role == rArticle && k+1 < len(toks) {
			k++
		}
		if toks[k].role == rHalf {
			t := join(toks[i : k+1])
			t.lex, t.unit, t.places = lex{set: sNum, role: rNumber, val: whole.val + toks[k].val}, whole.unit, nil
			return t, k + 1 - i
		}
	}
	return whole, 2
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

func boolInch(t token) float64 {
	if t.s == `"` {
		return 1
	}
	return 0
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
	if k < len(toks) && toks[k].is(sAnd) { // a foot and a half
		if k+2 < len(toks) && p.reader.hinted(toks[k+1].s, hCountedOne) && toks[k+2].role == rHalf {
			return measuredAs(toks[i:k+3], v+toks[k+2].val, 12), k + 3 - i
		}
		if k+1 < len(toks) && toks[k+1].role == rHalf {
			return measuredAs(toks[i:k+2], v+toks[k+1].val, 12), k + 2 - i
		}
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

// wordedLength reads a length whose number is a word for one or a half: half an
// inch, medio pie, and of rain an inch.
func (p *parser) wordedLength(toks []token, i int) (made token, n int) {
	j, v := i, 0.0
	switch {
	case toks[i].role == rHalf:
		v = toks[i].val
		if j++; j < len(toks) && toks[j].role == rArticle {
			j++
		}
	case toks[i].role == rArticle && rains(toks):
		v, j = 1, i+1
	default:
		return made, 0
	}
	if j >= len(toks) || toks[j].role != rUnit && toks[j].role != rFoot {
		return made, 0
	}
	unit := toks[j].val
	if k := j + 2; k < len(toks) && toks[j+1].is(sAnd) && toks[k].role == rNumber && toks[k].val < 1 { // an inch and a tenth
		return measuredAs(toks[i:k+1], v+toks[k].val, unit), k + 1 - i
	} else if k < len(toks) && toks[j+1].is(sAnd) && (toks[k].role == rHalf || k+1 < len(toks) && toks[k].role == rArticle && toks[k+1].role == rHalf) {
		if toks[k].role != rHalf {
			k++
		}
		return measuredAs(toks[i:k+1], v+toks[k].val, unit), k + 1 - i
	}
	return measuredAs(toks[i:j+1], v, unit), j + 1 - i
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
