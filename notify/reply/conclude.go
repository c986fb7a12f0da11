package reply

import "stubbled/scheduler/diary"

// conclude gathers what was understood.
func (p *parser) conclude(pieces []piece) Heard {
	var h Heard
	spoke, acked := false, false
	for i := range pieces {
		c := &pieces[i]
		if c.ask != nil && h.Ask == nil {
			h.Ask = c.ask
		}
		if c.form == fAck {
			acked = true
			continue
		}
		if c.speaks() || c.ask != nil {
			spoke = true
		}
		if !c.dropped {
			h.Facts = append(h.Facts, c.facts...)
		}
	}
	h.Facts = p.merge(h.Facts)
	for i, f := range h.Facts {
		if f.Kind == diary.Undo && i > 0 { // undo stands first, or it might mean what was said just before it
			return p.ask(diary.Question{Why: diary.Unclear, Word: "undo"})
		}
	}
	if q := p.contradiction(append(h.Facts[:len(h.Facts):len(h.Facts)], offered(pieces)...)); q != nil {
		return Heard{Ask: q}
	}
	switch {
	case len(h.Facts) == 0 && h.Ask == nil && acked:
		if w := p.onlyDates(pieces); p.finished(w) {
			return p.whatIsDone(w)
		}
		return p.nod()
	case !spoke && h.Ask == nil:
		if w := p.onlyDates(pieces); w != "" {
			return p.whatIsDone(w)
		}
		h.Nod = true
	}
	return h
}

// finished reports whether words say that something is done, and not what.
func (p *parser) finished(words string) bool { return p.reader.hinted(fold(words), hFinished) }

// onlyDates gives the day or hour that a text holds and nothing else with it,
// or a word that says that something is done.
func (p *parser) onlyDates(pieces []piece) string {
	word := ""
	for i := range pieces {
		c := &pieces[i]
		for j := c.from; j < c.to; j++ {
			t := &p.toks[j]
			if p.finished(t.s) {
				return t.s
			}
			if t.is(sDate|sSoft|sClock) && c.form != fChat {
				word = t.s
			}
		}
	}
	return word
}

// whatIsDone asks what is done; the likeliest is what was asked for.
func (p *parser) whatIsDone(word string) Heard {
	q := diary.Question{Why: diary.Unclear, Word: word}
	if list := p.askedPlaces(); len(list) == 1 && p.finished(word) {
		id := p.reader.places[list[0]].ID
		q.Paddock = id
		q.Choices = []diary.Choice{{Name: p.nameOf(id), Facts: p.offs(id, nil, when{day: p.day})}}
	}
	return p.ask(q)
}

// offered lists the facts of the choices of all questions.
func offered(pieces []piece) []diary.Fact {
	var list []diary.Fact
	for i := range pieces {
		if q := pieces[i].ask; q != nil {
			for _, c := range q.Choices {
				list = append(list, c.Facts...)
			}
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
			if g.Kind != f.Kind || g.Paddock != f.Paddock || g.Day != f.Day || g.Herd != f.Herd {
				continue
			}
			if f.Kind == diary.Reading {
				g.Heights = append(append([]float64(nil), g.Heights...), f.Heights...)
			}
			continue next
		}
		out = append(out, f)
	}
	return out
}

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
