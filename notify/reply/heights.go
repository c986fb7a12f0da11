package reply

import (
	"math"
	"strings"

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

// round keeps a ten thousandth of an inch.
func round(x float64) float64 { return math.Round(x*1e4) / 1e4 }

// heightsIn gives the heights of a clause that was not read; nil where they
// are not clear.
func (p *parser) heightsIn(c *piece) []float64 {
	var toks []int
	for i := c.from; i < c.to; i++ {
		if p.toks[i].is(sNum) {
			toks = append(toks, i)
		}
	}
	if len(toks) == 0 {
		return nil
	}
	h, q := p.heightsOf(toks)
	if q != nil {
		return nil
	}
	return h
}

// buildReading makes the reading of one paddock.
func (p *parser) buildReading(pieces []piece, c *piece, w when) {
	nums := p.withoutAverage(c, c.get(inHeights))
	heights, q := p.heightsOf(nums)
	places, unclear := p.where(c, inPlace)
	if q != nil {
		if len(places) == 1 {
			q.Paddock = p.reader.places[places[0]].ID
		}
		c.ask = p.question(*q)
		return
	}
	make := func(id string) []diary.Fact {
		f := p.fact(diary.Reading, id, w.day)
		f.Heights = heights
		return []diary.Fact{f}
	}
	if unclear != nil {
		c.ask = p.whichPaddock(unclear.s, unclear.places, make)
		return
	}
	facts := make(p.reader.places[places[0]].ID)
	if word := p.notHeights(pieces, c, nums); word != "" {
		c.ask = p.question(diary.Question{Why: diary.Unclear, Word: word, Paddock: facts[0].Paddock,
			Choices: []diary.Choice{{Name: p.nameOf(facts[0].Paddock), Facts: facts}}})
		return
	}
	c.facts = facts
}

// withoutAverage drops an average that was sent along with the plants that it
// is of: 14 8 6 8 avg 9.
func (p *parser) withoutAverage(c *piece, nums []int) []int {
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

// notHeights gives a word that makes it doubtful that the numbers of a reading
// are the leaf heights of that day; empty where there is none.
func (p *parser) notHeights(pieces []piece, c *piece, nums []int) string {
	weak, measure, unit, was, now, avg := "", false, false, "", false, 0
	plants := -1
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		caught := p.caughtAt(c, i)
		switch {
		case t.is(sNum) && caught:
			unit = unit || t.unit != 0
		case t.is(sPlants):
			plants = int(t.val)
		case t.is(sWas):
			was = t.s
		case t.is(sWeak) || (t.is(sOn) && caught && !p.direct(c, i)) || (t.is(sIn) && !t.is(sAt) && caught):
			weak = t.s
		case t.is(sAvg):
			avg++
		case t.s == "got" && i > c.from && p.toks[i-1].is(sPlace) && len(nums) == 1:
			return t.s // creek got 2 inches: of rain?
		case t.is(sMeasure):
			measure = true
		}
		now = now || t.s == "now" || t.s == "right now" || t.s == "ahora" || t.s == "currently"
		if now && i > nums[0] && i < nums[len(nums)-1] {
			return t.s // 7, now 9
		}
	}
	if t := p.atNight(c); t != "" && len(nums) == 1 {
		return t
	}
	if t := p.coldMorning(c, nums); t != "" && was != "" {
		return t
	}
	switch {
	case p.meeting(c) && !unit && !measure:
		return p.toks[nums[0]].s
	case weak != "" && !unit && !measure && len(nums) == 1:
		return weak // has 9: cows?
	case weak != "" && !unit && p.toks[c.from].s == "got":
		return weak
	case was != "" && now:
		return was // was 9 now 7
	case avg > 0 && len(nums) > 1 && len(nums) == len(c.get(inHeights)):
		return p.toks[nums[len(nums)-1]].s // an average, and of what?
	case plants >= 0 && plants != len(nums) && !(len(nums) == 1 && avg > 0):
		return "plants"
	case p.ownName(c, nums):
		return p.toks[nums[0]].s
	}
	_ = pieces
	return ""
}

// direct reports whether 'on' stands right between numbers and a name: 9 on
// creek.
func (p *parser) direct(c *piece, i int) bool {
	return c.form == fNumberFirst && i > c.from && p.toks[i-1].is(sNum) && i+1 < c.to && p.toks[i+1].is(sPlace)
}

// ownName reports whether the name of a reading is a bare number word, which
// might be the first height of a list: nine 8.
func (p *parser) ownName(c *piece, nums []int) bool {
	for _, i := range c.get(inPlace) {
		if p.toks[i].is(sNum) && !(i+1 < len(p.toks) && p.toks[i+1].is(sColon)) {
			return true
		}
	}
	return false
}

func (p *parser) caughtAt(c *piece, i int) bool {
	for _, st := range c.caught {
		if st.tok == i {
			return true
		}
	}
	return false
}

// buildBare makes the reading of numbers that stand alone: more plants of the
// paddock that this person read just now, or of the only one asked about.
func (p *parser) buildBare(c *piece, w when, others bool) {
	nums := p.withoutAverage(c, c.get(inHeights))
	heights, q := p.heightsOf(nums)
	if q != nil {
		c.ask = p.question(*q)
		return
	}
	make := func(id string) []diary.Fact {
		f := p.fact(diary.Reading, id, w.day)
		f.Heights = heights
		return []diary.Fact{f}
	}
	recent := p.reader.index(p.asked.Recent)
	asked := p.askedPlaces()
	word := p.bareDoubt(c, nums)
	switch {
	case others || word != "":
		c.ask = p.whichPaddock(word, asked, make)
	case p.asked.Stale && (recent >= 0 || len(asked) == 1):
		id := p.asked.Recent
		if recent < 0 {
			id = p.reader.places[asked[0]].ID
		}
		c.ask = p.question(diary.Question{Why: diary.StaleText, Paddock: id,
			Choices: []diary.Choice{{Name: p.nameOf(id), Facts: make(id)}}})
	case recent >= 0 && w.day == p.day:
		c.facts = make(p.asked.Recent)
		c.facts[0].Adds = true
	case len(asked) == 1:
		c.facts = make(p.reader.places[asked[0]].ID)
	default:
		c.ask = p.whichPaddock("", asked, make)
	}
}

// bareDoubt gives a word that makes it doubtful that numbers alone are heights:
// 'has 9' may be heads, '40 12' may be North 40.
func (p *parser) bareDoubt(c *piece, nums []int) string {
	unit, be := false, false
	for _, i := range nums {
		unit = unit || p.toks[i].unit != 0
	}
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		be = be || t.is(sBe|sMeasure)
		if t.is(sAt) && !unit && !be && p.caughtAt(c, i) {
			return t.s // at 7: an hour
		}
		if t.is(sPlants) && int(t.val) != len(nums) {
			return "plants"
		}
		if (t.is(sWeak|sWas) || t.s == "got") && !unit {
			return t.s
		}
		if t.is(sUs) && !measures(p.toks[c.from:c.to]) {
			return t.s // we are 62
		}
	}
	if t := p.atNight(c); t != "" && len(nums) == 1 {
		return t
	}
	if t := p.coldMorning(c, nums); t != "" {
		return t
	}
	first := &p.toks[nums[0]]
	if len(nums) > 1 && first.val > 24 && p.reader.fields.hasNumber(first.val) {
		return first.s
	}
	return ""
}

