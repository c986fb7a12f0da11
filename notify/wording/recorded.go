package wording

import (
	"slices"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// recorded confirms what was written down, and how to take it back.
func (v voice) recorded(fs []ladder.Facts) []part {
	var items []string
	for _, f := range fs {
		for _, r := range f.Recorded {
			items = append(items, v.entry(r, f))
		}
	}
	items = unique(items)
	parts := v.firstDo(fs)
	if len(items) == 0 {
		return append(parts, must(v.say("noted.nothing")))
	}
	noted := v.inEach("noted", v.shortening(items, "; "))
	if len(parts) > 0 { // what to do has named the paddock
		noted = append(noted, v.say("noted.short"))
	}
	parts = append(parts, keep(rankNames, noted...))
	next := v.goesWith(fs)
	parts = append(parts, next...)
	if onlyAcks(fs) || len(next) > 0 && next[len(next)-1].rank == rankAnswer {
		return parts // one way to answer a text is enough
	}
	return append(parts, may(rankRemark, v.say("wrong-undo", v.say("command.undo"))))
}

func onlyAcks(fs []ladder.Facts) bool {
	return every(fs, func(f ladder.Facts) bool {
		for _, r := range f.Recorded {
			if r.Kind != diary.Ack {
				return false
			}
		}
		return true
	})
}

// firstDo is what has to be done at once about what was told.
func (v voice) firstDo(fs []ladder.Facts) []part {
	var parts []part
	for _, f := range fs {
		switch {
		case f.BackIn:
			parts = append(parts, must(v.say("overdue.back-in", v.paddock(f), max(1, f.RestDay))))
		case heldOn(f):
			parts = append(parts, must(v.say("hold.animals", v.paddock(f))), must(v.danger(fs)))
		}
	}
	return parts
}

// heldOn reports whether animals were just turned in on plants under a hold.
func heldOn(f ladder.Facts) bool {
	return f.Hold != nil && len(f.Hold.Plants) > 0 && tells(f, diary.On)
}

func tells(f ladder.Facts, kind diary.Kind) bool {
	return slices.ContainsFunc(f.Recorded, func(r diary.Fact) bool { return r.Kind == kind })
}

// looser reports whether animals may be let in because of what was told.
func looser(f ladder.Facts) bool {
	return slices.ContainsFunc(f.Recorded, func(r diary.Fact) bool { return r.Kind.Row().Looser })
}

func tellsAny(fs []ladder.Facts, kind diary.Kind) bool {
	return anyOf(fs, func(f ladder.Facts) bool { return tells(f, kind) })
}

// goesWith is what follows from what was written down: a caution, or the next
// thing to tell.
func (v voice) goesWith(fs []ladder.Facts) []part {
	f := fs[0]
	switch {
	case tellsAny(fs, diary.Clear):
		return []part{v.care()}
	case tellsAny(fs, diary.Regrowth):
		return []part{must(v.say("regrowth.care"))}
	case tellsAny(fs, diary.Brown):
		return []part{must(v.say("rest-over.look")), v.care()}
	case tellsAny(fs, diary.Frost):
		if restOver(f) {
			return []part{must(v.say("rest-over.look")), v.care()}
		}
		return []part{may(rankDetail, v.say("frost.noted")),
			keep(rankAnswer, v.say("answer.brown", v.say("command.brown")), v.say("answer", v.say("command.brown")))}
	case onlyAcks(fs) && f.Grazed:
		return []part{keep(rankAnswer, v.say("ack.only-off"), ""), v.answer("answer.off", fs[:1], v.command(diary.Off, f))}
	case heldOn(f):
		return []part{keep(rankDetail, v.say("care.hold"), v.say("care.short")), v.answer("answer.off", fs[:1], v.command(diary.Off, f))}
	case f.BackIn:
		return []part{v.answer("answer.off", fs[:1], v.command(diary.Off, f))}
	}
	return nil
}

// entry is one fact as it stands in the diary: what, where, when.
func (v voice) entry(r diary.Fact, f ladder.Facts) string {
	where := v.named(r.Paddock, f)
	day := ""
	if !r.Day.IsZero() {
		day = v.date(r.Day)
	}
	switch r.Kind {
	case diary.Reading:
		return v.readingEntry(r, where, day)
	case diary.On:
		herd := v.say("cattle")
		if r.Herd != "" {
			herd = v.named(r.Herd, f)
		}
		return v.dated(v.say("entry.on", herd, where), day)
	case diary.Hayed:
		if len(r.Heights) > 0 && r.Heights[0] > 0 {
			return v.dated(v.say("entry.hayed.left", where, v.length(r.Heights[0])), day)
		}
	case diary.Frost:
		if r.TempC != nil {
			return v.dated(v.say("entry.frost.temp", v.degrees(*r.TempC)), day)
		}
	case diary.Wean:
		herd := v.say("cattle")
		if r.Herd != "" {
			herd = v.named(r.Herd, f)
		}
		return v.dated(v.say("entry.wean", herd), day)
	case diary.Later:
		return v.laterEntry(r, where)
	case diary.Ack:
		return v.say("entry.ack")
	}
	key := "entry." + string(r.Kind)
	if r.Paddock == "" && has(key+".all") {
		return v.dated(v.say(key+".all"), day)
	}
	if !has(key) {
		return v.dated(v.say("entry.other", where), day)
	}
	return v.dated(v.say(key, where), day)
}

func (v voice) dated(what, day string) string {
	if day == "" {
		return what
	}
	return v.say("entry.dated", what, day)
}

func (v voice) readingEntry(r diary.Fact, where, day string) string {
	if len(r.Heights) == 0 {
		return v.dated(where, day)
	}
	sum := 0.0
	for _, h := range r.Heights {
		sum += h
	}
	height := v.length(sum / float64(len(r.Heights)))
	return v.dated(v.say("entry.reading", where, height, len(r.Heights)), day)
}

func (v voice) laterEntry(r diary.Fact, where string) string {
	switch hours := int(r.Wait / time.Hour); {
	case hours <= 0:
		return v.say("entry.later.day", where)
	case hours%24 == 0:
		return v.say("entry.later.days", where, hours/24)
	default:
		return v.say("entry.later.hours", where, hours)
	}
}

// named is an id as people say it.
func (v voice) named(id string, f ladder.Facts) string {
	if n := v.name(f.Names[id]); n != "" {
		return n
	}
	if id == "" || id == f.Paddock {
		return v.paddock(f)
	}
	return v.name(id)
}

// undone says what was taken back.
func (v voice) undone(fs []ladder.Facts) []part {
	items := v.undoneItems(fs)
	if len(items) == 0 {
		return []part{must(v.say("undo.nothing"))}
	}
	return []part{keep(rankNames, v.inEach("undo", v.shortening(items, "; "))...)}
}

func (v voice) undoneItems(fs []ladder.Facts) []string {
	var items []string
	for _, f := range fs {
		for _, r := range f.Undone {
			items = append(items, v.entry(r, f))
		}
	}
	return unique(items)
}

// takenBack tells those who had been told.
func (v voice) takenBack(fs []ladder.Facts) []part {
	items := v.undoneItems(fs)
	if len(items) == 0 {
		items = v.names(fs)[:1]
	}
	who := v.name(fs[0].Who)
	if who == "" {
		who = v.say("somebody")
	}
	first := must(v.say("taken-back"))
	if held := v.stillShut(fs); len(held) > 0 {
		first = keep(rankNames, v.inEach("taken-back.held", v.shortening(held, ", "))...)
	}
	return []part{first, keep(rankNames, v.inEach("taken-back.what", v.shortening(items, "; "), who)...),
		keep(rankAnswer, v.say("answer", v.say("command.status")))}
}

// stillShut names the paddocks whose hold stays although its frost was taken
// back.
func (v voice) stillShut(fs []ladder.Facts) []string {
	var names []string
	for _, f := range fs {
		for _, s := range f.Shuts {
			if s.Hold != nil {
				names = append(names, v.shutName(s))
			}
		}
	}
	return unique(names)
}
