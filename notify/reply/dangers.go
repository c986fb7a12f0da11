package reply

import (
	"slices"

	"stubbled/scheduler/diary"
)

// strangeHorses are horses that no herd on file is of, where a text names paddocks
// and takes them off none.
func (p *parser) strangeHorses() (facts []diary.Fact) {
	which := slices.IndexFunc(p.toks, func(t token) bool {
		return !t.is(sHerd|sPlace) && (t.stock == horses || p.reader.tells(&t, hHorse) && len(p.reader.ofKind(horses)) == 0)
	})
	if which < 0 || p.writes(hRiding) || slices.ContainsFunc(p.toks, func(t token) bool { return t.is(sOff|sOut|sGone|sEmpty|sFrom|sUndo) && !t.is(sPlace) }) {
		return nil
	}
	for _, w := range p.warnings {
		if w.guard != gOther && w.guard != gPart && w.guard != gHedge && w.guard != gThing && w.from <= which && w.to > which {
			return nil // no horses on lane; horses to lane next week
		}
	}
	for i := range p.toks {
		if t := &p.toks[i]; t.is(sPlace) && len(t.places) == 1 {
			facts = append(facts, p.fact(diary.Horses, p.reader.places[t.places[0]].ID, p.day))
		}
	}
	return p.merge(facts)
}

// withDangers is what was heard of a text and of the dangers in it that no clause of
// it says. No height makes sorghum kin safe for horses, so they are asked about before
// all else, however little of the text is clear; a drought is asked about rather than a
// height; and what no letter of a question stands for is a doubt beside it.
func (p *parser) withDangers(h Heard) Heard {
	if told := p.strangeHorses(); len(told) > 0 {
		h.Ask, h.Nod = p.confirm(told), false
	}
	if h.Ask != nil && h.Ask.Why == diary.NoNumber && p.drought() {
		h.Ask = p.confirm([]diary.Fact{p.fact(diary.Dry, "", p.day)})
	}
	if h.Ask != nil && !slices.ContainsFunc(h.Facts, func(f diary.Fact) bool { return f.Kind == diary.Frost || f.Kind == diary.NoFrost }) {
		h.Ask.Doubts = p.unsaid()
	}
	return h
}

// drought reports whether a manager's text may call a drought of which it names a
// paddock, or only say that its ground is dry.
func (p *parser) drought() bool {
	return p.who.Manager && slices.ContainsFunc(p.toks, func(t token) bool { return t.event == eDry && !t.is(sPlace) })
}

// white reports whether a word for white may be said of the grass itself, beside a
// height: it ends what is said, and names no clover.
func (p *parser) white(i int) bool {
	ends := i+1 == len(p.toks) || p.toks[i+1].is(sStop|sComma|sDate)
	return ends && !p.toks[i].is(sPlace) && slices.ContainsFunc(p.toks, func(t token) bool { return t.is(sNum) && !t.is(sPlace) })
}

// unsaid are the dangers that a text of which something is asked back may tell of and
// that no letter stands for: new shoots somewhere, a frost that nobody is sure of, or
// what looks like one.
func (p *parser) unsaid() (all []diary.Fact) {
	frost, shoots := false, false
	for i := range p.toks {
		t := &p.toks[i]
		g := p.guardOver(i, i+1)
		shoots = shoots || t.event == eRegrowth && g == noGuard && !t.is(sPlace)
		frost = frost || p.reader.tells(t, hPastFrost) && (g == gIf || g == gHedge) || p.reader.tells(t, hWhite) && g == noGuard && p.white(i)
	}
	if frost {
		all = append(all, p.fact(diary.Frost, "", p.day))
	}
	if shoots {
		all = append(all, p.fact(diary.Regrowth, "", p.day))
	}
	return all
}
