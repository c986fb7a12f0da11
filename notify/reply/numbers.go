package reply

import (
	"strconv"
	"strings"
)

// values makes one token of each number: digits with decimals and fractions,
// numbers in words, dictated decimals. Runs of digits that are a date, a clock
// time or a range become tokens of that sense.
func (p *parser) values(toks []token) []token {
	out := make([]token, 0, len(toks))
	for i := 0; i < len(toks); {
		t := toks[i]
		switch {
		case t.kind == mark && (strings.ContainsAny(t.s, `"'()[]{}*_<>^`) || t.s == "°"):
			if !p.inchMark(toks, i) {
				if t.s == "<" || t.s == ">" || t.s == "^" || t.s == "'" && i+1 < len(toks) && toks[i+1].kind == digits && toks[i+1].glued {
					t.lex = lex{guard: gUnknown}
					out = append(out, t)
				}
				i++ // brackets and quotation marks say nothing
				continue
			}
			out = append(out, t)
			i++
		case t.s == "." && t.glued && len(out) > 0 && p.reader.hinted(out[len(out)-1].f, hAbbreviated) && i+1 < len(toks):
			i++ // approx. 9
		case t.s == "." && t.glued && len(out) > 0 && unitWord(out[len(out)-1]) && i+1 < len(toks) && toks[i+1].is(where|sTo|sMeasure) && !toks[i+1].is(sStop):
			i++ // 10 in. on creek
		case t.s == "±" && i+1 < len(toks) && toks[i+1].kind == digits:
			_, n := p.chain(toks, i+1) // how far off it may be
			i += n + 1
		case t.kind == digits && !t.is(sPlace):
			made, n := p.chain(toks, i)
			out = append(out, made...)
			i += n
		case t.role == rNumber || t.role == rTens:
			made, n := p.inWords(toks, i)
			out = append(out, made)
			i += n
		case t.role == rArticle && i+1 < len(toks) && toks[i+1].role == rFoot:
			t.role, t.val, t.set = rNumber, 1, 0
			out = append(out, t)
			i++
		default:
			out = append(out, t)
			i++
		}
	}
	return p.halves(out)
}

func unitWord(t token) bool { return t.role == rUnit || t.role == rUnitIn || t.role == rFoot }

// inchMark reports whether a mark stands behind a number: 9" 1'3" 31°.
func (p *parser) inchMark(toks []token, i int) bool {
	if toks[i].s != `"` && toks[i].s != "'" && toks[i].s != "°" {
		return false
	}
	if i == 0 || !toks[i].glued && toks[i].s != "°" || toks[i-1].kind != digits {
		return false
	}
	switch toks[i].s {
	case `"`:
		return !p.quoteOpen(toks[:i])
	case "'":
		return !singleOpen(toks[:i])
	}
	return true
}

// quoteOpen reports whether a quotation mark was opened before.
func (p *parser) quoteOpen(toks []token) bool {
	open := false
	for i, t := range toks {
		if t.s != `"` {
			continue
		}
		if i > 0 && t.glued && toks[i-1].kind == digits && !open {
			continue // inches
		}
		open = !open
	}
	return open
}

// singleOpen reports whether a single quotation mark was opened before.
func singleOpen(toks []token) bool {
	for i, t := range toks {
		if t.s == "'" && (i == 0 || toks[i-1].kind != digits) {
			return true
		}
	}
	return false
}

// chain reads digits that are strung together by marks without a space.
func (p *parser) chain(toks []token, i int) (made []token, used int) {
	parts := []string{toks[i].f}
	var seps []byte
	j := i + 1
	for j+1 < len(toks) && toks[j].kind == mark && toks[j].glued && toks[j+1].glued &&
		toks[j+1].kind == digits && !toks[j+1].is(sPlace) && strings.ContainsAny(toks[j].s, ".,/:-") {
		seps = append(seps, toks[j].s[0])
		parts = append(parts, toks[j+1].f)
		j += 2
	}
	all := join(toks[i:j])
	all.kind, all.typed = digits, true
	if len(seps) == 0 {
		all.role, all.val = rNumber, number(parts[0])
		all.s = parts[0]
		if i > 0 && toks[i-1].s == "." && (i == 1 || !toks[i-1].glued) && toks[i].glued { // .5
			all.val = number("." + parts[0])
		}
		return []token{all}, j - i
	}
	return p.strung(all, parts, string(seps)), j - i
}

// strung tells what a chain of digits is.
func (p *parser) strung(all token, parts []string, seps string) []token {
	switch {
	case seps == ":":
		return one(p.clock(all, parts))
	case seps == "/" || seps == "//" || (seps == "--" && dateLike(parts)):
		if made, ok := p.slashed(all, parts, seps); ok {
			return made
		}
	case seps == "-/" && isFraction(parts[1], parts[2]):
		all.role, all.val = rNumber, number(parts[0])+number(parts[1])/number(parts[2])
		return one(all)
	case seps == ",":
		return p.comma(all, parts)
	}
	return p.listed(all, parts, seps)
}

func one(t token) []token { return []token{t} }

