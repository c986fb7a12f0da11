package reply

import (
	"math"
	"slices"

	"stubbled/scheduler/diary"
)

// tallest is the greatest leaf height that is believed, in inches; the tallest
// of these grasses, eastern gamagrass, reaches about 8 ft (from memory).
const tallest = 120

// mostHeights is how many plants one text may read in one paddock.
const mostHeights = 60

// heightsOf gives the heights of a clause in inches. A question tells what is
// wrong with them.
func (p *parser) heightsOf(toks []int) ([]float64, *diary.Question) {
	if len(toks) > mostHeights {
		return nil, &diary.Question{Why: diary.TooLong}
	}
	unit, mixed, bare := 0.0, false, 0
	for _, i := range toks {
		switch u := p.toks[i].unit; {
		case u == 0:
			bare++
		case unit != 0 && u != unit:
			mixed = true
		default:
			unit = u
		}
	}
	if len(toks) == 2 && mixed && bare == 0 && p.sameLength(toks[0], toks[1]) {
		toks = toks[:1] // 15 inches (38 cm)
	}
	if bare > 0 && (mixed || unit == 12 || unit > 12) { // 8 9 1 ft
		return nil, &diary.Question{Why: diary.Unclear, Word: p.toks[toks[0]].s}
	}
	if unit == 0 {
		unit = p.reader.units.inches()
	}
	var heights []float64
	for _, i := range toks {
		u := p.toks[i].unit
		if u == 0 {
			u = unit
		}
		if p.toks[i].frac && p.toks[i].unit == 0 { // pasture 3 1/2
			return nil, &diary.Question{Why: diary.Unclear, Word: p.toks[i].s}
		}
		h := round(p.toks[i].val * u)
		if !(h > 0 && h <= tallest) {
			return nil, &diary.Question{Why: diary.ImpossibleHeight, Word: p.toks[i].s}
		}
		heights = append(heights, h)
	}
	return heights, nil
}

// sameLength reports whether two numbers in different units are one height.
func (p *parser) sameLength(i, j int) bool {
	a, b := &p.toks[i], &p.toks[j]
	return math.Abs(a.val*a.unit-b.val*b.unit) < 0.5
}

// round keeps a ten thousandth of an inch.
func round(x float64) float64 { return math.Round(x*1e4) / 1e4 }

// numbersIn lists the tokens of a clause that may be heights.
func (p *parser) numbersIn(c *piece) []int {
	var list []int
	for i := c.from; i < c.to; i++ {
		if t := &p.toks[i]; t.is(sNum) && !t.is(sPlace) {
			list = append(list, i)
		}
	}
	return list
}

// buildReading makes the reading of the paddocks that a clause names.
func (p *parser) buildReading(c *piece, w when) {
	heights, q := p.heightsOf(p.withoutAverage(p.numbersIn(c)))
	places, unclear := p.placesIn(p.in(c, sPlace))
	if q != nil {
		if len(places) == 1 {
			q.Paddock = p.reader.places[places[0]].ID
		}
		c.ask = p.question(*q)
		return
	}
	of := func(id string) []diary.Fact {
		f := p.fact(diary.Reading, id, w.day)
		f.Heights, f.Herd = heights, p.herdIn(c)
		return []diary.Fact{f}
	}
	if unclear != nil {
		c.ask = p.whichPaddock(unclear.s, unclear.places, of)
		return
	}
	for _, x := range places {
		c.facts = append(c.facts, of(p.reader.places[x].ID)...)
	}
}

// herdIn is the herd that a clause of heights names, for which they were read; empty
// where it names none.
func (p *parser) herdIn(c *piece) string {
	for _, i := range p.in(c, sHerd) {
		if t := &p.toks[i]; len(t.herds) > 0 {
			return p.reader.herds[t.herds[0]].ID
		}
	}
	return ""
}

// withoutAverage drops an average that was sent along with the plants that it
// is of: 14 8 6 8 avg 9.
func (p *parser) withoutAverage(nums []int) []int {
	n := len(nums)
	if n < 3 {
		return nums
	}
	is := func(avg int, of []int) bool {
		sum := 0.0
		for _, i := range of {
			sum += p.toks[i].val
		}
		return avg > 0 && p.toks[avg-1].is(sAvg) && math.Abs(sum/float64(len(of))-p.toks[avg].val) <= 0.6
	}
	switch {
	case is(nums[n-1], nums[:n-1]):
		return nums[:n-1]
	case is(nums[0], nums[1:]):
		return nums[1:]
	}
	return nums
}