// atNight gives the word of a clause that speaks of the night: it is more
// likely of rain than of a height.
func (p *parser) atNight(c *piece) string {
	for i := c.from; i < c.to; i++ {
		switch t := &p.toks[i]; t.s {
		case "last night", "last nite", "overnight", "yesterday night", "anoche", "last evening":
			return t.s
		}
	}
	return ""
}

// coldMorning gives a single number without a unit that is more likely a
// temperature: 29 this morning.
func (p *parser) coldMorning(c *piece, nums []int) string {
	t := &p.toks[nums[0]]
	if len(nums) > 1 || t.unit != 0 || t.val < 15 || t.val > 45 {
		return ""
	}
	for i := c.from; i < c.to; i++ {
		if u := &p.toks[i]; u.is(sDate|sClock) && (strings.Contains(u.s, "morn") || strings.Contains(u.s, "manana") || strings.Contains(u.s, "mañana") || strings.Contains(u.s, "am") || strings.Contains(u.s, "dawn")) {
			return t.s
		}
	}
	return ""
}

// meeting reports whether a clause reads 'at hill at 9': an hour, more likely.
func (p *parser) meeting(c *piece) bool {
	ats := 0
	for _, st := range c.caught {
		if p.toks[st.tok].s == "at" {
			ats++
		}
	}
	return ats > 1
}

func measures(toks []token) bool {
	for i := range toks {
		if toks[i].is(sMeasure) && toks[i].s != "got" {
			return true
		}
	}
	return false
}

// rangeAsked asks which height of a range is meant.
func (p *parser) rangeAsked(c *piece) *diary.Question {
	q := diary.Question{Why: diary.Range}
	if places, unclear := p.where(c, inPlace); unclear == nil && len(places) == 1 {
		q.Paddock = p.reader.places[places[0]].ID
	}
	if r := c.get(inRange); len(r) > 0 {
		q.Word = p.toks[r[0]].s
	}
	return p.question(q)
}

// nameAlone asks for the height of a paddock that stands by itself.
func (p *parser) nameAlone(c *piece) *diary.Question {
	places, unclear := p.where(c, inPlace)
	if unclear != nil {
		return p.whichPaddock(unclear.s, unclear.places, func(string) []diary.Fact { return nil })
	}
	return p.question(diary.Question{Why: diary.NoNumber, Paddock: p.reader.places[places[0]].ID})
}
