package reply

import (
	"slices"
	"strings"

	"stubbled/scheduler/diary"
)

// Leaf heights are seldom below the first or above the second of these, inches.
// Common practice.
const (
	shortLeaf = 2
	tallLeaf  = 96
)

// mostSpread is how many times as tall as the shortest plant of a visit the tallest is at
// most, where it is tall (an assumption).
const mostSpread = 3

// countReading counts what makes it doubtful, or clear, that numbers are the
// leaf heights of that day.
func (p *parser) countReading(n *[features]float64, pieces []piece, c *piece) {
	all := p.numbersIn(c)
	nums := p.withoutAverage(all)
	p.countWords(n, c, nums, len(nums) == len(all))
	first, one := &p.toks[nums[0]], len(nums) == 1
	n[wSeveral] = flag(len(nums) > 2)
	n[wApart] += p.apart(nums)
	for _, f := range c.facts {
		for _, h := range f.Heights {
			n[wShort] = max(n[wShort], flag(h < shortLeaf || h <= shortLeaf+1 && one && p.toks[c.from].is(sNum) && c.form == fReading)) // 2 inches at home: rain, perhaps
			n[wTall] = max(n[wTall], flag(h > tallLeaf || c.form == fBare && h > tallLeaf/2))
		}
	}
	for _, i := range nums {
		n[wUnit] = max(n[wUnit], flag(p.toks[i].unit != 0))
	}
	if from, to := p.sentenceOf(c); first.val < 6 { // creek 0.8, 1.1 rain
		for i := from; i < to; i++ {
			n[wFell] = max(n[wFell], flag(p.toks[i].event == eRain))
		}
	}
	for _, f := range c.facts {
		if len(f.Heights) == 0 {
			continue
		}
		n[wApart] += 2 * flag(!one && n[wUnit] == 0 && slices.Max(f.Heights) > leastNumber && slices.Max(f.Heights) > mostSpread*slices.Min(f.Heights))        // the 80 12, 40 13
		n[wTall] = max(n[wTall], flag(slices.Max(f.Heights) > tallLeaf/2 && c.form == fReading && n[wUnit] == 0 && p.isEveryday(&p.toks[p.in(c, sPlace)[0]]))) // grandma is 80
	}
	if before, behind := tokenAt(p.toks, nums[0]-1), tokenAt(p.toks, nums[0]+1); one && (p.reader.hinted(before.s, hShortOf) && !before.is(sPlace) || p.reader.hinted(behind.s, hShortOf) && !behind.is(sPlace) || p.reader.hinted(before.s, hDownTo) && p.guardOver(c.from, c.to) == gOrder) {
		n[guardFeature(gHedge)] = 1 // creek 2 inches short; take creek down to 9
	}
	n[wAtNight] = flag(one && p.anyIn(c, func(t *token) bool { return p.reader.hinted(t.s, hNight) }))
	n[wCold] = flag(one && first.unit == 0 && first.val >= 15 && first.val <= 45 && (c.form == fBare || n[wWas] > 0) &&
		p.anyIn(c, func(t *token) bool { return t.is(sDate|sClock) && p.reader.holdsPart(t.s, hMorning) }))
	if one && first.unit == 0 && first.val >= leastBareCold && (c.form == fBare && (p.asked.Frost || slices.ContainsFunc(p.toks, func(t token) bool { return p.reader.tells(&t, hDew) })) || p.frostToldWith(c)) {
		n[wCold] = 1 // heavy dew this morning, 46; no frost but hill was 29
	}
	if p.anyIn(c, func(t *token) bool { return p.reader.tells(t, hFellTo) }) {
		n[wCold] = max(n[wCold], n[wAtNight]*flag(first.val >= leastBareCold))
	}
	if !one {
		n[wShort] /= 2
	}
	if k := c.to; one && k+2 < len(p.toks) && p.toks[k].is(sStop) && p.reader.hinted(p.toks[k+1].s, hOfMonth) && (p.strange(k+2) || p.toks[k+2].guard == gThing) {
		n[wBehindNumber]++ // 9 inches. of mud
	}
	if next := tokenAt(p.toks, nums[len(nums)-1]+1); p.reader.hinted(next.f, hOfMonth) && p.reader.hinted(tokenAt(p.toks, nums[len(nums)-1]+2).f, hWriter) {
		n[wBehindNumber]++ // well 9 of us came
	}
	n[wHeads] = flag(one && p.headCount(c, first) || p.ofOthers(c))
	n[guardFeature(gHedge)] = max(n[guardFeature(gHedge)], flag(p.ofSpot(nums)))
	if c.form == fBare && p.leftOf(pieces, c) != nil {
		n[wBeforeNumber], n[wBesideStranger], n[wBesideWord], n[wWeak] = 0, 0, 0, 0
		return
	}
	if c.form == fBare {
		n[wHour] = flag(len(c.facts) < 2 && n[wUnit] == 0 && n[wMeasure] == 0 && c.from > c.lo && p.toks[c.from-1].is(where) && !p.toks[c.from-1].is(sMeasure) &&
			!(c.from-1 > c.lo && p.toks[c.from-2].is(sIt|sBe)))
		n[wNumberName] = flag(!one && first.val > 24 && p.reader.fields.hasNumber(first.val))
		n[wInText] = flag(c.inText) + flag(c.afar)
		if c.inText && p.sentenceHas(pieces, c, fPlant) {
			n[wHour] = 1 // johnsongrass in hill, about 4 ft
		}
		if c.inText && n[wUnit] == 0 && n[wMeasure]+n[wSeveral] == 0 && !(c.from > c.lo && p.toks[c.from-1].is(sIt|sBe)) && (p.sentenceHas(pieces, c, fOff) || p.sentenceHas(pieces, c, fOn) || p.sentenceHas(pieces, c, fMove)) {
			n[wHour] = 1 // off creek 6
		}
		return
	}
	places := p.in(c, sPlace)
	n[wSeveralPlaces] = flag(len(c.facts) > 1 && !p.anyIn(c, func(t *token) bool { return t.is(sAll) && !t.is(sPlace) }))
	named := slices.ContainsFunc(nums, func(i int) bool {
		return p.toks[i].typed && p.reader.fields.isName(p.toks[i].val, p.toks[places[0]].places)
	})
	n[wNumberName] = flag(!one && named || p.toks[places[0]].is(sNum) && !p.standsAsName(places[0], nums))
	n[wHour] = flag(n[wUnit] == 0 && n[wMeasure] == 0 && n[wSeveral] == 0 && (p.ats(c) > 1 && !p.toks[max(0, nums[0]-2)].is(sBe) ||
		first.is(sNum) && nums[0] == c.from && c.from > c.lo && p.toks[c.from-1].is(sAt) && !p.toks[c.from-1].is(sMeasure|sIn)))
	if i := nums[0]; i > c.from && p.toks[i-1].is(where) && !(p.toks[i-1].is(sIn|sAt) && (p.toks[i-2].is(sBe) || p.toks[i-2].poss)) && !p.toks[i-1].is(sMeasure) && n[wUnit] == 0 && n[wMeasure] == 0 && p.isEveryday(&p.toks[places[0]]) {
		n[wHour] = 1 // around the corner in 5
	}
	if i := nums[0]; one && n[wUnit] == 0 && first.val <= 12 && i == c.from+2 && p.toks[i-1].is(sAt) && !p.toks[i-1].is(sMeasure) && p.toks[c.from].is(sPlace) && p.arrives(c) {
		n[wHour], n[wMeasure] = 1, 0 // stopped by the mill at 9
	}
	if c.from > 0 && p.toks[c.from-1].is(sEmpty|sOff|sGone) && p.ats(c) > 0 && n[wUnit] == 0 && one {
		n[wHour] = 1 // emptied lower at 4
	}
	n[wOrderChanges] = flag(p.orderChanges(pieces, c))
	if p.sentenceHas(pieces, c, fPlant) && p.parted(c.from, nums[0]) {
		n[wHour] = 1 // johnsongrass headed out in lane, about 4 ft
	}
}

