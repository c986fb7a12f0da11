package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// mostFrost is the warmest air that counts as a frost, degrees F.
const mostFrost = 36

// leastFrost is the coldest number beside a frost that is how cold it was, degrees F (an
// assumption).
const leastFrost = 15

// How cold a bare number may say that the air was, degrees F: below the first it
// is a height, above the second nobody speaks of a night.
const (
	leastBareCold = 20
	mostBareCold  = 70
)

// signs are pairs of words that tell of a frost where they stand side by side: ice
// on the trough, killed the tomatoes, white at daylight, crunchy this morning.
var signs = [][2]hint{{hIce, hFrosted}, {hKills, hTender}, {hKills, hChill}, {hWhite, hOfNight}, {hStiff, hOfNight}}

// signs takes the pairs of words that are signs of a frost for one.
func (p *parser) signs(toks []token) {
	for i := range toks {
		for _, pair := range signs {
			if !p.reader.tells(&toks[i], pair[0]) {
				continue
			}
			for k := max(0, i-mostBetween); k < min(len(toks), i+mostBetween); k++ {
				if k != i && p.reader.tells(&toks[k], pair[1]) && p.signFits(toks, i, k, pair[0]) {
					p.sign(toks, i, k)
				}
			}
		}
	}
}

// frostElsewhere takes a frost that is denied of one place and told of another for
// that one: no frost up here but the bottom got it.
func (p *parser) frostElsewhere(toks []token) {
	denied, frost, but := -1, false, -1
	for i := range toks {
		t := &toks[i]
		switch {
		case t.is(sStop):
			denied, frost, but = -1, false, -1
		case denied < 0 && (t.guard == gNegation || t.guard == gHedge || t.guard == gIf):
			denied = i
		case denied >= 0 && t.is(sFrost):
			frost = true
		case frost && p.reader.hinted(t.s, hBut):
			but = i
		}
		if same := frost && p.reader.tells(t, hAllTheSame); same {
			but = i - 1
		} else if but < 0 || but == i || !p.reader.tells(t, hDidSo) || i+1 < len(toks) && !toks[i+1].is(sStop|sComma|where|sPlace|sDate|sFill|sCold) {
			continue
		}
		for k := denied; k <= but; k++ {
			toks[k].lex, toks[k].places = lex{set: sChat}, nil
		}
		t.lex = lex{set: sFrost}
		denied, frost, but = -1, false, -1
	}
}

// mostBetween is how far apart the two words of a sign may stand, in words.
const mostBetween = 7

// signFits reports whether nothing between the two words of a sign, and nothing
// right before them, makes something else of it: the deer got my tomatoes, white
// cows this morning.
func (p *parser) signFits(toks []token, i, k int, h hint) bool {
	from, to := min(i, k), max(i, k)
	for j := from; j <= to; j++ {
		if t := &toks[j]; j != i && j != k && (t.is(sComma|sStop|sHerd|sStock|sMoved|sPut) || t.guard == gThing && !p.wet(t)) {
			return false
		}
	}
	switch {
	case h == hWhite:
		for i--; i > 0 && !toks[i].is(sBe|sWas) && (toks[i].is(sAll|sFill|sChat|sCold) || toks[i-1].is(sBe|sWas)); i-- { // was solid white
		}
		return i >= 0 && (toks[i].is(sBe|sWas) || p.reader.tells(&toks[i], hOfNight)) || from == k
	case h == hStiff:
		return !slices.ContainsFunc(toks, func(t token) bool { return t.event == eDry })
	case h == hKills && i > 0 && i < k:
		if p.reader.hinted(toks[i].s, hGot) {
			return toks[i-1].is(sIt)
		}
		return toks[i-1].is(sFill|sIt|sStop|sComma|sCold|sDate) || len(toks[i-1].f) == 2 || p.reader.tells(&toks[i-1], hChill)
	case h == hKills && p.reader.hinted(toks[i].s, hGot):
		return false
	}
	return true
}

// wet reports whether a thing may stand between the two words of a sign: water, what
// it stands in, plants.
func (p *parser) wet(t *token) bool {
	return slices.ContainsFunc([]hint{hFrosted, hIce, hTender, hWater}, func(h hint) bool { return p.reader.tells(t, h) })
}

// sign makes a frost of the words from one of a pair to the other, and of the duty
// before them: had to scrape the windshield.
func (p *parser) sign(toks []token, i, k int) {
	from, to := min(i, k), max(i, k)
	for from > 0 && (toks[from-1].guard == gPlan || p.wet(&toks[from-1])) {
		from--
	}
	for to+1 < len(toks) && p.wet(&toks[to+1]) {
		to++
	}
	for j := from; j <= to; j++ {
		if !toks[j].is(sDate | sPlace) {
			toks[j].lex = lex{set: sCold}
		}
	}
	toks[i].lex = lex{set: sFrost}
}

