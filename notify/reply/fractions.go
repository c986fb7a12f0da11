package reply

// halves joins what belongs to a number behind it: 8 1/2, eight point five,
// nine and a half, siete y medio.
func (p *parser) halves(toks []token) []token {
	out := toks[:0]
	for i := 0; i < len(toks); {
		t := toks[i]
		if made, n := tenths(toks, i); n > 0 {
			out = append(out, made)
			i += n
			continue
		}
		if t.role != rNumber || t.frac {
			if t.role == rPoint && i+1 < len(toks) && (i == 0 || toks[i-1].role != rNumber) {
				if add, used := dictated(toks, i); used > 0 { // point eight
					t = join(toks[i : i+used])
					t.lex, t.kind, t.places = lex{role: rNumber, val: add}, word, nil
					out = append(out, t)
					i += used
					continue
				}
			}
			if t.s == "." && i+1 < len(toks) && toks[i+1].glued && toks[i+1].typed && toks[i+1].val < 1 && toks[i+1].role == rNumber {
				i++ // the point of .5 is in the number
				continue
			}
			if t.role == rAte && ateIsEight(toks, out, i) {
				t.lex = lex{role: rNumber, val: 8}
			}
			out = append(out, t)
			i++
			continue
		}
		n := i + 1
		if add, used := p.behind(toks, n, t); used > 0 {
			whole := t
			t = join(toks[i : n+used])
			t.lex = lex{role: rNumber, val: whole.val + add}
			t.kind, t.typed, t.places = whole.kind, whole.typed, nil
			n += used
		}
		out = append(out, t)
		i = n
	}
	return out
}

// tenths reads seven tenths, a tenth, 65 hundredths, and skips the 'of an'
// before the unit.
func tenths(toks []token, i int) (made token, n int) {
	j := i + 1
	if tokenAt(toks, j).is(sDash) && toks[j].glued {
		j++ // three-quarter
	}
	parts := j < len(toks) && (toks[j].role == rTenth || toks[j].role == rHalf && toks[i].role == rNumber && toks[i].val*toks[j].val < 1)
	if !parts || toks[i].role != rNumber && toks[i].role != rArticle {
		return made, 0
	}
	times := 1.0
	if toks[i].role == rNumber {
		times = toks[i].val
	}
	made = join(toks[i : j+1])
	made.lex, made.kind, made.places = lex{role: rNumber, val: times * toks[j].val}, word, nil
	if k := j + 3; k < len(toks) && toks[k].role == rUnit && toks[k-1].role == rArticle {
		return made, k - i
	}
	return made, j + 1 - i
}

// ateIsEight tells eight, misheard, from eating: between numbers, or before a
// unit.
func ateIsEight(toks, before []token, i int) bool {
	if i+1 < len(toks) && toks[i+1].role == rUnit {
		return true
	}
	return len(before) > 0 && before[len(before)-1].role == rNumber && endsRun(toks, i+1)
}

// endsRun reports whether a list of numbers goes on or ends at token i.
func endsRun(toks []token, i int) bool {
	return i >= len(toks) || toks[i].role == rNumber || toks[i].role == rAte || toks[i].role == rUnit ||
		toks[i].is(sStop|sComma|sAnd)
}

// behind reads the part behind a whole number at n, and how many tokens it
// takes.
func (p *parser) behind(toks []token, n int, whole token) (add float64, used int) {
	if n >= len(toks) || whole.val != float64(int(whole.val)) {
		return 0, 0
	}
	if made, k := tenths(toks, n+1); k > 0 && toks[n].is(sAnd) && made.val < 1 { // one and three tenths
		return made.val, k + 1
	}
	if toks[n].frac { // 8 1/2
		return toks[n].val, 1
	}
	if toks[n].role == rPoint || (p.tongue.decimalComma && p.reader.hinted(toks[n].s, hDecimalComma) && whole.kind == word) {
		return dictated(toks, n)
	}
	if !toks[n].is(sAnd) {
		return 0, 0
	}
	k := n + 1
	if k < len(toks) && toks[k].frac { // 8 and 1/2
		return toks[k].val, k + 1 - n
	}
	times := 1.0
	if k < len(toks) && toks[k].role == rArticle || k < len(toks) && p.reader.hinted(toks[k].s, hCountedOne) {
		k++
	} else if k+1 < len(toks) && toks[k].role == rNumber && (toks[k].val == 1 || toks[k].val == 3) && toks[k+1].role == rHalf &&
		toks[k].val*toks[k+1].val < 1 {
		times = toks[k].val
		k++
	}
	if k < len(toks) && toks[k].role == rHalf {
		return times * toks[k].val, k + 1 - n
	}
	return 0, 0
}

// dictated reads what stands behind a spoken point: eight point five. Two
// digits are read only where they are quarters, as a list may go on.
func dictated(toks []token, n int) (add float64, used int) {
	digit := func(k int) (float64, bool) {
		ok := k < len(toks) && toks[k].role == rNumber && !toks[k].frac && toks[k].val == float64(int(toks[k].val))
		if !ok {
			return 0, false
		}
		return toks[k].val, toks[k].val < 10
	}
	if n+1 < len(toks) && toks[n+1].role == rNumber && (toks[n+1].val == 25 || toks[n+1].val == 75) {
		return toks[n+1].val / 100, 2
	}
	a, ok := digit(n + 1)
	if !ok {
		return 0, 0
	}
	if b, ok := digit(n + 2); ok && b == 5 && (a == 2 || a == 7) {
		return (10*a + b) / 100, 3
	}
	return a / 10, 2
}
