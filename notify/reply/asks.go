package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// asking finds the stretches that are a question: to the mark, or from a word
// that begins one.
func (p *parser) asking(list []stretch) {
	for k := 0; k < len(list); {
		next := k
		for next < len(list) && list[next].sentence == list[k].sentence {
			next++
		}
		last := list[next-1].to
		from, marked := -1, last < len(p.toks) && p.asksAt(last)
		for j := k; j < next; j++ {
			if i := p.opens(list[j]); i >= 0 && !(p.reader.hinted(p.toks[i].f, hJoins) && !marked && p.dead(list[k].from, last)) && (from < 0 || marked && j == next-1) {
				from = list[j].from
				if j > k && !marked {
					from = i
				}
			}
		}
		if from < 0 && marked && !p.dead(list[k].from, last) {
			from = list[k].from
		}
		if from >= 0 {
			p.warnings = append(p.warnings, warning{guard: gAsk, at: from, from: from, to: last})
			p.asks = append(p.asks, [2]int{from, last})
		} else {
			p.askWords(list[k:next])
		}
		k = next
	}
}

// dead reports whether some tokens tell of an animal that is dead or ill: whoever does
// so asks nothing, whatever the mark behind it.
func (p *parser) dead(from, to int) bool {
	return slices.ContainsFunc(p.toks[from:to], func(t token) bool { return t.is(sDead) }) && slices.ContainsFunc(p.toks[from:to], func(t token) bool { return t.is(sBeast | sHerd | sStock) })
}

// askWords lets a word that asks in the middle of a sentence reach to the end of
// its stretch.
func (p *parser) askWords(list []stretch) {
	for _, s := range list {
		for i := s.from; i < s.to; i++ {
			if p.reader.hinted(p.toks[i].s, hModal) && i > s.from && p.toks[i-1].is(sStock|sHerd|sChat|sPlace) {
				continue
			}
			if p.toks[i].guard == gAsk && !p.toks[i].is(sPlace|sHerd) && !p.readsOn(i+1) {
				p.warnings = append(p.warnings, warning{guard: gAsk, at: i, from: i, to: s.to})
			}
		}
	}
}

// asksAt reports whether a question mark stands among the stops at token i.
func (p *parser) asksAt(i int) bool {
	for ; i < len(p.toks) && p.toks[i].is(sStop); i++ {
		if p.toks[i].s == "?" || p.reader.hinted(p.toks[i].s, hQuestionMark) {
			return true
		}
	}
	return false
}

// opens gives the token that makes a stretch begin as a question; -1 where
// none does.
func (p *parser) opens(s stretch) int {
	for i := s.from; i < s.to; i++ {
		t := &p.toks[i]
		if p.reader.hinted(t.s, hModal) && i > s.from && p.toks[i-1].is(sStock|sHerd|sChat|sPlace) {
			return -1 // they can stay
		}
		if t.guard == gAsk && !t.is(sPlace|sHerd) && !p.readsOn(i+1) {
			return i
		}
		if p.reader.hinted(t.s, hBeginsQuestion) && t.is(sBe|sWas) && i+1 < s.to && !(i > s.from && p.reader.hinted(p.toks[i-1].s, hSubject)) &&
			(p.toks[i+1].is(sFill|sStock|sHerd|sPlace|sAll|sIt) || p.toks[i+1].stock != noStock) {
			return i
		}
		if !t.is(sFill|sAck|sChat) || t.is(sDate) {
			return -1
		}
	}
	return -1
}

// readsOn reports whether a name and its heights stand at token i: ok did creek.
// 7 8 9
func (p *parser) readsOn(i int) bool {
	at := i - 1
	for i < len(p.toks) && p.toks[i].is(sFill) && !p.toks[i].is(sPlace) {
		i++
	}
	if i >= len(p.toks) || !p.toks[i].is(sPlace) {
		return false
	}
	if end := p.sentenceEnd(i); p.reader.hinted(p.toks[at].s, hDid) && !p.asksAt(end) { // did the 160, its 13
		return slices.ContainsFunc(p.toks[i:end], func(t token) bool { return t.is(sNum) && !t.is(sPlace) })
	}
	for i++; i < len(p.toks) && p.toks[i].is(sColon|sComma); i++ {
	}
	return i < len(p.toks) && p.toks[i].is(sNum) && !p.toks[i].is(sPlace)
}

// sentenceEnd is where the sentence of token i ends.
func (p *parser) sentenceEnd(i int) int {
	for i < len(p.toks) && !p.toks[i].is(sStop) {
		i++
	}
	return i
}

// asksHerd makes a question of a herd, or of all.
func (p *parser) asksHerd(k diary.Kind, s slots) Heard {
	of := func(id string) []diary.Fact { return []diary.Fact{{Kind: k, Herd: id, Words: p.words}} }
	switch {
	case s.herd && len(s.herds) > 1:
		return Heard{Ask: p.whichHerd(s.herds, of)}
	case len(s.herds) == 1:
		return Heard{Facts: of(p.reader.herds[s.herds[0]].ID)}
	}
	return Heard{Facts: of("")}
}

// asksPlace makes a question of a paddock, or of the farm where none is named.
func (p *parser) asksPlace(k diary.Kind, s slots) Heard {
	of := func(id string) []diary.Fact { return []diary.Fact{{Kind: k, Paddock: id, Words: p.words}} }
	if s.places == nil {
		return Heard{Facts: of("")}
	}
	return p.ofPlaces(s, of)
}

// ofPlaces are facts of the one paddock that a name stands for, else the question
// which.
func (p *parser) ofPlaces(s slots, of func(id string) []diary.Fact) Heard {
	if len(s.places) != 1 {
		return Heard{Ask: p.whichPaddock("", s.places, of)}
	}
	return Heard{Facts: of(p.reader.places[s.places[0]].ID)}
}