// cold takes the numbers that tell how cold the air was for temperatures, and one
// at or below 36 F for a frost: low was 29, it hit 33 last night.
func (p *parser) cold(toks []token) {
	for from := 0; from < len(toks); {
		to := from
		for to < len(toks) && !toks[to].is(sStop) {
			to++
		}
		p.coldIn(toks[from:to])
		from = to + 1
	}
	for i := range toks {
		t := &toks[i]
		switch {
		case t.is(sTemp) && t.val > freezing && deniedBeside(toks, i):
			t.lex = lex{set: sFill} // no frost, low was 47
		case t.is(sTemp) && deniedBeside(toks, i):
			t.lex = lex{guard: gHedge} // 31 on my dash, but no frost
		case t.is(sTemp) && t.val <= mostFrost:
			t.set |= sFrost
		}
	}
}

// freezing is where water freezes, degrees F.
const freezing = 32

// deniedBeside reports whether the sentence of a temperature, or the one before or
// behind it, says that there was no frost.
func deniedBeside(toks []token, at int) bool {
	const most = 1
	for _, step := range [2]int{-1, 1} {
		for i, stops := at, 0; i >= 0 && i < len(toks) && stops <= most; i += step {
			if toks[i].is(sStop) {
				stops++
			}
			if toks[i].guard == gNegation && i+1 < len(toks) && toks[i+1].is(sFrost) {
				return true
			}
		}
	}
	return false
}

// coldIn looks at one sentence: its one number, which stands before any paddock.
func (p *parser) coldIn(toks []token) {
	number, hour := -1, -1
	almost := slices.ContainsFunc(toks, func(t token) bool { return p.reader.tells(&t, hAlmostFroze) })
	for i := range toks {
		if t := &toks[i]; almost && t.is(sNum|sTemp) && !t.is(sPlace) && t.val >= leastBareCold {
			t.lex = lex{set: sFill} // casi hiela en creek, 34
		}
	}
	for i := range toks {
		t := &toks[i]
		if t.is(sTemp) && number < 0 {
			number = i
		}
		switch {
		case t.is(sPlace) && number < 0:
			return
		case t.is(sNum) && !t.is(sPlace) && number >= 0 && p.hourBehind(toks, i):
			hour = i
		case t.is(sNum) && !t.is(sPlace):
			if number >= 0 || t.unit != 0 || t.frac {
				return // plants of a reading
			}
			number = i
		}
	}
	if number >= 0 && !toks[number].is(sTemp) {
		p.coldAt(toks, number)
	}
	if hour >= 0 && toks[number].is(sTemp) {
		toks[hour-1].lex, toks[hour].lex = lex{set: sFill}, lex{set: sClock}
	}
}

// hourBehind reports whether a number behind a temperature is the hour: 28 at 6.
func (p *parser) hourBehind(toks []token, i int) bool {
	return toks[i].unit == 0 && toks[i].val <= 12 && (p.reader.hinted(toks[i-1].s, hBeforeHour) || toks[i-1].is(sAt) || i > 1 && p.reader.hinted(toks[i-2].s+" "+toks[i-1].s, hBeforeHourToo))
}

// coldAt takes the number of a sentence for a temperature where a word for it, or of
// the night, says so.
func (p *parser) coldAt(toks []token, number int) {
	meter, night, past := -1, false, false
	for i := range toks {
		t := &toks[i]
		if meter < 0 && p.reader.tells(t, hThermometer) {
			meter = i
		}
		night = night || p.reader.tells(t, hOfNight)
		past = past || p.reader.tells(t, hNight)
	}
	t := &toks[number]
	val := p.degreesF(t.val)
	switch {
	case rains(toks) && val < leastBareCold:
		return // the gauge on the porch says 0.7
	case meter >= 0:
		for i := min(meter, number); i <= max(meter, number); i++ {
			toks[i].lex = lex{set: sCold} // low is no part of a herd here, said no hearsay
		}
	case val < leastBareCold || val > mostBareCold || !p.ofTheAir(toks[:number], night, past) && (!night || val > mostFrost || len(p.asked.Paddocks) > 0 || !p.onlyCold(toks, number)):
		return
	}
	t.lex = lex{set: sTemp, val: val}
}

// onlyCold reports whether a sentence says nothing beside a number but when it was and
// where a frost is seen: 29 at the house this morning, not shipped 30 this morning.
func (p *parser) onlyCold(toks []token, number int) bool {
	for i := range toks {
		t := &toks[i]
		if i != number && t.kind != mark && !t.is(sFill|sDate|sSoft|sClock|sIt|sBe|sWas|sAbout|sCold|sFrost|sAnd|where) && !t.is(sAck) && !p.ofFrost(t) && !p.wet(t) &&
			!p.reader.tells(t, hOfAir) && !p.reader.tells(t, hOfNight) && !p.reader.tells(t, hDew) && !p.reader.hinted(t.f, hGround) && !p.reader.hinted(t.f, hElsewhere) || i == number+1 && p.reader.hinted(t.s, hOfMonth) {
			return false
		}
	}
	return true
}