// buildBare makes the reading of numbers that stand alone: of the paddock that
// the text names elsewhere, more plants of the one that this person read just
// now, or of the only one asked about.
func (p *parser) buildBare(pieces []piece, c *piece, w when) {
	heights, q := p.heightsOf(p.withoutAverage(p.numbersIn(c)))
	if q != nil {
		c.ask = p.question(*q)
		return
	}
	of := func(id string) []diary.Fact {
		f := p.fact(diary.Reading, id, w.day)
		f.Heights = heights
		return []diary.Fact{f}
	}
	recent, asked := p.reader.index(p.asked.Recent), p.askedPlaces()
	told := p.told(pieces, fReading, fMove)
	left, hay := p.leftOf(pieces, c), p.stubbleOf(pieces, c)
	switch {
	case left != nil:
		c.inText, c.facts = true, of(left.facts[0].Paddock)
	case hay != nil:
		hay.facts[0].Heights = heights
	case len(asked) == 2 && len(told) == 0 && !p.asked.Stale && p.anyIn(c, func(t *token) bool { return p.reader.hinted(t.f, hBoth) }):
		c.facts = append(of(p.asked.Paddocks[0]), of(p.asked.Paddocks[1])...)
	case !slices.ContainsFunc(p.toks[:c.from], func(t token) bool { return t.is(sPlace) }) && p.fellAlone(c, heights):
		f := p.fact(diary.Rain, "", w.day)
		f.Amount = p.amount(&p.toks[p.numbersIn(c)[0]])
		c.facts = []diary.Fact{f}
	case len(told) == 1 && p.namedBefore(c, told[0]):
		c.inText = true
		c.facts = of(p.reader.places[told[0]].ID)
	case len(told) != 1 && p.nearest(c) >= 0 && (p.toks[c.to-1].unit != 0 || len(p.numbersIn(c)) > 2 || p.anyIn(c, func(t *token) bool { return t.is(sIt | sMeasure) })):
		c.inText, c.afar = true, true
		c.facts = of(p.reader.places[p.nearest(c)].ID)
	case p.saysMore(pieces, c) && !(len(asked) == 1 && p.thenOthers(pieces, c)):
		c.ask = p.whichPaddock("", asked, of)
	case p.asked.Stale && (recent >= 0 || len(asked) == 1):
		id := p.asked.Recent
		if recent < 0 {
			id = p.reader.places[asked[0]].ID
		}
		c.ask = p.question(diary.Question{Why: diary.StaleText, Paddock: id,
			Choices: []diary.Choice{{Name: p.nameOf(id), Facts: of(id)}}})
	case recent >= 0 && w.day == p.day:
		c.facts = of(p.asked.Recent)
		c.facts[0].Adds = true
	case len(asked) == 1:
		c.facts = of(p.reader.places[asked[0]].ID)
	default:
		c.ask = p.whichPaddock("", asked, of)
	}
}

// leftOf is the clause before one, in its sentence, that empties one paddock, where the
// heights of this one are said to be what was left: off lower, left 8; nil where there
// is none.
func (p *parser) leftOf(pieces []piece, c *piece) *piece {
	i := c.from - 1
	for i >= 0 && p.toks[i].is(sAbout|sIt|sFill) && !p.toks[i].is(sLeft) {
		i--
	}
	if i < 0 || !p.reader.tells(&p.toks[i], hLeftBehind) || p.toks[c.from].val < leastLeft {
		return nil
	}
	for k := range pieces {
		d := &pieces[k]
		if (d.form == fOff || d.form == fMove) && d.sentence >= c.sentence-1 && d.to <= c.from && len(d.facts) > 0 && len(p.toks[d.to:c.from]) <= longestAside {
			return d
		}
	}
	return nil
}

// longestAside is how many words may stand between animals that left and what they left:
// came off creek and went to the hill. They left me 5 inches.
const longestAside = 10

