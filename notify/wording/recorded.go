package wording

import (
	"slices"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

var recordedSpeakers = map[ladder.Kind]speaker{
	ladder.AnswerRecorded: saysLong(voice.recorded, recordedLong),
	ladder.AnswerUndo:     saysLong(voice.undone, func(f *ladder.UndoFacts) bool { return len(f.Undone) > 1 }),
	ladder.TakenBack:      saysLong(voice.takenBack, func(f *ladder.TakenBackFacts) bool { return len(f.Undone) > 1 || len(f.Shuts) > 0 }),
}

// recorded confirms what was written down, and how to take it back.
func (v voice) recorded(fs []*ladder.RecordedFacts) []part {
	items := unique(gathered(fs, func(f *ladder.RecordedFacts) []string { return v.entries(f.Recorded, f.Place, f.Names) }))
	if f := fs[0]; len(fs) == 1 && len(f.Recorded) == 1 && tells(f, diary.Later) {
		if parts := v.notPutOff(&f.PaddockFacts); parts != nil {
			return parts
		}
	}
	parts := v.firstDo(fs)
	if len(items) == 0 {
		return append(parts, must(v.say("noted.nothing")))
	}
	noted := v.inEach("noted", "list", v.shortening(items, "; "))
	if len(parts) > 0 { // what to do has named the paddock
		noted = append(noted, v.say("noted.short"))
	}
	parts = append(parts, keep(rankNames, noted...))
	for _, c := range gathered(fs, func(f *ladder.RecordedFacts) []ladder.Count { return f.Counts }) {
		parts = append(parts, keep(rankAnswer, sentence(v.say("noted.count", "herd", v.herd(c.Herd), "head", c.Head))))
	}
	next := v.goesWith(fs)
	parts = append(parts, next...)
	if onlyAcks(fs) || len(next) > 0 && next[len(next)-1].rank == rankAnswer {
		return parts // one way to answer a text is enough
	}
	return append(parts, may(rankRemark, v.say("wrong-undo", "text", v.say("command.undo"))))
}

func onlyAcks(fs []*ladder.RecordedFacts) bool {
	return every(fs, func(f *ladder.RecordedFacts) bool {
		return every(f.Recorded, func(r diary.Fact) bool { return r.Kind == diary.Ack })
	})
}

// firstDo is what has to be done at once about what was told.
func (v voice) firstDo(fs []*ladder.RecordedFacts) []part {
	var parts []part
	for _, f := range fs {
		switch {
		case tells(f, diary.Emergency):
			parts = append(parts, must(v.ofPlace("emergency", f)))
		case f.Early != nil:
			parts = append(parts, must(v.say("too-early", "what", v.begunEarly(f.Place, f.Early))))
		case f.BackIn:
			parts = append(parts, must(v.say("overdue.back-in", "paddock", v.paddock(f.Place), "n", max(1, f.RestDay))))
		case waitsOn(f):
			parts = append(parts, must(v.say("wait.animals", "paddock", v.paddock(f.Place))), must(v.waitsFor(f.Wait)))
		case heldOn(f):
			parts = append(parts, must(v.say("hold.animals", "paddock", v.paddock(f.Place))), v.poisons(paddocks(fs), asIs))
		}
	}
	return parts
}

// heldOn reports whether animals were just turned in on plants under a hold.
func heldOn(f *ladder.RecordedFacts) bool {
	return poisonous(&f.PaddockFacts) && tells(f, diary.On)
}

// waitsOn is the same of ground that is shut without a hold.
func waitsOn(f *ladder.RecordedFacts) bool { return f.Wait != nil && tells(f, diary.On) }

func tells(f *ladder.RecordedFacts, kind diary.Kind) bool {
	return slices.ContainsFunc(f.Recorded, func(r diary.Fact) bool { return r.Kind == kind })
}

// notPutOff is said to who would put off ground that can kill, with animals in; nil
// where it may wait.
func (v voice) notPutOff(f *ladder.PaddockFacts) []part {
	says, why := v.say("later.hold", "paddock", v.paddock(f.Place)), must(v.waitsFor(f.Wait))
	if poisonous(f) {
		why = v.poisons([]*ladder.PaddockFacts{f}, asIs)
	}
	switch {
	case f.Unknown && poisonous(f):
		return []part{must(v.say("later.hold.unsure", "paddock", v.paddock(f.Place))), why, v.onOrOff(f.Place)}
	case f.Grazed && (f.Wait != nil || poisonous(f)):
		return []part{must(says), why, v.answer("answer.off", 1, v.command(diary.Off, f.Place))}
	}
	return nil
}

// endsRest reports whether what was written down ended all rest.
func endsRest(f *ladder.RecordedFacts) bool { return f.FrostSeen != nil && f.FrostSeen.RestOver }

// recordedLong reports whether a confirmation carries a caution or a list.
func recordedLong(f *ladder.RecordedFacts) bool {
	caution := func(r diary.Fact) bool {
		return r.Kind.Row().Looser || r.Kind == diary.Regrowth || has("follows."+string(r.Kind))
	}
	return len(f.Recorded) > 1 || slices.ContainsFunc(f.Recorded, caution) || endsRest(f) || f.Hold != nil || f.Wait != nil || f.Fescue || rainEnded(f)
}

// goesWith is what follows from what was written down: a caution, or the next
// thing to tell.
func (v voice) goesWith(fs []*ladder.RecordedFacts) []part {
	f := fs[0]
	told := func(kind diary.Kind) bool {
		return slices.ContainsFunc(fs, func(f *ladder.RecordedFacts) bool { return tells(f, kind) })
	}
	switch {
	case heldOn(f), waitsOn(f):
		return []part{keep(rankDetail, v.say("care.hold"), v.say("care.short")), v.answer("answer.off", 1, v.command(diary.Off, f.Place))}
	case f.Grid != nil:
		return v.stand(f.Grid)
	case len(v.follows(fs)) > 0:
		return v.follows(fs)
	case told(diary.Clear):
		return []part{v.care()}
	case told(diary.Regrowth):
		return []part{must(v.say("regrowth.care"))}
	case told(diary.Brown) && f.RestGoesOn:
		return []part{must(v.say("brown.doubted")), v.frostYet()}
	case told(diary.Brown):
		return v.browned(&f.PaddockFacts)
	case told(diary.Frost) && endsRest(f):
		return v.restIsOver(&f.PaddockFacts)
	case told(diary.Frost) && !f.RestGoesOn:
		return nil
	case told(diary.Frost):
		return []part{may(rankDetail, v.say("frost.noted")),
			keep(rankAnswer, v.say("answer.brown", "text", v.say("command.brown")), v.say("answer", "text", v.say("command.brown")))}
	case f.Unknown && tells(f, diary.Off):
		return []part{must(v.say("off.unsure")), v.onOrOff(f.Place)}
	case f.Grazed && slices.ContainsFunc(f.Recorded, func(r diary.Fact) bool { return r.Kind == diary.Off && r.Paddock == f.Place.Paddock }):
		return []part{must(v.say("off.still", "paddock", v.paddock(f.Place)))}
	case onlyAcks(fs) && f.Grazed:
		return []part{keep(rankAnswer, v.say("ack.only-off"), ""), v.answer("answer.off", 1, v.command(diary.Off, f.Place))}
	case f.BackIn:
		return []part{v.answer("answer.off", 1, v.command(diary.Off, f.Place))}
	}
	return nil
}

// browned is what follows from brown tops: what a freeze that nobody saw may have
// poisoned stays shut, and where no rest was running none is over.
func (v voice) browned(f *ladder.PaddockFacts) []part {
	switch {
	case poisonous(f):
		return []part{v.poisons([]*ladder.PaddockFacts{f}, sentence), must(v.say("hold.keep-off", "until", v.heldUntil(f.Hold))),
			keep(rankDetail, v.say("care.hold"), v.say("care.short"))}
	case f.NoRest:
		return []part{v.care()}
	}
	return v.restIsOver(f)
}

// restIsOver is what to do with ground whose rest a person's word ended.
func (v voice) restIsOver(f *ladder.PaddockFacts) []part {
	if f.Failed {
		return append(v.failed([]*ladder.PaddockFacts{f}, "rest-failed.over"), v.care())
	}
	return []part{must(v.say("rest-over.look")), v.care()}
}

// follows is what follows from those facts of which the kind itself says it.
func (v voice) follows(fs []*ladder.RecordedFacts) (parts []part) {
	for _, f := range fs {
		for _, r := range f.Recorded {
			if key := "follows." + string(r.Kind); has(key) {
				parts = append(parts, keep(rankRemark, v.ofPlace(key, f)))
			}
		}
		parts = append(parts,
			when(tells(f, diary.Hayed) && f.Resting, keep(rankRemark, v.say("follows.hayed-in-rest", "paddock", v.paddock(f.Place)))),
			when(f.Fescue, keep(rankRemark, v.say("fescue"))),
			when(tells(f, diary.On) && len(f.Cautions) > 0, keep(rankRemark, v.cautionsOf(f.Cautions), v.say("care.vet"))),
			when(rainEnded(f), keep(rankRemark, v.say("follows.rain-over")+" "+v.say("follows.dry-over"))))
	}
	return only(parts, speaks)
}

// rainEnded reports whether the rain that was told of ended the drought.
func rainEnded(f *ladder.RecordedFacts) bool { return tells(f, diary.Rain) && f.DroughtOver }

// ofPlace is a phrase that has a form for the whole farm, of what was told of a
// paddock.
func (v voice) ofPlace(key string, f *ladder.RecordedFacts) string {
	return v.say(farmwide(key, f.Paddock), "paddock", v.paddock(f.Place))
}

// undone says what was taken back.
func (v voice) undone(fs []*ladder.UndoFacts) []part {
	items := unique(gathered(fs, func(f *ladder.UndoFacts) []string { return v.entries(f.Undone, f.Place, f.Names) }))
	if len(items) == 0 {
		return []part{must(v.say("undo.nothing"))}
	}
	return []part{keep(rankNames, v.inEach("undo", "list", v.shortening(items, "; "))...)}
}

// takenBack tells those who had been told.
func (v voice) takenBack(fs []*ladder.TakenBackFacts) []part {
	items := unique(gathered(fs, func(f *ladder.TakenBackFacts) []string { return v.entries(f.Undone, f.Place, f.Names) }))
	if len(items) == 0 {
		items = v.names(places(fs))[:1]
	}
	first := must(v.say("taken-back"))
	shuts := gathered(fs, func(f *ladder.TakenBackFacts) []ladder.Shut { return f.Shuts })
	if held := v.namesOf(shuts, func(ladder.Shut) bool { return true }); len(held) > 0 {
		first = keep(rankNames, v.inEach("taken-back.held", "list", v.shortening(held, ", "))...)
	}
	return []part{first, keep(rankNames, v.inEach("taken-back.what", "list", v.shortening(items, "; "), "who", v.who(fs[0].Who))...),
		keep(rankAnswer, v.say("answer", "text", v.say("command.status")))}
}
