package reply

import (
	"slices"
	"strings"
)

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
	if made, n = p.wordedLength(toks, i); n > 0 {
		return made, n
	}
	switch {
	case t.role == rMonth && t.guard == noGuard && t.set == 0:
		return odd(toks[i:i+1], gDay), 1 // in september
	case t.s == "$" || t.s == "#":
		if i+1 < len(toks) && toks[i+1].role == rNumber {
			return odd(toks[i:i+2], gThing), 2
		}
		return t, 1
	case t.s == "'" && i+1 < len(toks) && toks[i+1].glued && toks[i+1].typed && len(toks[i+1].s) == 2:
		return year(toks[i : i+2]), 2
	case t.s == "-" && !t.glued && i+1 < len(toks) && toks[i+1].glued && toks[i+1].role == rNumber:
		if made, n = p.other(toks, i+1); n > 0 && made.is(sTemp) { // -2 C
			toks[i+1].val = -toks[i+1].val
			made, n = p.temperature(toks, i+1)
			return made, n + 1
		}
		return odd(toks[i:i+2], gBad), 2 // a number below zero
	case p.reader.hinted(t.s, hCountOf) && i+2 < len(toks) && toks[i+1].s == "=" && toks[i+2].role == rNumber: // n=5
		made = join(toks[i : i+3])
		made.lex = lex{set: sPlants, val: toks[i+2].val}
		return made, 3
	case t.role == rBetween:
		if lo, k := p.height(toks, i+1); k > 0 {
			if j := i + 1 + k; j < len(toks) && (toks[j].is(sAnd|sTo) || toks[j].role == rRangeTo) {
				if hi, m := p.height(toks, j+1); m > 0 {
					return rangeOf(toks[i:j+1+m], lo, hi), j + 1 + m - i
				}
			}
		}
		return t, 1
	case t.is(sClock) && i+1 < len(toks) && toks[i+1].role == rAmPm:
		made = join(toks[i : i+2])
		made.lex = t.lex
		return made, 2
	case t.role != rNumber:
		return t, 0
	case len(t.s) == 2 && t.typed && t.s[0] == '0' && i > 0 && (toks[i-1].role == rUnitIn || toks[i-1].is(sIn)) && !t.is(sPlace):
		return year(toks[i : i+1]), 1 // 20 inches there in 09
	case len(t.s) == 2 && t.typed && i > 0 && (toks[i-1].role == rUnitIn || toks[i-1].is(sIn)) && int(t.val) > p.day.Year%100+1 && (i+1 == len(toks) || toks[i+1].is(sStop|sComma)) &&
		slices.ContainsFunc(toks[:i], func(u token) bool { return u.is(sFrost | sDead) }):
		return year(toks[i : i+1]), 1 // froze over in 89
	case i > 0 && (toks[i-1].is(sAll) || p.reader.hinted(toks[i-1].s, hBeforeHeads)):
		if which := p.reader.herdOf(int(t.val), token{}); which >= 0 && (t.typed || t.val > 12) { // all 38
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
	if made, n = p.fourDigits(toks, i); n > 0 {
		return made, n
	}
	if i+2 < len(toks) && toks[i+1].role == rArticle && toks[i+2].role == rQuantity {
		return odd(toks[i:i+3], gThing), 3 // 5.40 a bushel
	}
	made, n = p.height(toks, i)
	inList := i > 1 && toks[i-1].is(sDash) && toks[i-2].role == rNumber // 9 - 10 - 11
	if j := i + n; !inList && j+1 < len(toks) && (toks[j].role == rRangeTo || toks[j].is(sDash) && !toks[j].glued) {
		if hi, m := p.height(toks, j+1); m > 0 && !p.listGoesOn(toks, j, m) {
			if _, k := p.other(toks, j+1); k == 0 {
				return rangeOf(toks[i:j+1+m], made, hi), n + 1 + m
			}
		}
	}
	return made, n
}

// fourDigits reads a year or an hour of the day in four digits, and a year in two
// behind an apostrophe: 2019, 0900, '88. Neither is a height.
func (p *parser) fourDigits(toks []token, i int) (made token, n int) {
	t := &toks[i]
	if !t.typed || len(t.s) != 4 || strings.ContainsAny(t.s, ".,/") || i+1 < len(toks) && unitWord(toks[i+1]) && toks[i+1].role != rUnitIn {
		return made, 0
	}
	made = year(toks[i : i+1])
	before := i > 0 && (p.reader.hinted(toks[i-1].s, hBeforeHour) || toks[i-1].is(sAt))
	switch x := int(t.val); {
	case x == p.day.Year:
		made.lex = lex{set: sFill}
	case t.s[0] == '0' || before && x < 2400 && x%100 < 60:
		made.lex = lex{set: sClock}
	case x < 1900 || x > p.day.Year+1:
		return made, 0
	}
	return made, 1
}

// year makes one token of a year: what stands beside it tells of another time.
func year(toks []token) token {
	t := join(toks)
	t.lex, t.typed, t.places = lex{guard: gBefore}, false, nil
	return t
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

func rangeOf(toks []token, lo, hi token) token {
	t := join(toks)
	t.lex = lex{set: sRange, val: lo.val}
	t.hi = hi.val
	t.unit = max(lo.unit, hi.unit)
	return t
}

// other reads a number that is no height by what stands behind it.
func (p *parser) other(toks []token, i int) (made token, n int) {
	if i+1 >= len(toks) {
		if made = toks[i]; p.stayed(toks, i) {
			made.lex = lex{set: sBeast, guard: gPart, val: made.val}
			return made, 1
		}
		return made, 0
	}
	next := toks[i+1]
	two := toks[i : i+2]
	switch {
	case p.stayed(toks, i):
		made = toks[i]
		made.lex = lex{set: sBeast, guard: gPart, val: toks[i].val}
		return made, 1
	case next.s == "°" || next.role == rDegree || next.glued && p.degree(next):
		return p.temperature(toks, i)
	case (p.reader.hinted(next.s, hFahrenheit) && toks[i].val >= 10 || p.reader.hinted(next.s, hCelsius)) && (i+2 >= len(toks) || toks[i+2].is(sStop|sComma) || toks[i+2].role == rOffset):
		return p.temperature(toks, i)
	case next.s == "%" && toks[i].val == 100:
		made = join(two)
		made.lex = lex{set: sAll}
		return made, 2
	case next.s == "%" || next.role == rQuantity && !(next.is(sPlace) && i+2 < len(toks) && toks[i+2].role == rNumber) || next.guard == gRain && !next.is(sPlace|sEvent):
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

// stayed reports whether a number counts the animals that are still in, or in again:
// 3 still in there, 2 got back in, quedan 2.
func (p *parser) stayed(toks []token, i int) bool {
	named := func(j int) bool { return j >= 0 && toks[j].is(sPlace) }
	in := func(j int) bool { return j < len(toks) && (toks[j].is(sIn|sOn) || toks[j].role == rUnitIn) }
	j := i + 1
	for j < len(toks) && toks[j].is(sBe) && !toks[j].is(sStay) {
		j++
	}
	switch {
	case j < len(toks) && toks[j].is(sStay) && !named(i-1) && !(i > 0 && toks[i-1].is(sWas|sBe) && named(i-2)): // not: hill was 9 back in august
		return toks[j].is(sIn|sOn) || in(j+1)
	case i > 0 && toks[i-1].is(sStay) && !named(i-2) && toks[i].val < leastLeft:
		return j == len(toks) || toks[j].is(sStop) || in(j) && named(j+1)
	}
	return false
}

func quantityGuard(t token) guard {
	if t.guard == gRain {
		return gRain
	}
	return gThing
}

// degree reports whether a letter stands for degrees: 31 f, 31f.
func (p *parser) degree(t token) bool {
	return len(t.s) == 1 && (p.reader.hinted(t.s, hCelsius) || p.reader.hinted(t.s, hFahrenheit))
}

func (p *parser) temperature(toks []token, i int) (token, int) {
	j := i + 2
	for j < len(toks) && (toks[j].role == rDegree || p.degree(toks[j])) {
		j++
	}
	t := join(toks[i:j])
	val, celsius := toks[i].val, p.reader.units == Centimetres
	for _, u := range toks[i+1 : j] {
		if p.reader.hinted(u.s, hBelowZero) {
			val = -val
		}
		celsius = (celsius || p.reader.hinted(u.s, hCelsius)) && !p.reader.hinted(u.s, hFahrenheit)
	}
	if celsius {
		val = val*9/5 + 32
	}
	t.lex = lex{set: sTemp, val: val}
	return t, j - i
}

// duration reads 2d, 4 hours; with 'ago' behind it or 'hace' before, it is a
// day and date has taken it.
func (p *parser) duration(toks []token, i int) (token, int) {
	t := join(toks[i : i+2])
	t.lex = lex{set: sDur, val: toks[i].val * toks[i+1].val}
	return t, 2
}