// frostToldWith reports whether the sentence of a clause speaks of a frost.
func (p *parser) frostToldWith(c *piece) bool {
	from, to := p.sentenceOf(c)
	return slices.ContainsFunc(p.toks[from:to], func(t token) bool { return t.is(sFrost) })
}

// arrives reports whether a word for getting to a paddock stands right before its name.
func (p *parser) arrives(c *piece) bool {
	i := c.from - 1
	for i > c.lo && p.toks[i].is(sFill|where|sTo) && !p.reader.tells(&p.toks[i], hArrives) {
		i--
	}
	return i >= c.lo && p.reader.tells(&p.toks[i], hArrives)
}

// standsAsName reports whether a number that a paddock is called, at token i, can be no height
// beside those of a reading: twenty is 9, el twenty, in twenty, twenty 14, one in words.
func (p *parser) standsAsName(i int, nums []int) bool {
	before, next := tokenAt(p.toks, i-1), tokenAt(p.toks, i+1)
	return next.is(sColon|sWas|sBe|sMeasure|sAvg) || p.reader.hinted(before.f, hArticle) || before.is(sIn|sOn|sAt) && (before.span > 1 || !before.is(sAt)) && !before.is(sMeasure) ||
		p.toks[i].kind == word && !slices.ContainsFunc(nums, func(k int) bool { return k < i || !p.toks[k].typed })
}