// ofTheAir reports whether what stands before a number says how cold it was: it got
// down to. Where no night is named it has to say so by itself, and where a height
// was asked about the night has to be over.
func (p *parser) ofTheAir(before []token, night, past bool) bool {
	for i := len(before) - 1; i >= 0; i-- {
		t := &before[i]
		if fell, asked := p.reader.tells(t, hFellTo), len(p.asked.Paddocks) > 0; fell || p.reader.tells(t, hOfAir) {
			return fell && (night || !asked) || night && !asked || past
		}
		if !t.is(sFill|sAbout|sBe|sWas|sIt) || t.kind != word {
			return false
		}
	}
	return false
}

// degreesF is a bare number of degrees in F: where heights are in centimetres
// degrees are in C.
func (p *parser) degreesF(val float64) float64 {
	if p.reader.units == Centimetres {
		return val*9/5 + 32
	}
	return val
}

// buildFrost makes the fact of a frost that a person saw, or of none.
func (p *parser) buildFrost(pieces []piece, c *piece, w when) {
	day, q := p.frostDay(c, w)
	if q != nil {
		c.ask = p.question(*q)
		return
	}
	if at := p.in(c, sFrost)[0]; len(p.in(c, sPlace)) == 0 && at > 0 && p.caused(at) {
		if told := p.told(pieces); len(told) == 1 {
			c.facts = []diary.Fact{p.fact(diary.Frost, p.reader.places[told[0]].ID, day.day)} // brown from the frost
			return
		}
	}
	kind := diary.Frost
	if c.spent = p.noFrost(c); c.spent >= 0 {
		kind, c.form = diary.NoFrost, fNoFrost
		c.from = min(c.from, c.spent)
	}
	p.placesOf(pieces, c, kind.Row(), func(id string) []diary.Fact {
		f := p.fact(kind, id, day.day)
		f.TempC = p.mildFrost(c)
		return []diary.Fact{f}
	})
}

// mildFrost is a told temperature above 32 F, which is a frost for what may poison
// and no freeze; nil for any other: a freeze that a person saw is a light one,
// whatever their thermometer said.
func (p *parser) mildFrost(c *piece) *float64 {
	for _, i := range p.in(c, sTemp) {
		if t := &p.toks[i]; t.val > 32 && t.val <= mostFrost {
			celsius := (t.val - 32) * 5 / 9
			return &celsius
		}
	}
	return nil
}

// caused reports whether a frost at token i is told as the cause of something.
func (p *parser) caused(i int) bool {
	for i--; i >= 0 && p.toks[i].is(sFill); i-- {
		if p.reader.hinted(p.toks[i].s, hCause) {
			return true
		}
	}
	return i >= 0 && p.reader.hinted(p.toks[i].s, hCause)
}

// noFrost gives the negation that stands right before a frost; -1 where none
// does.
func (p *parser) noFrost(c *piece) int {
	frost := p.in(c, sFrost)[0]
	if t := &p.toks[frost]; t.is(sTemp) || p.reader.tells(t, hSign) || p.hardOne(c, frost) {
		return -1 // no ice on the tank
	}
	for i := frost - 1; i >= 0; i-- {
		t := &p.toks[i]
		if t.guard == gNegation {
			return i
		}
		if !t.is(sFill | sWas | sBe | sMeasure) { // not a hard one, but one
			return -1
		}
	}
	return -1
}

// hardOne reports whether a frost at a token is called a hard one, or told from another:
// where none is told of, there may have been a frost all the same.
func (p *parser) hardOne(c *piece, frost int) bool {
	for i := c.lo; i < len(p.toks) && (i < c.hi || !p.toks[i].is(sComma|sStop)); i++ {
		t := &p.toks[i]
		if p.reader.tells(t, hHard) || i > frost && t.is(sFrost) && p.reader.tells(&p.toks[i-1], hJust) {
			return true
		}
	}
	return false
}

// frostDay is the day of a frost: its numbers are a temperature or a day.
func (p *parser) frostDay(c *piece, w when) (when, *diary.Question) {
	for i := c.lo; i < c.hi; i++ {
		t := &p.toks[i]
		switch {
		case t.is(sTemp) && t.val > mostFrost: // frost at 40 F
			return w, &diary.Question{Why: diary.Unclear, Word: t.s}
		case t.is(sPlace) || i < c.from || i >= c.to:
		case t.is(sRange) || t.is(sNum) && t.frac && len(t.parts) == 2:
			a, b := t.val, t.hi
			if t.frac {
				a, b = t.parts[0], t.parts[1]
			}
			day := p.numeric(*t, int(a), int(b), 0)
			if !day.is(sDate) {
				return w, &diary.Question{Why: diary.WhichDay, Word: t.s}
			}
			w = when{day: day.day, word: t.s}
		case t.is(sNum) && (t.unit != 0 || t.val < leastFrost || t.val > mostFrost):
			return w, &diary.Question{Why: diary.Unclear, Word: t.s}
		}
	}
	return w, nil
}
