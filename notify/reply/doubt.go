package reply

import "strings"

// notHeights gives a word that makes it doubtful that the numbers of a reading
// are the leaf heights of that day; empty where there is none.
func (p *parser) notHeights(c *piece, nums []int) string {
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
		case t.is(sMeasure):
			measure = true
		}
		now = now || p.reader.hinted(t.s, hNow)
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
	if t := p.fell(c, nums); t != "" {
		return t
	}
	if p.headCount(c, nums) {
		return p.toks[nums[0]].s
	}
	switch {
	case p.meeting(c) && !unit && !measure:
		return p.toks[nums[0]].s
	case weak != "" && !unit && !measure && len(nums) == 1:
		return weak // has 9: cows?
	case weak != "" && !unit && p.reader.hinted(p.toks[c.from].s, hGot):
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
	return ""
}

// fell gives the verb of a clause that may tell of rain: got 2 inches. Leaves
// are seldom so short, and rain is seldom deeper.
func (p *parser) fell(c *piece, nums []int) string {
	if len(nums) > 1 {
		return ""
	}
	for i := c.from; i < c.to; i++ {
		switch t := &p.toks[i]; {
		case p.reader.hinted(t.s, hGot) && i > c.from && p.toks[i-1].is(sPlace):
			return t.s // creek got 9 inches
		case p.reader.hinted(t.s, hMayBeRain) && p.toks[nums[0]].val < 6:
			return t.s
		}
	}
	return ""
}

// headCount reports whether '38 on mill' may count heads: as many as a herd
// has, or more than leaves are often tall.
func (p *parser) headCount(c *piece, nums []int) bool {
	t := &p.toks[nums[0]]
	if c.form != fNumberFirst || len(nums) > 1 || strings.HasSuffix(t.s, "inches") || strings.HasSuffix(t.s, `"`) {
		return false
	}
	stands := strings.HasSuffix(t.s, " in") || strings.HasSuffix(t.s, "in") && t.unit == 1
	for i := c.from; i < c.to; i++ {
		stands = stands || p.toks[i].is(sOn) && p.caughtAt(c, i)
	}
	if !stands {
		return false
	}
	for _, h := range p.reader.herds {
		if h.Head > 0 && t.val == float64(h.Head) {
			return true
		}
	}
	return t.unit == 0 && t.val > 24
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

// bareDoubt gives a word that makes it doubtful that numbers alone are heights:
// 'has 9' may be heads, '40 12' may be North 40.
func (p *parser) bareDoubt(c *piece, nums []int) string {
	unit, be := false, false
	for _, i := range nums {
		unit = unit || p.toks[i].unit != 0
	}
	for i := c.from; i < c.to; i++ {
		t := &p.toks[i]
		be = be || t.is(sBe|sMeasure|sIt)
		if t.is(sAt) && !unit && !be && p.caughtAt(c, i) {
			return t.s // at 7: an hour
		}
		if t.is(sPlants) && int(t.val) != len(nums) {
			return "plants"
		}
		if (t.is(sWeak|sWas) || p.reader.hinted(t.s, hGot)) && !unit {
			return t.s
		}
		if t.is(sUs) && !p.measures(p.toks[c.from:c.to]) {
			return t.s // we are 62
		}
	}
	if t := p.atNight(c); t != "" && len(nums) == 1 {
		return t
	}
	if t := p.coldMorning(c, nums); t != "" {
		return t
	}
	if t := p.fell(c, nums); t != "" {
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
		if t := &p.toks[i]; p.reader.hinted(t.s, hNight) {
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
		if u := &p.toks[i]; u.is(sDate|sClock) && p.reader.holdsPart(u.s, hMorning) {
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

func (p *parser) measures(toks []token) bool {
	for i := range toks {
		if toks[i].is(sMeasure) && !p.reader.hinted(toks[i].s, hGot) {
			return true
		}
	}
	return false
}