// stubbleOf is the clause before one, in its sentence, that tells of hay of one paddock
// and no height: baled ten mile, 5 inch stubble; nil where there is none.
func (p *parser) stubbleOf(pieces []piece, c *piece) *piece {
	for i := range pieces {
		left := c.from > 0 && pieces[i].sentence == c.sentence-1 && slices.ContainsFunc(p.toks[pieces[i].to:max(c.from, pieces[i].to)], func(t token) bool { return p.reader.tells(&t, hLeftBehind) })
		if d := &pieces[i]; d.event == eHayed && (d.sentence == c.sentence || left) && d.to <= c.from && len(d.facts) == 1 && len(p.in(d, sPlace)) > 0 && len(d.facts[0].Heights) == 0 {
			return d
		}
	}
	return nil
}

// fellAlone reports whether a number by itself is how much of a rain fell that the
// sentence before it tells of: rain at last! 1.1 at the barn.
func (p *parser) fellAlone(c *piece, heights []float64) bool {
	asks := len(p.askedPlaces()) > 0 && p.toks[c.to-1].unit == 0 && heights[0] == float64(int(heights[0]))
	if len(heights) != 1 || heights[0] > mostRainAlone || asks {
		return false
	}
	for i := c.from - 1; i >= 0; i-- { // rain! 1.1 at the barn
		if t := &p.toks[i]; t.is(sPlace|sNum) || t.event == eRain || t.guard == gRain {
			return t.guard == gRain || t.event == eRain && t.val == 0
		}
	}
	return false
}

// mostRainAlone is the most that a number by itself may say of a rain, inches: from
// there on it may be a height (an assumption).
const mostRainAlone = 4

// namedBefore reports whether a paddock is named before a clause.
func (p *parser) namedBefore(c *piece, place int) bool {
	for i := range p.toks[:c.from] {
		if t := &p.toks[i]; t.is(sPlace) && len(t.places) == 1 && t.places[0] == place {
			return true
		}
	}
	return false
}

// nearest gives the paddock that was named last before a clause, in its sentence or
// the one before; -1 where there is none, or another may be meant.
func (p *parser) nearest(c *piece) int {
	stops := 0
	for i := c.from - 1; i >= 0 && stops < 2; i-- {
		t := &p.toks[i]
		if t.is(sStop) && i+1 < len(p.toks) && !p.toks[i+1].is(sStop) {
			stops++
		}
		if t.is(sPlace) && stops < 2 {
			if len(t.places) != 1 {
				return -1
			}
			return t.places[0]
		}
	}
	return -1
}

// saysMore reports whether a text says something of a paddock beside a clause.
func (p *parser) saysMore(pieces []piece, c *piece) bool {
	for i := range pieces {
		if d := &pieces[i]; d != c && d.form != fFrost && d.form != fNoFrost && d.form != fStatus && d.event != eRain {
			return true
		}
	}
	return false
}

// thenOthers reports whether nothing but readings of paddocks that were not asked
// about follow a clause: 9, hill 7.
func (p *parser) thenOthers(pieces []piece, c *piece) bool {
	for i := range pieces {
		if d := &pieces[i]; d != c && (d.form != fReading || d.from < c.to || !p.parted(c.to-1, d.from) || !p.toks[d.from].is(sPlace) || p.askedAbout(p.toks[d.from].places[0])) {
			return false
		}
	}
	return true
}

// rangeAsked asks which height of a range is meant.
func (p *parser) rangeAsked(c *piece) *diary.Question {
	q := diary.Question{Why: diary.Range}
	if places, unclear := p.placesIn(p.in(c, sPlace)); unclear == nil && len(places) == 1 {
		q.Paddock = p.reader.places[places[0]].ID
	}
	if r := p.in(c, sRange); len(r) > 0 {
		q.Word = p.toks[r[0]].s
	}
	return p.question(q)
}

// nameAlone asks for the height of a paddock that stands by itself.
func (p *parser) nameAlone(c *piece) *diary.Question {
	places, unclear := p.placesIn(p.in(c, sPlace))
	if unclear != nil {
		return p.whichPaddock(unclear.s, unclear.places, func(string) []diary.Fact { return nil })
	}
	return p.question(diary.Question{Why: diary.NoNumber, Paddock: p.reader.places[places[0]].ID})
}
