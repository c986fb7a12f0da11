package reply

import "stubbled/scheduler/diary"

// mostFrost is the warmest air that counts as a frost, degrees F.
const mostFrost = 36

// How cold a bare number may say that the air was, degrees F: below the first it
// is a height, above the second nobody speaks of a night.
const (
	leastBareCold = 20
	mostBareCold  = 70
)

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
		if t := &toks[i]; t.is(sTemp) && t.val <= mostFrost {
			t.set |= sFrost
		}
	}
}

// coldIn looks at one sentence: its one number, which stands before any paddock.
func (p *parser) coldIn(toks []token) {
	number := -1
	for i := range toks {
		t := &toks[i]
		switch {
		case t.is(sPlace) && number < 0:
			return
		case t.is(sNum) && !t.is(sPlace):
			if number >= 0 || t.unit != 0 || t.frac {
				return // plants of a reading
			}
			number = i
		}
	}
	if number >= 0 {
		p.coldAt(toks, number)
	}
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
	case meter >= 0:
		for i := min(meter, number); i <= max(meter, number); i++ {
			toks[i].lex = lex{set: sCold} // low is no part of a herd here, said no hearsay
		}
	case val < leastBareCold || val > mostBareCold || !p.ofTheAir(toks[:number], night, past) && (!night || val > mostFrost || len(p.asked.Paddocks) > 0):
		return
	}
	t.lex = lex{set: sTemp, val: val}
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
	if place := p.colder(c); place >= 0 {
		c.facts = []diary.Fact{p.fact(diary.Frost, p.reader.places[place].ID, day.day)}
		return
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

// colder gives the one paddock that stands before a frost of no paddock in its
// sentence, with a temperature: creek 28 f, frost on the leaves; -1 where none does.
func (p *parser) colder(c *piece) int {
	if len(p.in(c, sPlace)) > 0 {
		return -1
	}
	from, _ := p.sentenceOf(c)
	var places []int
	cold := false
	for i := from; i < c.from; i++ {
		cold = cold || p.toks[i].is(sTemp)
		if p.toks[i].is(sPlace) && len(p.toks[i].places) == 1 {
			places = include(places, p.toks[i].places[0])
		}
	}
	if !cold || len(places) != 1 {
		return -1
	}
	return places[0]
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
	if t := &p.toks[frost]; t.is(sTemp) || p.reader.tells(t, hSign) {
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

// frostDay is the day of a frost: its numbers are a temperature or a day.
func (p *parser) frostDay(c *piece, w when) (when, *diary.Question) {
	for i := c.lo; i < c.hi; i++ {
		t := &p.toks[i]
		switch {
		case t.is(sTemp) && t.val > mostFrost: // no frost at 40 F
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
		case t.is(sNum) && (t.unit != 0 || t.val < 15 || t.val > mostFrost):
			return w, &diary.Question{Why: diary.Unclear, Word: t.s}
		}
	}
	return w, nil
}
