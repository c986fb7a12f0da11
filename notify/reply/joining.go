package reply

import (
	"slices"
	"strings"
)

// joinSmallWords joins small words to the date or clock time that they stand before,
// tells clock times that are only known by what stands around them, and joins
// sentences that hold nothing but numbers to the one before.
func (p *parser) joinSmallWords(toks []token) []token {
	out := toks[:0]
	for i := 0; i < len(toks); {
		t := toks[i]
		if n := p.hourAt(toks, i); n > 0 {
			t = join(toks[i : i+n])
			t.lex = lex{set: sClock}
			t.places = nil
			out = append(out, t)
			i += n
			continue
		}
		if i > 0 && t.span < 2 && p.reader.hinted(t.f, hSorry) && p.corrects(toks, i) {
			t.lex = lex{guard: gFix} // creek 9, sorry, hill 9
		}
		if t.is(sPlace) && p.reader.tells(&t, hOrRather) && tokenAt(toks, i-1).is(sComma) && tokenAt(toks, i+1).is(sComma) && tokenAt(toks, i-2).is(sNum) {
			t.lex = lex{guard: gFix} // back 9, well, 8
		}
		if p.reader.tells(&t, hOrRather) && !t.is(sPlace) && i+1 < len(toks) && toks[i+1].is(sNum) && slices.ContainsFunc(out[max(0, len(out)-2):], func(u token) bool { return u.is(sNum) }) {
			t.lex = lex{guard: gFix} // backside 7, bueno 7 y medio
		}
		if p.reader.hinted(t.s, hDigitTo) && i > 0 && toks[i-1].is(sHerd|sStock) && i+1 < len(toks) && toks[i+1].is(sPlace) && slices.ContainsFunc(toks[:i], func(u token) bool { return u.is(sMoved | sPut) }) {
			t.lex, t.typed = lex{set: sTo}, false // moved pairs 2 unit 4
		}
		if p.reader.hinted(t.s, hSoThen) && i+1 < len(toks) && toks[i+1].is(sNum) && slices.ContainsFunc(out, func(u token) bool { return u.is(sNum) && u.val == toks[i+1].val }) {
			i += 2 // I called it 9, so 9
			continue
		}
		if (p.reader.hinted(t.s, hAnother) || i > 0 && toks[i-1].is(sComma|sAnd|sNum) && p.reader.hinted(t.s, hNext) && !p.reader.hinted(tokenAt(toks, i+2).s, hNow)) && i+1 < len(toks) && toks[i+1].is(sNum) && slices.ContainsFunc(out, func(u token) bool { return u.is(sNum) }) {
			t.lex = lex{set: sFill} // 8 and another 9
		}
		if t.is(sDate) && len(out) > 0 && p.reader.hinted(out[len(out)-1].s, hCompared) {
			t.lex = lex{set: sFill} // same as it was thursday
		}
		if k := len(out) - 1; k >= 0 && t.is(sNum) && !t.is(sPlace) && t.unit == 0 && t.val <= 12 && (out[k].span > 1 && p.reader.hinted(out[k].s, hSince) || p.reader.hinted(out[k].s, hPastHour)) {
			t.lex = lex{set: sClock} // as of 4
		}
		if t.is(sDate | sSoft | sClock) {
			if k := len(out) - 1; k >= 0 && t.set&(sSoft|sDate) == sSoft && p.reader.hinted(out[k].s, hSince) {
				t.lex, t.day = lex{set: sDate}, p.day // as of this afternoon
			}
			if k := len(out) - 1; k >= 0 && t.is(sClock) && p.reader.hinted(out[k].s, hSince) {
				t.s, t.from = out[k].s+" "+t.s, out[k].from // as of two o'clock
				out = out[:k]
			}
			for len(out) > 0 && (out[len(out)-1].is(sOn|sAt|sAbout) && !out[len(out)-1].is(sPlace|sMeasure) || p.reader.hinted(out[len(out)-1].s, hBeforeDay)) {
				t.from = out[len(out)-1].from
				out = out[:len(out)-1]
			}
			if k := len(out) - 1; k >= 0 && t.is(sDate) && p.reader.hinted(lastWord(out[k].s), hSince) {
				t.set &^= sSoft // since friday
				if out[k].guard == gWhen && !slices.ContainsFunc(toks, func(u token) bool { return u.is(motions | sOff | sOn | sIn | sOut | sEmpty | sHerd | sStock) }) {
					t.lex = lex{set: sFill} // 9, no taller since friday
				}
				if out[k].guard == gWhen || out[k].set == sFrom {
					out = out[:k]
				}
			}
		}
		out = append(out, t)
		i++
	}
	return p.joinSentences(out)
}