// ofSpot reports whether heights are of a part of their paddock alone: creek 6, only where the
// weeds are; 11, 12 by the pond, where the last is of another spot than the rest.
func (p *parser) ofSpot(nums []int) bool {
	last := nums[len(nums)-1]
	k := last + 1
	for k < len(p.toks) && p.toks[k].is(sComma|sFill) && (!p.reader.hinted(p.toks[k].s, hException) || p.reader.hinted(p.toks[k].s, hBut)) {
		k++
	}
	but := p.reader.hinted(tokenAt(p.toks, k).s, hException)
	if !but && (k > last+1 || len(nums) == 1 || !tokenAt(p.toks, last-1).is(sComma|sAnd)) {
		return false
	}
	if but {
		k++
	}
	t, next := tokenAt(p.toks, k), k+1
	first, _, _ := strings.Cut(t.s, " ")
	for tokenAt(p.toks, next).is(sFill) {
		next++
	}
	spot := but && !tokenAt(p.toks, next).is(sPlace|sMeasure|sNum|sDate) || p.reader.hinted(lastWord(t.s), hSpot) || p.reader.hinted(tokenAt(p.toks, next).s, hSpot)
	return spot && (p.reader.hinted(t.s, hBeginsSpot) || p.reader.hinted(first, hBeginsSpot)) && !t.is(sDate|sClock|sSoft|sMeasure)
}

// countWords counts the words beside numbers that say what they are of.
func (p *parser) countWords(n *[features]float64, c *piece, nums []int, listed bool) {
	number := nums[0]
	for i := c.lo; i < c.hi; i++ {
		t := &p.toks[i]
		if t.is(sPlace) || t.is(sNum) && i >= c.from && i < c.to {
			continue
		}
		now := p.reader.hinted(t.s, hNow)
		switch {
		case t.is(sWas):
			n[wWas] = 1
		case p.reader.hinted(t.s, hGot) && (i > 0 && p.toks[i-1].is(sPlace) && p.toks[number].unit == 0 || p.toks[number].val < 6) && len(nums) == 1 && i < number && p.sideBySide(i, number),
			p.reader.hinted(t.s, hMayBeRain) && p.toks[number].val < 6 && len(nums) == 1 && i < number && p.sideBySide(i, number):
			n[wFell] = 1
		case t.is(sWeak):
			n[wWeak] = flag(len(nums) == 1)
		case t.is(sAvg):
			n[wAverage] = flag(len(nums) > 1 && listed)
		case t.is(sMeasure):
			n[wMeasure] = 1
		}
		if now && i > number && i < nums[len(nums)-1] {
			n[wApart]++ // 7, now 9
		}
	}
	for _, i := range nums {
		if p.toks[i].unit != 0 {
			n[wWeak] = 0
		}
	}
	if n[wMeasure] > 0 || p.leftBehind(c, number) {
		n[wWeak] = 0
	}
}

