package reply

// quantities gives every number its sense: a height, or one of the many things
// that are none: a clock time, money, a count of heads, a temperature.
func (p *parser) quantities(toks []token) []token {
	out := make([]token, 0, len(toks))
	for i := 0; i < len(toks); {
		made, n := p.quantity(toks, i)
		if n == 0 {
			made, n = toks[i], 1
		}
		out = append(out, made)
		i += n
	}
	return out
}

// quantity reads a number or a date at i; n is 0 where there is none.
func (p *parser) quantity(toks []token, i int) (made token, n int) {
	if made, n = p.date(toks, i); n > 0 {
		return made, n
	}
	t := toks[i]
	switch {
	case t.s == "$" || t.s == "#":
		if i+1 < len(toks) && toks[i+1].role == rNumber {
			return odd(toks[i:i+2], gThing), 2
		}
		return t, 1
	case t.s == "-" && !t.glued && i+1 < len(toks) && toks[i+1].glued && toks[i+1].role == rNumber:
		made = odd(toks[i:i+2], gBad) // a number below zero
		return made, 2
	case t.role == rBetween:
		if lo, k := p.height(toks, i+1); k > 0 {
			if j := i + 1 + k; j < len(toks) && (toks[j].is(sAnd|sTo) || toks[j].role == rRangeTo) {
				if hi, m := p.height(toks, j+1); m > 0 {
					return span(toks[i:j+1+m], lo, hi), j + 1 + m - i
				}
			}
		}
		return t, 1
	case t.is(sClock) && i+1 < len(toks) && toks[i+1].role == rAmPm:
		made = join(toks[i : i+2])
		made.lex = t.lex
		return made, 2
	case t.role == rFoot && i+1 < len(toks) && toks[i+1].is(sAnd): // a foot and a half, without the a
		implied := append([]token{{lex: lex{role: rNumber, val: 1}, kind: word, s: "1", from: t.from, to: t.from}}, toks[i:min(i+4, len(toks))]...)
		if made, n = p.feet(implied, 0); n > 2 {
			return made, n - 1
		}
		return t, 1
	case t.role != rNumber:
		return t, 0
	case i > 0 && (toks[i-1].is(sAll) || toks[i-1].s == "las" || toks[i-1].s == "los"):
		if which := p.reader.herdOf(int(t.val), token{}); which >= 0 && t.typed { // all 38
			if i+1 < len(toks) && (toks[i+1].role == rHead || toks[i+1].is(sHerd|sStock)) {
				return p.heads(toks, i)
			}
			made = join(toks[i : i+1])
			made.lex, made.herds = lex{set: sHerd}, []int{which}
			return made, 1
		}
	}
	if made, n = p.other(toks, i); n > 0 {
		return made, n
	}
	made, n = p.height(toks, i)
	if j := i + n; j+1 < len(toks) && (toks[j].role == rRangeTo || toks[j].is(sDash) && !toks[j].glued) {
		if hi, m := p.height(toks, j+1); m > 0 && !p.listGoesOn(toks, j, m) {
			if _, k := p.other(toks, j+1); k == 0 {
				return span(toks[i:j+1+m], made, hi), n + 1 + m
			}
		}
	}
	return made, n
}

// listGoesOn reports whether numbers parted by spaced dashes are three or more.
func (p *parser) listGoesOn(toks []token, j, m int) bool {
	k := j + 1 + m
	return toks[j].is(sDash) && k+1 < len(toks) && toks[k].is(sDash) && toks[k+1].role == rNumber
}

// odd makes one token of a number that is no height.
func odd(toks []token, g guard) token {
	t := join(toks)
	t.lex = lex{guard: g, val: max(toks[0].val, toks[len(toks)-1].val)}
	t.places = nil
	return t
}

func span(toks []token, lo, hi token) token {
	t := join(toks)
	t.lex = lex{set: sRange, val: lo.val}
	t.hi = hi.val
	t.unit = max(lo.unit, hi.unit)
	return t
}