func lastWord(s string) string { return s[strings.LastIndexByte(s, ' ')+1:] }

// corrects reports whether a 'sorry' at token i takes back what was said: a
// number or a name follows, or nothing.
func (p *parser) corrects(toks []token, i int) bool {
	told := false
	for k := i; k >= 0 && !toks[k].is(sStop); k-- {
		told = told || toks[k].is(anchors&^sDead)
	}
	for i++; i < len(toks) && toks[i].is(sComma); i++ {
	}
	last := i
	for last < len(toks) && toks[last].is(sStop) {
		last++
	}
	if told && last == len(toks) || !told && i < len(toks) && toks[i].is(sStop) {
		return false // forgot to text, sorry!
	}
	return i >= len(toks) || i < len(toks) && toks[i].is(sPlace|sNum|sStop)
}

// hourAt reads 'at 6' in a text about animals, and 'a las 6' anywhere: an hour,
// never a height. It gives the tokens taken.
func (p *parser) hourAt(toks []token, i int) int {
	hour := func(j int) bool {
		return j < len(toks) && toks[j].is(sNum) && toks[j].unit == 0 && toks[j].val >= 1 && toks[j].val <= 12 && toks[j].val == float64(int(toks[j].val))
	}
	t := toks[i]
	over := func(u token) bool { return u.is(sOff | sEmpty | sGone) }
	if hour(i) && i > 0 && toks[i-1].is(sAbout|sFill) && i+1 < len(toks) && toks[i+1].is(sDate|sSoft) && p.reader.tells(&toks[i+1], hOfNight) && slices.ContainsFunc(toks[:i], over) {
		return 1 // finished about ten this morning
	}
	if p.reader.hinted(t.s, hSince) && hour(i+1) && i+2 < len(toks) && toks[i+2].is(sDate|sSoft) {
		return 3 // since 9 this morning
	}
	if hour(i+2) && p.reader.hinted(t.s+" "+toks[i+1].s, hBeforeHourToo) {
		return 3
	}
	after := func(j int) bool { return j >= len(toks) || toks[j].is(sStop|sComma|sDate|sSoft) }
	if i > 0 && (toks[i-1].is(sNum) && !toks[i-1].is(sPlace) || toks[i-1].is(sEvent)) && p.reader.hinted(t.s, hBeforeHour) {
		if t.is(sAbout) && hour(i+1) && after(i+2) {
			return 2 // creek 9 around 4
		}
		if i+1 < len(toks) && toks[i+1].is(sAbout) && hour(i+2) && after(i+3) {
			return 3 // creek 9 at like 4
		}
	}
	if i+3 < len(toks) && toks[i+2].is(sComma) && toks[i+3].is(sNum) {
		return 0 // off orchard at 8, 7, 8
	}
	if p.reader.hinted(t.s, hBeforeHour) && hour(i+1) && !(i > 0 && toks[i-1].is(sIt|sBe) && !toks[i-1].is(sFill)) && (i+2 >= len(toks) || toks[i+2].is(sStop|sComma|sDate)) {
		from := i
		for from > 0 && !toks[from-1].is(sStop) {
			from--
		}
		if !slices.ContainsFunc(toks[from:i], func(u token) bool { return u.is(sPlace) }) {
			from = 0
		}
		for _, u := range toks[from:i] { // they say it will freeze. measured hill at 8
			if u.is(sOff|sMoved&^sMeasure) && !u.is(sMeasure) || u.is(sHerd|sStock) {
				return 2
			}
		}
	}
	return 0
}

