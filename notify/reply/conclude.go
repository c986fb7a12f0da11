package reply

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// conclude gathers what was understood: what is sure is written down, whatever
// became of the rest; what is likely is put to a letter in one question.
func (p *parser) conclude(pieces []piece) Heard {
	var h Heard
	var guess []diary.Fact
	for i := range pieces {
		c := &pieces[i]
		if (c.form == fPlace || c.form == fBare || c.form == fFrost || c.event == eRegrowth || c.event == eClear) && p.mentioned(pieces, c) {
			c.dropped = true
			continue
		}
		if p.noMatter(pieces, c) || c.form == fStatus && len(p.in(c, sPlace)) == 0 && p.readsAny(pieces) {
			c.dropped = true
			continue
		}
		if c.form == fBare && c.inText && p.askedReading(pieces, c) {
			c.level = asked // 11 on the north side, 8 on the slope
		}
		if c.form == fBare && !c.inText && !p.countsThings(pieces, c) {
			if q := p.likeName(c); q != nil {
				c.ask, c.facts, c.level = q, nil, max(c.level, likely)
			}
		}
		switch {
		case c.level == sure && c.ask == nil, c.level == likely && p.harmless(c):
			h.Facts = append(h.Facts, c.facts...)
		case c.level >= likely && c.ask != nil:
			h.Facts = append(h.Facts, c.facts...)
			h.Ask = first(h.Ask, c.ask)
		case c.level == likely:
			guess = append(guess, c.facts...)
		}
	}
	if slices.ContainsFunc(slices.Concat(h.Facts, guess), func(f diary.Fact) bool { return f.Kind == diary.Frost }) { // a frost, but no freeze
		h.Facts = slices.DeleteFunc(h.Facts, func(f diary.Fact) bool { return f.Kind == diary.NoFrost })
	}
	guess = slices.DeleteFunc(guess, func(f diary.Fact) bool {
		return slices.ContainsFunc(h.Facts, func(g diary.Fact) bool { return tells(g, f) })
	})
	h.Facts, guess = inAgain(pieces, p.merge(h.Facts)), inAgain(pieces, p.merge(guess))
	for i, f := range h.Facts {
		if f.Kind == diary.Undo && (i > 0 || p.beforeUndo(pieces)) { // undo stands first, or it might mean what was said just before it
			return p.ask(diary.Question{Why: diary.Unclear, Word: string(diary.Undo)})
		}
	}
	if q := p.contradiction(slices.Concat(h.Facts, guess, offered(h.Ask))); q != nil {
		return Heard{Ask: q}
	}
	if len(guess) > 0 && h.Ask == nil {
		h.Ask = p.confirm(guess)
	}
	if h.Ask == nil {
		h.Ask = p.leftOver(pieces, len(h.Facts) > 0)
	}
	if len(h.Facts) == 0 && h.Ask == nil {
		return p.nothing()
	}
	if h.Ask == nil {
		h.Ask = p.whatElse(h.Facts)
	}
	return h
}

// tells reports whether a fact that is written down says what a likely one would.
func tells(sure, guess diary.Fact) bool {
	return sure.Kind == guess.Kind && sure.Day == guess.Day && (sure.Herd == guess.Herd || sure.Herd == "" && sure.Kind == diary.Off) && (sure.Paddock == guess.Paddock || sure.Kind == diary.Frost && guess.Paddock == "") && len(guess.Heights) == 0
}

// noMatter reports whether a clause asks something that what is told besides makes idle:
// who went where a height was read, when supper is, or whether ground that was read is dry.
func (p *parser) noMatter(pieces []piece, c *piece) bool {
	read := p.readsAny(pieces)
	if c.form != fRange && read && c.counts[wEveryday] > 0 && c.ask != nil && c.level < sure {
		return true // the church supper is at six on Wednesday
	}
	switch c.form {
	case fBare:
		return p.saysAgain(pieces, c) || p.whenMoved(pieces, c) || read && c.facts == nil && (p.isAppointment(c) || c.counts[wBehindNumber] > 0 || p.toks[c.from].val > tallLeaf/2) || p.countsOthers(pieces, c)
	case fReading:
		return p.anyIn(c, func(t *token) bool { return t.is(sThat) }) && p.saysAgain(pieces, c)
	case fRange: // they beat Harlow 34 to 6
		return read && !p.speaksOfHeights(c, sMeasure|sGrass|sPlace)
	case fStatus: // creek is looking amazing?? 13 inches
		return len(c.facts) > 0 && surely(pieces, func(d *piece) bool {
			return d.facts[0].Kind == diary.Reading && d.facts[0].Paddock == c.facts[0].Paddock
		})
	case fOn:
		return p.whoIsTold(pieces, c)
	}
	return c.ask != nil && c.ask.Why == diary.NotAllowed && c.event == eDry && surely(pieces, func(d *piece) bool { return d.form == fReading })
}

