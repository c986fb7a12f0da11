package reply

import (
	"slices"
	"strings"

	"stubbled/scheduler/diary"
)

// answer takes a text for the answer to the question that waits: a letter, or
// a name alone. A number is never an answer: it is a height.
func (p *parser) answer() (Heard, bool) {
	words, asks := p.plainWords()
	if len(words) == 0 || len(words) > 8 || asks {
		return Heard{}, false
	}
	if p.asked.Emergency {
		if id := p.placeAlone(); id != "" {
			return Heard{Facts: []diary.Fact{p.fact(diary.Emergency, id, p.day)}}, true
		}
	}
	letter, isLetter := p.choiceLetter(words)
	choices := p.asked.Choices
	if len(choices) == 0 {
		if isLetter {
			return p.ask(diary.Question{Why: diary.Unclear, Word: words[len(words)-1]}), true
		}
		return Heard{}, false
	}
	if isLetter {
		if letter >= len(choices) {
			return p.ask(diary.Question{Why: diary.Unclear, Word: words[len(words)-1], Choices: choices}), true
		}
		return p.choose(letter), true
	}
	if len(choices) == 1 && loosens(choices[0]) {
		return p.lightly(choices[0], words)
	}
	if len(choices) == 1 && p.confirms(words) {
		return p.choose(0), true
	}
	if len(words) == 1 && p.reader.hinted(words[0], hNone) {
		return Heard{Nod: true, Answered: true}, true
	}
	if k := p.namedChoice(words); k >= 0 {
		return p.choose(k), true
	}
	return Heard{}, false
}

// loosens reports whether a choice empties a paddock, lifts a hold, ends a rest, stops
// the messages or takes back anything but a reading.
func loosens(c diary.Choice) bool {
	read := slices.ContainsFunc(c.Facts, func(f diary.Fact) bool { return f.Kind == diary.Reading })
	return slices.ContainsFunc(c.Facts, func(f diary.Fact) bool {
		return f.Kind == diary.Off || f.Kind == diary.Stop || f.Kind.Row().Looser || f.Kind == diary.Undo && !read
	})
}

// lightly answers what was said, without its letter, to a question whose one choice
// loosens: the same statement again confirms it, and a nod only brings the question
// again.
func (p *parser) lightly(c diary.Choice, words []string) (Heard, bool) {
	again := slices.Equal(words, plainWordsOf(c.Facts[0].Words))
	switch nod := p.confirms(words); {
	case again, nod && c.Facts[0].Kind == diary.Clear: // asked again with all that it lifts
		return p.choose(0), true
	case nod:
		return Heard{Ask: p.confirm(c.Facts)}, true
	}
	return Heard{}, false
}

// placeAlone is the paddock that a text names and says nothing else beside: in mill;
// empty where it does not.
func (p *parser) placeAlone() (id string) {
	for _, t := range p.tokens(p.text) {
		switch {
		case t.is(sPlace) && len(t.places) == 1 && id == "":
			id = p.reader.places[t.places[0]].ID
		case t.is(sPlace|sNum) || !t.is(sFill|sBe|sIt|sField|sStop|sComma|sAck|where|sBeast):
			return ""
		}
	}
	return id
}

// confirms reports whether a text is a yes, and nothing else.
func (p *parser) confirms(words []string) bool {
	toks := p.tokens(p.text)
	for i := range toks {
		if !toks[i].is(sAck | sStop | sComma | sFill) {
			return false
		}
	}
	return len(words) > 0 && len(toks) > 0 && slices.ContainsFunc(toks, func(t token) bool { return t.is(sAck) })
}

func (p *parser) choose(k int) Heard {
	if p.asked.Stale {
		return p.ask(diary.Question{Why: diary.StaleText, Choices: p.asked.Choices})
	}
	return Heard{Facts: append([]diary.Fact(nil), p.asked.Choices[k].Facts...), Answered: true}
}

// choiceLetter reads a, b), 'option c', 'la b'.
func (p *parser) choiceLetter(words []string) (int, bool) {
	if len(words) == 2 && p.reader.hinted(words[0], hChoice) {
		words = words[1:]
	}
	if len(words) != 1 || len(words[0]) != 1 || words[0] < "a" || words[0] > "d" {
		return 0, false
	}
	return int(words[0][0] - 'a'), true
}