// joinSentences makes one of a name and the numbers on the lines below it, and
// of numbers that are parted by full stops.
func (p *parser) joinSentences(toks []token) []token {
	for i := 1; i < len(toks); i++ {
		prev := &toks[i-1]
		j := i
		alone := prev.is(sPlace) && (i == 1 || toks[i-2].is(sStop)) // frank? six.
		for j < len(toks) && toks[j].is(sStop) && (toks[j].s != "?" || alone) {
			j++
		}
		if j == i || !prev.is(sNum|sPlace) || !p.onlyNumbers(toks, j) || numbered(toks, j) {
			continue
		}
		becomes := marks[","]
		if !prev.is(sNum) {
			becomes = marks[":"]
		}
		for k := i; k < j; k++ {
			toks[k].lex = becomes
			if k > i {
				toks[k].lex = lex{set: sFill | sComma}
			}
		}
	}
	return toks
}

// numbered reports whether the number at j is that of a list: it begins a line
// and a full stop parts it from words on the same line.
func numbered(toks []token, j int) bool {
	return toks[j-1].s == "\n" && j+2 < len(toks) && toks[j+1].s == "." && toks[j+2].kind == word
}

// onlyNumbers reports whether the sentence at i holds numbers and nothing else.
func (p *parser) onlyNumbers(toks []token, i int) bool {
	found := false
	for ; i < len(toks) && !toks[i].is(sStop); i++ {
		if toks[i].is(sNum) && !toks[i].is(sPlace) {
			found = true
		} else if !toks[i].is(sComma | sAnd) {
			return false
		}
	}
	return found
}

// efforts takes a sentence that says what something took for talk: took three of us, a dog
// and some language. One that may speak of animals, or of ground, it leaves alone.
func (p *parser) efforts(toks []token) {
	for from := 0; from < len(toks); {
		to := from
		for to < len(toks) && !toks[to].is(sStop|sComma) {
			to++
		}
		if part := toks[from:to]; len(part) > 1 && p.effort(part) {
			for i := range part {
				part[i].lex = lex{set: sChat}
			}
		}
		from = to + 1
	}
}

func (p *parser) effort(toks []token) bool {
	const news = sPlace | sHerd | sBeast | sOff | sOut | sTo | sIn | sOn | sFrom | sFrost | sDead | sPlant | sEvent | sStay | sLeft | sTemp | sRange
	first := 0
	for toks[first].is(sIt|sFill|sAbout|sAck) && first+1 < len(toks) {
		first++
	}
	says := false
	for i := first + 1; i < len(toks); i++ {
		t, next := &toks[i], tokenAt(toks, i+1)
		counts := t.is(sNum) && t.unit == 0 && p.reader.hinted(next.f, hOfMonth) && p.reader.hinted(tokenAt(toks, i+2).f, hWriter)
		if t.is(news) || t.stock != noStock || t.is(sNum) && !counts || t.guard != noGuard && t.guard != gPart && t.guard != gThing && t.guard != gUnknown {
			return false
		}
		says = says || counts || t.is(sDur) || t.role == rSpan || t.guard == gThing || t.kind == word && t.set == 0 && t.guard == noGuard && !p.reader.hinted(t.f, hOfMonth) && !p.reader.hinted(t.f, hNoName)
	}
	return says && p.reader.tells(&toks[first], hEffort)
}

// corrected takes a number that is put right at once, and what puts it right, out of a
// text: creek 9, no, 8; runway 9. scratch that, 8.
func (p *parser) corrected(toks []token) []token {
	number := func(k int) bool { return tokenAt(toks, k).is(sNum) && !toks[k].is(sPlace) }
	for i := 1; i+1 < len(toks); i++ {
		from, to := i-1, i+1
		for from > 0 && toks[from].is(sComma|sStop|sDash) {
			from--
		}
		for to+1 < len(toks) && (toks[to].is(sComma|sStop|sFill|sAbout) || p.reader.hinted(toks[to].f, hPutsRight)) && !number(to) {
			to++
		}
		marked := (from < i-1 || to > i+1 || toks[i].span > 1) && (toks[i+1].is(sComma|sStop) || !p.reader.hinted(toks[i].f, hNotThat))
		if !marked || !p.reader.hinted(toks[i].s, hPutsRight) || !number(from) || !number(to) || number(from-1) || number(from-2) || tokenAt(toks, to+1).is(sPlace|sHerd|sStock|sBe|sTo|sBeast) {
			continue
		}
		for k := to + 1; k < len(toks); k++ {
			if toks[k].guard == gFix && !slices.ContainsFunc(toks[k:], func(t token) bool { return t.is(sNum | sPlace) }) {
				toks[k].lex = lex{set: sChat} // read it wrong
			}
		}
		if k := to + 2; number(k) && toks[to+1].is(sComma) && toks[k].val == toks[to].val && toks[k].unit != 0 {
			to = k // no, 10, 10 inches
		}
		return slices.Delete(toks, from, to)
	}
	return toks
}