// surely reports whether a clause that is written down is as asked.
func surely(pieces []piece, is func(d *piece) bool) bool {
	for i := range pieces {
		if d := &pieces[i]; d.level == sure && len(d.facts) > 0 && is(d) {
			return true
		}
	}
	return false
}

// isAppointment reports whether a number without a paddock is an hour, or counts something
// else: an appointment at 2; supper is at six.
func (p *parser) isAppointment(c *piece) bool {
	return c.counts[wBeforeNumber] > 0 || c.counts[wHour] > 0 || c.from > 0 && p.toks[c.from-1].is(sAt) && !p.speaksOfHeights(c, sMeasure|sGrass|sPlace|sIt)
}

// countsOthers reports whether a number that begins a sentence beside news counts what stands
// behind it, of which no word is known: cows off creek. 2 snakes out there.
func (p *parser) countsOthers(pieces []piece, c *piece) bool {
	next := tokenAt(p.toks, c.to)
	return c.to == c.from+1 && c.to < c.hi && p.strange(c.to) && p.reader.endsIn(next.f, hMany) && !p.speaksOfHeights(c, sMeasure|sGrass|sPlace|sOff|sStay|sLeft) &&
		surely(pieces, func(d *piece) bool { return d.sentence != c.sentence })
}

// speaksOfHeights reports whether a clause, or what stands beside it, names a unit or a
// word of a set.
func (p *parser) speaksOfHeights(c *piece, set senses) bool {
	return slices.ContainsFunc(p.toks[c.lo:c.hi], func(t token) bool { return t.is(set) || t.unit != 0 })
}

// whenMoved reports whether the number of a clause is the hour of a move that is told: off
// creek about 4; walked into hill, about 9 this morning.
func (p *parser) whenMoved(pieces []piece, c *piece) bool {
	hour := c.counts[wHour]+c.counts[wUnit] == 0 && c.from > c.lo && p.toks[c.from-1].is(sAbout|sAt) && c.to == c.from+1 && c.to < c.hi && p.toks[c.to].is(sDate|sClock)
	return surely(pieces, func(d *piece) bool {
		return d.facts[0].Kind.Row().Moves && (p.isHour(d, c) || hour && d.sentence == c.sentence)
	})
}

// whoIsTold reports whether animals of which a clause does not say who they are, or where,
// are named beside it, or their ground was read: they're in! Cows on hill.
func (p *parser) whoIsTold(pieces []piece, c *piece) bool {
	if c.ask == nil || c.ask.Why != diary.WhichHerd {
		return false
	}
	if len(p.in(c, sPlace|sHerd)) == 0 && surely(pieces, func(d *piece) bool { return d.form == fOn }) {
		return true
	}
	return (len(p.in(c, sHerd|sStock|sAll|sMoved|sPut)) == 0 || len(p.in(c, sHerd|sStock|sAll)) == 0 && p.strayVerb(c)) &&
		surely(pieces, func(d *piece) bool { return d.facts[0].Kind == diary.Reading && d.facts[0].Paddock == c.ask.Paddock })
}

// saysAgain reports whether a number in words that is a sentence of its own says nothing
// but the height once more: it's 7 now. Seven!
func (p *parser) saysAgain(pieces []piece, c *piece) bool {
	from, to := p.sentenceOf(c)
	told := c.form == fBare && p.strangeIn(c.lo, c.from) // he called it 9, I called it 9
	if len(c.facts) != 1 || len(c.facts[0].Heights) != 1 || !told && (p.toks[c.to-1].typed || c.form == fBare && (!p.leads(from, c.from) || !p.trails(c.to, to))) {
		return false
	}
	return surely(pieces, func(d *piece) bool {
		return d.to <= c.from && len(d.facts) == 1 && slices.Equal(d.facts[0].Heights, c.facts[0].Heights)
	})
}