// namedChoice finds the choice that a text names and says nothing else beside;
// -1 where none or several fit.
func (p *parser) namedChoice(words []string) int {
	for k, c := range p.asked.Choices {
		if strings.Join(words, " ") == strings.Join(plainWordsOf(c.Name), " ") {
			return k
		}
	}
	loose := slices.ContainsFunc(p.asked.Choices, loosens)
	var place, herd string
	for _, t := range p.tokens(p.text) {
		switch {
		case t.is(sPlace) && len(t.places) == 1 && place == "":
			place = p.reader.places[t.places[0]].ID
		case t.is(sHerd) && len(t.herds) == 1 && herd == "":
			herd = p.reader.herds[t.herds[0]].ID
		case loose && t.is(sChat) && !p.reader.hinted(t.s, hThanks): // lane looks good
			return -1
		case t.is(sFill|sBe|sChat|sIt|sField|sStop|sComma|sAck|sAt) || t.guard == gFix:
		default:
			return -1
		}
	}
	if (place == "") == (herd == "") {
		return -1
	}
	found := -1
	for k, c := range p.asked.Choices {
		for _, f := range c.Facts {
			if (place != "" && f.Paddock == place) || (herd != "" && f.Herd == herd) {
				if found >= 0 && found != k {
					return -1
				}
				found = k
			}
		}
	}
	return found
}

func plainWordsOf(s string) []string {
	var words []string
	for _, t := range scan(normalise(s)) {
		if t.kind != mark {
			words = append(words, fold(t.s))
		}
	}
	return words
}

// frozen answers the question whether it has frozen: a yes, or how hard or when, is
// a frost. A no lets animals in: it is put to a letter.
func (p *parser) frozen() (Heard, bool) {
	if p.asked.Frost && p.saysWhite() {
		return Heard{Facts: []diary.Fact{p.fact(diary.Frost, "", p.day)}}, true
	}
	air := func(t *token) bool { return t.is(sTemp) || t.is(sNum) && t.unit == 0 && t.val <= mostBareCold }
	warm := slices.ContainsFunc(p.toks, func(t token) bool { return air(&t) && t.val > mostFrost || p.reader.tells(&t, hDew) })
	opens, doubt := p.opensWithYes(), false // lol yes, cold as heck
	day := func(t token) bool { return t.is(sDate) && !t.is(sSoft) || t.is(sFill|sAbout|sStop) }
	yes, no, none, frost, chat := p.any(sDate) && !slices.ContainsFunc(p.toks, func(t token) bool { return !day(t) }), false, false, false, false // saturday morning
	for i := range p.toks {
		t := &p.toks[i]
		switch {
		case t.is(sCold) && t.guard == gToCome, t.is(sTemp|sCold) && warm: // none yet; low was 38
		case p.reader.tells(t, hYes) || p.reader.tells(t, hAllTheSame) || t.is(sCold) && !t.is(sChat|sFill|sFrost):
			yes = true
		case t.is(sFrost) && !t.is(sTemp):
			frost = true
		case air(t) && t.val > mostFrost, p.reader.tells(t, hDew): // nope, 38 at daylight
		case p.reader.tells(t, hNoTrace):
			no, none = true, !slices.ContainsFunc(p.toks, func(u token) bool { return u.guard == gToCome || u.is(sDate) && u.day != p.day })
		case no && p.reader.hinted(t.f, hNone) && !p.reader.hinted(t.f, hNotThat) && tokenAt(p.toks, i+1).kind == mark: // no, nada
			none = !slices.ContainsFunc(p.toks, func(u token) bool { return u.guard == gToCome || u.is(sStay) })
		case t.guard == gNegation:
			no = true
		case t.is(sChat) && !t.is(sFill):
			chat = true // no sir
		case warm && (p.reader.tells(t, hFrosted) || p.reader.tells(t, hOfAir)): // 39 at the house; it got to 38
		case t.is(sFill|sDate|sIt|sBe|sWas|sComma|sStop|sAck|sAbout|sPlace|where|sAll|sGrass) || p.reader.hinted(t.f, hGround):
		case !opens || t.is(anchors&^sTemp) && !(t.is(sNum) && t.val >= leastFrost && !p.any(sPlace)) || t.is(sBeast) || warm:
			return Heard{}, false
		case t.guard != noGuard && t.guard != gThing && t.guard != gUnknown && !p.ofFrost(t):
			doubt = true // yes, i think so
		}
	}
	switch {
	case !p.asked.Frost || warm && !no || yes == no || yes && chat && !opens || no && (frost || p.any(sPlace)):
		return Heard{}, false
	case yes && doubt: // a yes is never lost
		return Heard{Ask: p.confirm([]diary.Fact{p.fact(diary.Frost, "", p.day)})}, true
	case no && (warm || none):
		return Heard{Facts: []diary.Fact{p.fact(diary.NoFrost, "", p.day)}}, true
	case no:
		return Heard{Ask: p.confirm([]diary.Fact{p.fact(diary.NoFrost, "", p.day)})}, true
	}
	var h Heard
	places, _ := p.placesIn(p.tokensOf(sPlace))
	w := p.dayIn(0, len(p.toks))
	for _, i := range places {
		h.Facts = append(h.Facts, p.fact(diary.Frost, p.reader.places[i].ID, w.day))
	}
	if len(places) == 0 {
		h.Facts = []diary.Fact{p.fact(diary.Frost, "", w.day)}
	}
	return h, true
}