// other reads a number that is no height by what stands behind it.
func (p *parser) other(toks []token, i int) (made token, n int) {
	if i+1 >= len(toks) {
		return made, 0
	}
	next := toks[i+1]
	two := toks[i : i+2]
	switch {
	case next.s == "°" || next.role == rDegree || (next.glued && (next.s == "f" || next.s == "c")):
		return p.temperature(toks, i)
	case next.s == "f" && toks[i].val >= 10 && (i+2 >= len(toks) || toks[i+2].is(sStop|sComma)):
		return p.temperature(toks, i)
	case next.s == "%" || next.role == rQuantity || (next.guard == gRain && !next.is(sPlace)):
		return odd(two, quantityGuard(next)), 2
	case next.role == rAmPm:
		made = join(two)
		made.lex = lex{set: sClock}
		return made, 2
	case next.role == rSpan:
		return p.duration(toks, i)
	case next.role == rPlant:
		made = join(two)
		made.lex = lex{set: sPlants, val: toks[i].val}
		return made, 2
	case next.role == rHead || next.stock != noStock || next.is(sHerd|sStock) || next.guard == gPart:
		return p.heads(toks, i)
	}
	return made, 0
}

func quantityGuard(t token) guard {
	if t.guard == gRain {
		return gRain
	}
	return gThing
}

func (p *parser) temperature(toks []token, i int) (token, int) {
	j := i + 2
	for j < len(toks) && (toks[j].role == rDegree || toks[j].s == "f" || toks[j].s == "c") {
		j++
	}
	t := join(toks[i:j])
	t.lex = lex{set: sTemp, val: toks[i].val}
	for _, u := range toks[i:j] {
		if u.s == "c" || u.s == "celsius" || u.s == "centigrados" || u.s == "bajo cero" {
			t.val = t.val*9/5 + 32
		}
	}
	return t, j - i
}

// duration reads 2d, 4 hours; with 'ago' behind it or 'hace' before, it is a
// day and date has taken it.
func (p *parser) duration(toks []token, i int) (token, int) {
	t := join(toks[i : i+2])
	t.lex = lex{set: sDur, val: toks[i].val * toks[i+1].val}
	return t, 2
}

// heads reads 38 cows, 38 head of cattle. As many as a herd has are that herd;
// any other number is a part of one.
func (p *parser) heads(toks []token, i int) (token, int) {
	j := i + 1
	which := -1
	if toks[j].role == rHead {
		j++
		if k := j + 1; k < len(toks) && (toks[j].s == "of" || toks[j].s == "de") && (toks[k].stock != noStock || toks[k].is(sHerd|sStock)) {
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
	t.lex = lex{guard: gPart, val: toks[i].val}
	t.herds = nil
	if which >= 0 && toks[i].val == float64(int(toks[i].val)) {
		t.lex = lex{set: sHerd}
		t.herds = []int{which}
	} else if p.reader.allHeads(int(toks[i].val)) && !animal.is(sHerd) {
		t.lex = lex{set: sStock | sAll}
	}
	return t, j - i
}

// height reads a number with its unit, feet and inches among them.
func (p *parser) height(toks []token, i int) (made token, n int) {
	if i >= len(toks) || toks[i].role != rNumber || toks[i].val < 0 {
		return made, 0
	}
	made = toks[i]
	made.set |= sNum
	n = 1
	if j := ish(toks, i+1); j > i+1 { // 9ish inches
		n = j - i
		if j < len(toks) && toks[j].role == rUnit {
			made, n = measured(toks[i:j+1], toks[j].val), n+1
		}
		return made, n
	}
	if i+1 >= len(toks) {
		return made, n
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
func ish(toks []token, j int) int {
	k := j
	if k < len(toks) && toks[k].s == "-" && toks[k].glued {
		k++
	}
	if k < len(toks) && toks[k].s == "ish" && toks[k].glued {
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
	if k < len(toks) && toks[k].is(sAnd) && k+2 < len(toks) && toks[k+1].role == rNumber && inchUnit(toks[k+2]) {
		k++
	}
	if k < len(toks) && toks[k].is(sAnd) { // a foot and a half
		if k+2 < len(toks) && toks[k+1].s == "a" && toks[k+2].role == rHalf {
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