// strangeIn reports whether a word that means nothing here stands between two tokens.
func (p *parser) strangeIn(from, to int) bool {
	for i := from; i < to; i++ {
		if p.strange(i) {
			return true
		}
	}
	return false
}

// readsAny reports whether a text reads a paddock beyond doubt.
func (p *parser) readsAny(pieces []piece) bool {
	return surely(pieces, func(d *piece) bool { return d.form == fReading })
}

// askedReading reports whether a height of the paddock of a clause stands in its
// sentence and is asked about: what it is of is not clear, so of this one neither.
func (p *parser) askedReading(pieces []piece, c *piece) bool {
	return slices.ContainsFunc(pieces, func(d piece) bool {
		return d.form == fReading && d.sentence == c.sentence && d.level < sure && len(d.facts) > 0 && len(c.facts) > 0 && d.facts[0].Paddock == c.facts[0].Paddock
	})
}

// whatElse asks what the rest of a text tells that reads, or empties, ground with a
// hazard plant, where words of it are unknown and may be of what shuts such ground;
// nil where none are.
func (p *parser) whatElse(facts []diary.Fact) *diary.Question {
	at := slices.IndexFunc(facts, func(f diary.Fact) bool {
		i := p.reader.index(f.Paddock)
		return i >= 0 && p.reader.places[i].Hazard && (f.Kind == diary.Reading || f.Kind == diary.Off)
	})
	told := slices.ContainsFunc(facts, func(f diary.Fact) bool { return f.Kind != diary.Reading && !f.Kind.Row().Moves })
	odd := slices.IndexFunc(p.toks, func(t token) bool { return t.kind == word && p.reader.tells(&t, hUneasy) })
	if at < 0 || told || odd < 0 {
		return nil
	}
	place := &p.reader.places[p.reader.index(facts[at].Paddock)]
	q := diary.Question{Why: diary.Unclear, Word: p.toks[odd].s, Paddock: place.ID}
	kinds := []diary.Kind{diary.Frost, diary.Emergency}
	if place.Kin {
		kinds = append(kinds, diary.Regrowth)
	}
	if place.Cherry {
		kinds = append(kinds, diary.Danger)
	}
	for _, k := range kinds {
		q.Choices = append(q.Choices, diary.Choice{Name: string(k), Facts: []diary.Fact{p.fact(k, place.ID, facts[at].Day)}})
	}
	return p.question(q)
}

// inAgain drops what left a paddock where it is said behind it that animals are in
// it, or in it again: what makes things stricter counts.
func inAgain(pieces []piece, facts []diary.Fact) []diary.Fact {
	for i := range pieces {
		for _, on := range pieces[i].facts {
			if pieces[i].form != fStill || pieces[i].dropped {
				continue
			}
			facts = slices.DeleteFunc(facts, func(f diary.Fact) bool {
				return f.Kind == diary.Off && f.Paddock == on.Paddock && (f.Herd == "" || on.Herd == "" || f.Herd == on.Herd)
			})
		}
	}
	return facts
}