// comma reads 7,5. Where people write decimals so it is one, elsewhere it may
// be either; with two digits behind it, it is a list there.
func (p *parser) comma(all token, parts []string) []token {
	a, b := parts[0], parts[1]
	half := b == "25" || b == "50" || b == "75"
	switch {
	case p.tongue.decimalComma && (len(b) == 1 || half):
		all.role, all.val = rNumber, number(a+"."+b)
	case !p.tongue.decimalComma && len(b) == 2 && !half:
		return list(all, []float64{number(a), number(b)})
	case len(b) >= 3:
		all.role, all.val = rNumber, number(a+b)
	default:
		all.lex = lex{guard: gUnknown}
	}
	return one(all)
}

// listed reads a chain of numbers, decimals among them, parted by one mark:
// 14,8,6,8 or 14/8/6/8. Two parted by a dash are a range.
func (p *parser) listed(all token, parts []string, seps string) []token {
	nums := []float64{number(parts[0])}
	decimal := false // the last number has one already
	between := byte(0)
	for k := 0; k < len(seps); k++ {
		dec := seps[k] == '.' || (seps[k] == ',' && p.tongue.decimalComma && strings.Contains(seps, "-"))
		if dec {
			if decimal {
				between = 'x'
				break
			}
			nums[len(nums)-1] = number(parts[k] + "." + parts[k+1])
			decimal = true
			continue
		}
		if between != 0 && between != seps[k] {
			between = 'x'
			break
		}
		between, decimal = seps[k], false
		nums = append(nums, number(parts[k+1]))
	}
	switch {
	case between == 0:
		all.role, all.val = rNumber, nums[0]
		return one(all)
	case between == '-' && len(nums) == 2:
		all.set, all.val, all.hi = sRange, nums[0], nums[1]
		if len(parts[1]) == 4 {
			all.lex = lex{guard: gThing} // a telephone number
		}
		all.parts = nums
		return one(all)
	case between == ',', between == '/' && len(nums) >= 3, between == '-' && len(nums) >= 3 && small(nums):
		return list(all, nums)
	}
	all.lex = lex{guard: gUnknown}
	return one(all)
}

func small(nums []float64) bool {
	for _, x := range nums {
		if x > 120 {
			return false
		}
	}
	return true
}

// list makes a token of each number. A chain of them is one word as typed.
func list(all token, nums []float64) []token {
	made := make([]token, 0, 2*len(nums))
	for k, x := range nums {
		if k > 0 {
			made = append(made, token{kind: mark, s: ",", lex: marks[","], from: all.from, to: all.to, glued: true})
		}
		t := all
		t.lex = lex{role: rNumber, val: x}
		made = append(made, t)
	}
	return made
}

func number(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0 // no height, so it is asked about
	}
	return x
}

func isFraction(a, b string) bool {
	switch b {
	case "2", "3", "4", "8", "16":
		return number(a) > 0 && number(a) < number(b) && !strings.HasPrefix(a, "0")
	}
	return false
}

// inWords reads twenty-two, one hundred ten, treinta y dos.
func (p *parser) inWords(toks []token, i int) (token, int) {
	t := toks[i]
	j := i + 1
	if t.val == 1 && j < len(toks) && toks[j].role == rTens { // one twenty
		made := join(toks[i : j+1])
		made.lex, made.places = lex{guard: gUnknown}, nil
		return made, 2
	}
	if t.role == rTens {
		k := j
		if k < len(toks) && toks[k].s == "-" && toks[k].glued {
			k++
		}
		if k < len(toks) && p.reader.hinted(toks[k].s, hJoinsTens) {
			k++
		}
		if k < len(toks) && toks[k].role == rNumber && toks[k].kind == word && toks[k].val >= 1 && toks[k].val <= 9 && !toks[k].is(sPlace) && p.joinsTens(t, toks[j:k]) {
			t.val += toks[k].val
			j = k + 1
		}
	}
	if j < len(toks) && t.val < 10 && p.reader.hinted(toks[j].f, hHundred) {
		t.val *= 100
		j++
		if x, n := p.belowHundred(toks, j); n > 0 { // one hundred and ten
			t.val += x
			j += n
		}
	}
	made := join(toks[i:j])
	made.lex = lex{role: rNumber, val: t.val, set: toks[i].set & sPlace}
	made.places = toks[i].places
	if j-i > 1 {
		made.set, made.places = 0, nil
	}
	return made, j - i
}

// belowHundred reads what goes on a hundred: ten, and ten, twenty two.
func (p *parser) belowHundred(toks []token, i int) (x float64, n int) {
	j := i
	if j < len(toks) && toks[j].is(sAnd) {
		j++
	}
	if j >= len(toks) || toks[j].kind != word || toks[j].is(sPlace) || toks[j].role != rNumber && toks[j].role != rTens {
		return 0, 0
	}
	t, n := p.inWords(toks, j)
	return t.val, j + n - i
}

// joinsTens reports whether a ten may be joined to the unit behind what stands
// between: nothing, a hyphen or a word, or for some tens only the word: treinta
// y dos.
func (p *parser) joinsTens(t token, between []token) bool {
	joined := len(between) == 1 && p.reader.hinted(between[0].s, hJoinsTens)
	if p.reader.hinted(t.f, hJoinedTens) {
		return joined
	}
	return joined || len(between) == 0 || between[0].s == "-"
}