// leastLeft is the number from which 'left 6' is said of grass rather than of
// head that stayed.
const leastLeft = 4

// leftBehind reports whether the number at a token is what stands after the
// animals are out: all out, left 6.
func (p *parser) leftBehind(c *piece, number int) bool {
	left, out := false, false
	for i := range number {
		t := &p.toks[i]
		left = left || i >= c.lo && t.is(sLeft)
		out = out || i < c.lo && t.is(sOff|sOut|sGone|sEmpty)
	}
	return left && out && p.toks[number].val >= leastLeft
}

// apart counts the gaps in a list of numbers.
func (p *parser) apart(nums []int) float64 {
	gaps := 0.0
	for k := 1; k < len(nums); k++ {
		gaps += flag(!p.runsOn(nums[k-1], nums[k]))
	}
	return gaps
}

// anyIn reports whether a token of a clause or beside it is something.
func (p *parser) anyIn(c *piece, is func(t *token) bool) bool {
	for i := c.lo; i < c.hi; i++ {
		if is(&p.toks[i]) {
			return true
		}
	}
	return false
}

// headCount reports whether '38 on mill' may count heads: as many as a herd
// has, or more than leaves are often tall.
func (p *parser) headCount(c *piece, t *token) bool {
	if strings.HasSuffix(t.s, "s") || strings.HasSuffix(t.s, `"`) { // 38 inches: in may be said of cows
		return false
	}
	if t.unit != 0 && t.unit != 1 {
		return false
	}
	stands := t.unit == 1
	for i := c.from; i < c.to; i++ {
		stands = stands || p.toks[i].is(sOn|sIn) && !p.toks[i].is(sMeasure)
	}
	if c.form != fBare && (!stands || !p.toks[c.from].is(sNum)) {
		return false
	}
	for _, h := range p.reader.herds {
		if h.Head > 0 && t.val == float64(h.Head) {
			return true
		}
	}
	return (c.form != fBare || c.inText && p.any(sHerd)) && t.unit == 0 && t.val > 24 // vaccinated the cows at hill. 41 done
}

// ofOthers reports whether the sentence of a reading names animals of which none are
// on file: what is said of its height may be meant for them.
func (p *parser) ofOthers(c *piece) bool {
	from, to := p.sentenceOf(c)
	return slices.ContainsFunc(p.toks[from:to], func(t token) bool { return t.stock != noStock && !t.stock.cattle() && !t.is(sHerd) })
}

// ats counts the words for 'at' in a clause: at hill at 9 is an hour.
func (p *parser) ats(c *piece) int {
	n := 0
	for i := c.lo; i < c.to; i++ {
		if t := &p.toks[i]; t.is(sAt) && !t.is(sIn|sMeasure) {
			n++
		}
	}
	return n
}

// sentenceHas reports whether a clause of a form stands in the sentence of another.
func (p *parser) sentenceHas(pieces []piece, c *piece, f form) bool {
	for i := range pieces {
		if d := &pieces[i]; d.sentence == c.sentence && d.form == f {
			return true
		}
	}
	return false
}

// orderChanges reports whether a name stands before its number in one of two
// readings side by side, and behind it in the other: creek 9, 8 hill.
func (p *parser) orderChanges(pieces []piece, c *piece) bool {
	nameFirst := func(d *piece) bool { return p.toks[d.from].is(sPlace) }
	for i := range pieces {
		d := &pieces[i]
		if d.form == fReading && d.sentence == c.sentence && nameFirst(d) != nameFirst(c) {
			return true
		}
	}
	return false
}