// mentioned reports whether a name that stands by itself asks for nothing: it is
// read elsewhere in the text, or only a part of a story beside the news.
func (p *parser) mentioned(pieces []piece, c *piece) bool {
	if c.form == fBare { // walked 3 today: creek 9, hill 7
		read, frost := 0, false
		for i := range pieces {
			read += int(flag(pieces[i].form == fReading && pieces[i].level == sure))
			frost = frost || (pieces[i].form == fNoFrost || pieces[i].form == fFrost) && pieces[i].level == sure
		}
		if x := p.toks[c.from].val; c.facts == nil && c.to == c.from+1 && frost && x >= leastBareCold && x <= mostBareCold {
			return true // 39 when I got up, no frost
		}
		if c.facts == nil && c.to == c.from+1 && read > 1 && p.toks[c.from].val == float64(read) {
			return true
		}
		return c.hi < len(p.toks) && p.toks[c.hi].is(sColon) && c.facts == nil
	}
	if c.form == fFrost { // frost at creek, 31 degrees
		return slices.ContainsFunc(pieces, func(d piece) bool {
			again := c.to == c.from+1 && d.sentence >= c.sentence-1 && d.sentence <= c.sentence && d.level == sure && len(p.in(&d, sPlace)) > 0
			return d.form == fFrost && p.tellsMore(&d, c) && (p.named(&d) != p.named(c) || again)
		})
	}
	if c.event == eClear { // it is clear and cold
		return len(p.in(c, sPlace)) == 0 && len(pieces) > 1
	}
	if c.event == eRegrowth { // good regrowth, of a stand that was read
		for i := range pieces {
			if d := &pieces[i]; d.form == fReading && d.sentence == c.sentence && len(p.in(c, sPlace)) == 0 && !slices.ContainsFunc(d.facts, p.ofKin) {
				return true
			}
		}
		return false
	}
	place := p.toks[c.from].places
	news := false
	for i := range pieces {
		d := &pieces[i]
		if d == c || d.form == fPlace || d.level == asked {
			continue
		}
		news = news || len(d.facts) > 0
		for _, f := range d.facts {
			if len(place) == 1 && p.reader.places[place[0]].ID == f.Paddock && (f.Kind == diary.Reading || d.sentence == c.sentence-1) {
				return true
			}
		}
	}
	return news && (c.from > c.lo || p.strangeIn(c.to, c.hi) || p.guardOver(c.lo, c.hi) != noGuard)
}

// ofKin reports whether a fact is of ground with sorghum or its kin, where any new
// shoot counts.
func (p *parser) ofKin(f diary.Fact) bool {
	i := p.reader.index(f.Paddock)
	return i >= 0 && p.reader.places[i].Kin
}

// tellsMore reports whether the frost of one clause tells more than that of another:
// where it was, else that it was one.
func (p *parser) tellsMore(c, than *piece) bool {
	if at, other := len(p.in(c, sPlace)), len(p.in(than, sPlace)); at != other {
		return at > other
	}
	return p.named(c)
}

// named reports whether a clause calls a frost one, and tells no temperature alone.
func (p *parser) named(c *piece) bool {
	return slices.ContainsFunc(p.in(c, sFrost), func(i int) bool { return !p.toks[i].is(sTemp) })
}

// beforeUndo reports whether a text says something before it asks for an undo.
func (p *parser) beforeUndo(pieces []piece) bool {
	for i := range pieces {
		if pieces[i].form == fUndo {
			return false
		}
		if len(pieces[i].facts) > 0 {
			return true
		}
	}
	return false
}

func first(q, r *diary.Question) *diary.Question {
	if q != nil {
		return q
	}
	return r
}

// harmless reports whether a clause is only a request for what is shown.
func (p *parser) harmless(c *piece) bool { return c.form == fStatus && c.ask == nil }

// confirm puts what is likely to one letter.
func (p *parser) confirm(facts []diary.Fact) *diary.Question {
	if len(facts) > mostChoices { // more than one text can say back
		return p.question(diary.Question{Why: diary.Unclear})
	}
	q := diary.Question{Why: diary.Likely, Choices: []diary.Choice{{Facts: facts}}}
	if one := paddocksOf(facts); len(one) == 1 {
		q.Paddock = one[0]
	}
	return p.question(q)
}

// paddocksOf lists the paddocks that facts are about.
func paddocksOf(facts []diary.Fact) []string {
	var list []string
	for _, f := range facts {
		if f.Paddock != "" && !slices.Contains(list, f.Paddock) {
			list = append(list, f.Paddock)
		}
	}
	return list
}

// nothing answers a text of which nothing was taken up: a nod, small talk, a day
// alone, or words that say something unknown.
func (p *parser) nothing() Heard {
	acked, chat, word := false, false, ""
	for i := range p.toks {
		t := &p.toks[i]
		switch {
		case p.reader.hinted(fold(t.s), hFinished):
			return p.whatIsDone(t.s)
		case t.is(sAck):
			acked = true
		case t.is(sChat) || t.guard == gRain:
			chat = true
			acked = acked || p.reader.hinted(t.s, hThanks) && (p.asked.OpenQuestion != "" || len(p.askedPlaces()) == 1)
		case t.is(sDate | sSoft | sClock):
			word = t.s
		}
	}
	switch {
	case acked:
		return p.nod()
	case word != "" && !chat:
		return p.whatIsDone(word)
	}
	return Heard{Nod: true}
}

