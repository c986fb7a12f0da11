package reply

// rainFits reports whether the number of a span is how much fell: it stands
// right beside the rain, and is all that a bare 'rain' says.
func (p *parser) rainFits(s *span) bool {
	t := &p.toks[s.eventAt]
	if s.nums == 0 {
		return t.guard == noGuard || t.val > 0
	}
	if s.nums > 1 || p.amount(&p.toks[s.firstNum]) > mostRain {
		return false
	}
	if t.guard == noGuard && s.named == 1 && s.eventAt < s.places[0] && s.places[0] < s.firstNum { // rained on creek 2 inches
		return p.sideBySide(s.eventAt, s.places[0]) && p.sideBySide(s.places[0], s.firstNum)
	}
	return p.sideBySide(min(s.firstNum, s.eventAt), max(s.firstNum, s.eventAt)) || p.rainAlone(s)
}

// rainAlone reports whether a sentence tells of rain and one number alone: rain,
// 1.5; slow rain last night, an inch.
func (p *parser) rainAlone(s *span) bool {
	from, to := s.from, s.lastNum+1
	for from > 0 && !p.toks[from-1].is(sStop) {
		from--
	}
	for to < len(p.toks) && !p.toks[to].is(sStop) {
		to++
	}
	for i := from; i < to; i++ {
		if t := &p.toks[i]; i != s.firstNum && i != s.eventAt && t.is(anchors) && !t.is(soft) && t.event != eRain {
			return false
		}
	}
	return s.named == 0
}

// placesFrost reports whether a name behind a frost and a comma says where it was, and
// begins nothing else: frost this morning, lower slough.
func (p *parser) placesFrost(frost, i int) bool {
	end := i + 1
	for end < len(p.toks) && p.toks[end].is(sAnd|sPlace|sAll|sFill|sAbout|sCold) {
		end++
	}
	if end < len(p.toks) && !p.toks[end].is(sStop|sComma) {
		return false
	}
	for k := frost + 1; k < i && p.chart.prep[i] == 0; k++ {
		if !p.toks[k].is(sDate | sComma | sCold | sFill | sClock | sPlace | sAnd) {
			return false
		}
	}
	return true
}

// sideBySide reports whether nothing that counts stands between two tokens.
func (p *parser) sideBySide(i, j int) bool {
	for k := i + 1; k < j; k++ {
		if !p.toks[k].is(sFill|sMeasure|sAbout|sBe|sWas|sColon|sDash|sWeak|where) || p.toks[k].is(sPlace) {
			return false
		}
	}
	return true
}

// listEnds reports whether the numbers of a span are a whole list: none goes on
// before it or behind it.
func (p *parser) listEnds(s *span) bool {
	before, behind := s.firstNum-1, s.lastNum+1
	for before >= 0 && p.toks[before].is(listMarks) && !p.toks[before].is(sPlace|sNum) {
		before--
	}
	for behind < len(p.toks) && p.toks[behind].is(listMarks) && !p.toks[behind].is(sPlace|sNum) {
		behind++
	}
	is := func(i int) bool {
		return p.toks[i].is(sNum) && !p.toks[i].is(sPlace) && !(i+1 < len(p.toks) && p.toks[i+1].event == eRain)
	}
	return !(before >= 0 && is(before)) && !(behind < len(p.toks) && is(behind))
}

// inTwoParts reports whether a comma stands between a paddock and what is said
// of another: dead cow in shade, frost in creek.
func (p *parser) inTwoParts(s *span, at int) bool {
	n := min(s.named, len(s.places))
	return n > 1 && s.places[0] < at && s.places[n-1] > at && p.parted(s.places[0], at)
}

// parted reports whether a comma stands between two tokens.
func (p *parser) parted(i, j int) bool {
	for k := i + 1; k < j; k++ {
		if p.toks[k].is(sComma) {
			return true
		}
	}
	return false
}

// frostFits reports whether the paddocks of a frost belong to it: they stand
// before it, right behind it, or behind a small word.
func (p *parser) frostFits(s *span) bool {
	if p.inTwoParts(s, s.frostAt) {
		return false
	}
	for k := range min(s.named, len(s.places)) {
		i := s.places[k]
		if i < s.frostAt {
			if p.toks[s.frostAt].is(sTemp) && p.parted(i, s.frostAt) {
				return false // frost at creek, 31 degrees
			}
			continue
		}
		if k == 0 || s.places[k-1] < s.frostAt {
			if p.parted(s.frostAt, i) && !p.placesFrost(s.frostAt, i) {
				return false // upper had frost, lane did not
			}
		}
		if p.chart.prep[i] != 0 {
			continue
		}
		for j := i - 1; j > s.frostAt; j-- {
			if p.toks[j].is(sDate|sSoft) && i+1 < len(p.toks) && !p.toks[i+1].is(sStop|sComma) {
				return false // froze last night lane looks bad
			}
		}
	}
	return s.named <= len(s.places)
}

// coldOrDay reports whether the one number of a span about frost is how cold it
// was, degrees F, or its day.
func (p *parser) coldOrDay(s *span) bool {
	if s.ranges == 1 {
		return s.nums == 0
	}
	if s.nums != 1 || s.firstNum < s.frostAt && p.parted(s.firstNum, s.frostAt) {
		return false
	}
	t := &p.toks[s.firstNum]
	return t.unit == 0 && (t.frac && len(t.parts) == 2 || t.val >= leastFrost && t.val <= mostFrost) && (s.bare == 0 || s.firstNum < s.places[0])
}

// enumerated reports whether two names stand in one list.
func (p *parser) enumerated(i, j int) bool {
	for k := i + 1; k < j; k++ {
		if !p.toks[k].is(sComma | sAnd | sSlash | sFill | sField) {
			return false
		}
	}
	return true
}

// behindEvent reports whether an event stands right before token i: cut hay off
// creek says nothing of animals.
func (p *parser) behindEvent(i int) bool {
	over := sFill | sHerd | sStock | sBeast
	if p.toks[i].is(sOff) && p.chart.prep[min(i+1, len(p.toks)-1)] == 0 {
		over |= sPlace // burned the oaks off
	}
	strange := 0 // mowed the weeds on short
	for i--; i >= 0 && (p.toks[i].is(over) || p.strange(i) && strange == 0) && !p.toks[i].is(sComma); i-- {
		strange += int(flag(p.strange(i)))
	}
	if strange > 0 && i >= 0 && p.toks[i].event != eHayed {
		return false
	}
	return i >= 0 && (p.toks[i].is(sFrost) || p.toks[i].is(sDead) || p.toks[i].event != noEvent && p.toks[i].event != eRain)
}

// any reports whether a text holds a word that may be something.
func (p *parser) any(set senses) bool {
	for i := range p.toks {
		if p.toks[i].is(set) {
			return true
		}
	}
	return false
}