// spots drops the words that say where on its ground each plant of a reading stood: creek 6
// on the slope, 10 by the ditch; short end 5, far end 9. Each of its numbers, and none but
// them, has such words behind it, or before it.
func (p *parser) spots(toks []token) []token {
	out := toks[:0]
	for from := 0; from < len(toks); {
		to := from
		for to < len(toks) && !toks[to].is(sStop) {
			to++
		}
		out = append(out, p.spotsOf(toks[from:to])...)
		if to < len(toks) {
			out = append(out, toks[to])
		}
		from = to + 1
	}
	return out
}

func (p *parser) spotsOf(toks []token) []token {
	place := slices.IndexFunc(toks, func(t token) bool { return t.is(sPlace) })
	if place < 0 && len(p.askedPlaces()) != 1 || slices.ContainsFunc(toks[place+1:], func(t token) bool { return t.is(sPlace | sHerd | sStock | sBeast) }) {
		return toks
	}
	var nums []int
	for i := place + 1; i < len(toks); i++ {
		if toks[i].is(sNum) {
			nums = append(nums, i)
		}
	}
	if len(nums) < 2 {
		return toks
	}
	ends, from := append(nums[1:len(nums):len(nums)], len(toks)), nums
	if nums[len(nums)-1] == len(toks)-1 {
		ends, from = nums, append([]int{place}, nums...)
	}
	kept := slices.Clone(toks[:from[0]+1])
	for k, end := range ends {
		if !p.isSpot(toks[from[k]+1 : end]) {
			return toks
		}
		if len(kept) > 0 && kept[len(kept)-1].is(sNum) && end < len(toks) {
			kept = append(kept, token{kind: mark, s: ",", lex: marks[","], from: toks[end].from, to: toks[end].from})
		}
		kept = append(kept, toks[end:min(end+1, len(toks))]...)
	}
	return kept
}

// isSpot reports whether some words only say where on its ground a plant stood.
func (p *parser) isSpot(toks []token) bool {
	const no = sPlace | sNum | sHerd | sStock | sMoved | sPut | sDate | sSoft | sClock | sFrost | sEvent | sDead | sOff | sTemp | sDur | sTo
	spot := false
	for i := range toks {
		t := &toks[i]
		begins := p.reader.hinted(t.f, hBeginsSpot)
		if t.is(no) && !t.is(sMeasure) && !begins || t.role != noRole && !t.is(sIn) && t.role != rArticle || t.poss && !t.is(sIt|sBe) || t.stock != noStock || t.guard != noGuard && t.guard != gThing && t.guard != gUnknown && t.guard != gPart && !begins && !p.reader.hinted(t.f, hSpot) {
			return false
		}
		spot = spot || p.reader.hinted(t.f, hSpot) || p.reader.hinted(t.s, hSpot) || begins && !t.is(sIn|sOn)
	}
	return spot
}

// stems drops the numbers that are of stems and seed heads: leaf 8, stems 30.
func (p *parser) stems(toks []token) {
	for i := range toks {
		if !p.reader.hinted(toks[i].s, hStems) || tokenAt(toks, i+1).role != rNumber || toks[i+1].is(sPlace) {
			continue
		}
		if i > 1 && toks[i-1].role == rNumber && !toks[i-2].is(sMeasure) {
			toks[i-1].lex, toks[i].lex = lex{set: sFill}, lex{set: sFill} // 30 stems 8 leaf
			continue
		}
		toks[i].lex, toks[i+1].lex = lex{set: sFill}, lex{set: sFill}
		if r := tokenAt(toks, i+2).role; r == rUnit || r == rFoot {
			toks[i+2].lex = lex{set: sFill}
		}
	}
}
