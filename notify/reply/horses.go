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

// withHorses is what was heard of a text and of the horses in it: no height makes
// sorghum kin safe for them, so they are asked about before all else, however little
// of the text is clear.
func (p *parser) withHorses(h Heard) Heard {
	if told := p.strangeHorses(); len(told) > 0 {
		h.Ask, h.Nod = p.confirm(told), false
	}
	return h
}