// openWater tells 'creek froze', which may be said of the water, from 'froze on
// creek'.
func (p *parser) openWater(c *piece) bool {
	return p.toks[c.from].is(sPlace) && p.reader.hinted(p.toks[c.to-1].s, hWaterFroze)
}

// strangeHorses are horses that no herd on file is of, where a text names paddocks
// and takes them off none.
func (p *parser) strangeHorses() (facts []diary.Fact) {
	which := slices.IndexFunc(p.toks, func(t token) bool {
		return !t.is(sHerd|sPlace) && (t.stock == horses || p.reader.tells(&t, hHorse) && len(p.reader.ofKind(horses)) == 0)
	})
	if which < 0 || p.writes(hRiding) || slices.ContainsFunc(p.toks, func(t token) bool { return t.is(sOff|sOut|sGone|sEmpty|sFrom|sUndo) && !t.is(sPlace) }) {
		return nil
	}
	for _, w := range p.warnings {
		if w.guard != gOther && w.guard != gPart && w.guard != gHedge && w.guard != gThing && w.from <= which && w.to > which {
			return nil // no horses on lane; horses to lane next week
		}
	}
	for i := range p.toks {
		if t := &p.toks[i]; t.is(sPlace) && len(t.places) == 1 {
			facts = append(facts, p.fact(diary.Horses, p.reader.places[t.places[0]].ID, p.day))
		}
	}
	return p.merge(facts)
}

// withDangers is what was heard of a text and of the dangers in it that no clause of
// it says. No height makes sorghum kin safe for horses, so they are asked about before
// all else, however little of the text is clear; a drought is asked about rather than a
// height; and what no letter of a question stands for is a doubt beside it.
func (p *parser) withDangers(h Heard) Heard {
	if told := p.strangeHorses(); len(told) > 0 {
		h.Ask, h.Nod = p.confirm(told), false
	}
	if h.Ask != nil && h.Ask.Why == diary.NoNumber && p.drought() {
		h.Ask = p.confirm([]diary.Fact{p.fact(events[eDry].kind, "", p.day)})
	}
	if h.Ask != nil && !slices.ContainsFunc(h.Facts, func(f diary.Fact) bool { return f.Kind == diary.Frost || f.Kind == diary.NoFrost }) {
		h.Ask.Doubts = p.unsaid()
	}
	return h
}

// drought reports whether a manager's text may call a drought of which it names a
// paddock, or only say that its ground is dry.
func (p *parser) drought() bool {
	return p.who.Manager && slices.ContainsFunc(p.toks, func(t token) bool { return t.event == eDry && !t.is(sPlace) })
}

// white reports whether a word for white may be said of the grass itself, beside a
// height: it ends what is said, and names no clover.
func (p *parser) white(i int) bool {
	ends := i+1 == len(p.toks) || p.toks[i+1].is(sStop|sComma|sDate)
	return ends && !p.toks[i].is(sPlace) && slices.ContainsFunc(p.toks, func(t token) bool { return t.is(sNum) && !t.is(sPlace) })
}

// unsaid are the dangers that a text of which something is asked back may tell of and
// that no letter stands for: new shoots somewhere, a frost that nobody is sure of, or
// what looks like one.
func (p *parser) unsaid() (all []diary.Fact) {
	frost, shoots := false, false
	for i := range p.toks {
		t := &p.toks[i]
		g := p.guardOver(i, i+1)
		shoots = shoots || t.event == eRegrowth && g == noGuard && !t.is(sPlace)
		frost = frost || p.reader.tells(t, hPastFrost) && (g == gIf || g == gHedge) || p.reader.tells(t, hWhite) && g == noGuard && p.white(i)
	}
	if frost {
		all = append(all, p.fact(diary.Frost, "", p.day))
	}
	if shoots {
		all = append(all, p.fact(diary.Regrowth, "", p.day))
	}
	return all
}