// whatIsDone asks what is done; the likeliest is what was asked for.
func (p *parser) whatIsDone(word string) Heard {
	q := diary.Question{Why: diary.Unclear, Word: word}
	if list := p.askedPlaces(); len(list) == 1 && p.reader.hinted(fold(word), hFinished) {
		id := p.reader.places[list[0]].ID
		return Heard{Ask: p.confirm(p.offs(id, nil, when{day: p.day}))}
	}
	if len(p.askedPlaces()) == 0 && p.reader.hinted(fold(word), hFinished) {
		return Heard{Nod: true} // of nothing that was asked for
	}
	return p.ask(q)
}

// offered lists the facts of the choices of a question.
func offered(q *diary.Question) []diary.Fact {
	var list []diary.Fact
	if q != nil {
		for _, c := range q.Choices {
			list = append(list, c.Facts...)
		}
	}
	return list
}

// nod makes the fact of an ok.
func (p *parser) nod() Heard {
	paddock := ""
	if p.reader.index(p.asked.OpenQuestion) >= 0 {
		paddock = p.asked.OpenQuestion
	} else if list := p.askedPlaces(); len(list) == 1 {
		paddock = p.reader.places[list[0]].ID
	}
	f := p.fact(diary.Ack, paddock, p.day)
	if p.asked.Stale && paddock != "" {
		return p.ask(diary.Question{Why: diary.StaleText, Paddock: paddock,
			Choices: []diary.Choice{{Name: p.nameOf(paddock), Facts: []diary.Fact{f}}}})
	}
	return Heard{Facts: []diary.Fact{f}, Nod: paddock == ""}
}

// merge drops what was said twice, and makes one visit of two readings of one
// paddock on one day.
func (p *parser) merge(facts []diary.Fact) []diary.Fact {
	var out []diary.Fact
next:
	for _, f := range facts {
		for i := range out {
			g := &out[i]
			if f.Kind == g.Kind && f.Paddock == g.Paddock && f.Day != g.Day && (f.Kind == diary.On && f.Herd == g.Herd || f.Kind == diary.Frost && p.thisNight(f.Day) && p.thisNight(g.Day)) {
				g.Day = f.Day // in the road last night, back in now
				continue next
			}
			if f.Kind == g.Kind && f.Kind == diary.Hayed && f.Paddock == g.Paddock && (f.Day == p.day || g.Day == p.day) {
				if f.Day.Before(g.Day) {
					g.Day = f.Day
				}
				if len(g.Heights) == 0 {
					g.Heights = f.Heights
				}
				continue next // mowed it Saturday and it's all baled
			}
			if g.Kind != f.Kind || g.Paddock != f.Paddock || g.Day != f.Day || g.Plant != f.Plant ||
				g.Herd != f.Herd && (f.Kind != diary.Off && f.Kind != diary.On || g.Herd != "" && f.Herd != "") {
				continue
			}
			if g.Herd == "" {
				g.Herd = f.Herd
			}
			g.Amount = max(g.Amount, f.Amount) // it rained! seven tenths in the gauge
			if f.Kind == diary.Reading {
				g.Heights = append(append([]float64(nil), g.Heights...), f.Heights...)
			}
			continue next
		}
		out = append(out, f)
	}
	return slices.DeleteFunc(out, func(f diary.Fact) bool { // a frost of the farm is one of every paddock
		return f.Kind == diary.Frost && f.Paddock != "" && slices.ContainsFunc(out, func(g diary.Fact) bool { return g.Kind == diary.Frost && g.Paddock == "" && g.Day == f.Day })
	})
}

// thisNight reports whether a frost of a day may be of the night that ended today.
func (p *parser) thisNight(d civil.Date) bool { return p.day.DaysSince(d) <= 1 }

// contradiction finds a paddock that is said to be left and entered at once.
func (p *parser) contradiction(facts []diary.Fact) *diary.Question {
	for _, f := range facts {
		for _, g := range facts {
			if f.Kind == diary.Off && g.Kind == diary.On && f.Paddock == g.Paddock &&
				(f.Herd == "" || g.Herd == "" || f.Herd == g.Herd) && f.Day == g.Day {
				return p.question(diary.Question{Why: diary.Unclear, Word: p.nameOf(f.Paddock), Paddock: f.Paddock})
			}
		}
	}
	return nil
}