// frozenThen takes a yes that names when it froze, or goes on, for the frost where a
// paddock's height follows it: yes this morning, and hill 8 9 8.
func (p *parser) frozenThen() {
	if !p.asked.Frost || len(p.toks) == 0 || !p.reader.tells(&p.toks[0], hYes) {
		return
	}
	end, dated := 1, len(p.toks) > 1 && (p.toks[1].is(sAnd) || p.toks[1].is(sComma) && len(p.asked.Paddocks) == 0)
	for ; end < len(p.toks) && p.toks[end].is(sDate|sFill|sIt|sBe|sWas|sComma) && !p.toks[end].is(sAnd); end++ {
		dated = dated || p.toks[end].is(sDate)
	}
	if rest := p.toks[end:]; dated && len(rest) > 2 && rest[0].is(sAnd|sStop|sPlace) && slices.ContainsFunc(rest, func(t token) bool { return t.is(sNum) && !t.is(sTemp) }) {
		p.toks[0].lex = lex{set: sFrost}
	}
}

// opensWithYes reports whether a text begins with a yes, behind talk or a mark.
func (p *parser) opensWithYes() bool {
	begins := true
	for i := range p.toks {
		t := &p.toks[i]
		if yes := p.reader.tells(t, hYes) || p.reader.tells(t, hAllTheSame); yes && (begins || t.is(sAck) && p.toks[i-1].is(sComma|sStop)) {
			return true
		}
		begins = begins && t.is(sChat|sFill|sComma|sStop|sAck)
	}
	return false
}

// saysWhite reports whether a text is a yes, names no paddock and tells of white or of
// frost: yep, white clear to the road.
func (p *parser) saysWhite() bool {
	white := false
	for i := range p.toks {
		t := &p.toks[i]
		next := i+1 < len(p.toks) && p.toks[i+1].kind == word && (p.toks[i+1].guard == gThing || p.toks[i+1].set == 0 && p.toks[i+1].guard == noGuard)
		if p.reader.tells(t, hWhite) && next || t.is(sPlace|sNum|sHerd|sStock|sBeast) || t.guard != noGuard && t.guard != gThing && t.guard != gWhen {
			return false
		}
		white = white || t.is(sFrost) || p.reader.tells(t, hWhite) || p.reader.tells(t, hSign) && !tokenAt(p.toks, i+1).is(sTo)
	}
	return white && len(p.toks) > 1 && p.reader.tells(&p.toks[0], hYes)
}

// tokensOf lists the tokens that may be something.
func (p *parser) tokensOf(set senses) []int {
	return p.in(&piece{clause: clause{to: len(p.toks)}}, set)
}
