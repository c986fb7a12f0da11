package wording

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/notify/gsm"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
)

// How ground that can kill is spoken of: holds, waits, emergencies.

// poisonous reports whether a paddock is under a hold that names its plants.
func poisonous(f *ladder.PaddockFacts) bool { return f.Hold != nil && len(f.Hold.Plants) > 0 }

// care defers to the ground, the laboratory and the vet. It is shortened, never
// left out.
func (v voice) care() part {
	return keep(rankDetail, v.say("care"), v.say("care.short"))
}

// frosted are the plants of all holds of a bundle that a frost turned; none where other
// causes hold alone.
func frosted(fs []*ladder.PaddockFacts) (names []string) {
	others := false
	for _, f := range only(fs, poisonous) {
		if f.Hold.Wilted || f.Hold.Regrown {
			others = true
			names = append(names, f.Hold.Turned...)
		} else {
			names = append(names, f.Hold.Plants...)
		}
	}
	if !others && strings.Join(names, "") == "" {
		return []string{""}
	}
	return names
}

// danger says what makes the plants poison: a frost, limbs that are down, new shoots.
// The first form names every plant, the second two of a kind.
func (v voice) danger(fs []*ladder.PaddockFacts) []string {
	var forms []string
	for _, most := range []int{math.MaxInt, 2} {
		says := v.frost(frosted(fs), most)
		if slices.ContainsFunc(only(fs, poisonous), func(f *ladder.PaddockFacts) bool { return f.Hold.Wilted }) {
			says = append(says, v.say("danger.wilted"))
		}
		if slices.ContainsFunc(only(fs, poisonous), func(f *ladder.PaddockFacts) bool { return f.Hold.Regrown }) {
			says = append(says, v.say("danger.regrowth"))
		}
		forms = append(forms, sentences(says))
	}
	return forms
}

// poisons is the danger as a part of a message: plants give way to how to answer and to
// whom to ask, never to a name of ground.
func (v voice) poisons(fs []*ladder.PaddockFacts, as func(string) string) part {
	if forms := unique(each(v.danger(fs), as)); len(forms) > 1 {
		return keep(rankAnswer, forms...)
	}
	return must(as(v.danger(fs)[0]))
}

// asIs leaves a sentence as it is.
func asIs(s string) string { return s }

// frost is what a frost makes of plants, at most so many of each kind named: some
// poison, others only bloat.
func (v voice) frost(plants []string, most int) (says []string) {
	var poison, bloat []string
	for _, name := range plants {
		if shut.Bloats(name) {
			bloat = append(bloat, name)
		} else {
			poison = append(poison, name)
		}
	}
	if len(poison) > 0 {
		says = append(says, v.say("danger", "plants", v.plantsOf(poison, most), "n", cmp.Or(len(unique(poison)), 2))) // some plants
	}
	if len(bloat) > 0 {
		says = append(says, v.say("danger.bloat", "plants", v.plantsOf(bloat, most), "n", len(unique(bloat))))
	}
	return says
}

// sentences joins some, the first as it stands.
func sentences(says []string) string {
	for i := 1; i < len(says); i++ {
		says[i] = sentence(says[i])
	}
	return strings.Join(says, " ")
}

func (v voice) frostWarning(fs []*ladder.FrostFacts) []part {
	in := paddocks(fs)
	forecast := part{}
	if c := fs[0].FrostSeen; c != nil && c.MinC != nil {
		forecast = may(rankNames, v.say("forecast", "temperature", v.degrees(*c.MinC), "day", v.date(c.Day)))
	}
	return []part{v.sentence(v.about(in, nil), "frost-warning"), forecast, v.poisons(in, sentence),
		v.moveTo(in, rankWhen), may(rankAnswer, v.say("care.hay-vet"), v.say("care.vet")),
		v.unreached(gathered(fs, func(f *ladder.FrostFacts) []string { return f.Missing })), v.answer("answer.off", len(fs), v.command(diary.Off, fs[0].Place))}
}

// hazardAhead is ground that the first frost will poison, with cattle in.
func (v voice) hazardAhead(fs []*ladder.FrostFacts) []part {
	in := paddocks(fs)
	parts := []part{v.sentence(v.about(in, nil), "hazard-ahead"), v.poisons(in, asIs)}
	if c := fs[0].FrostSeen; c != nil {
		parts = append(parts, must(v.say("hazard-ahead.from", "day", v.date(c.Day))))
	}
	return append(parts, v.answer("answer.off", len(fs), v.command(diary.Off, fs[0].Place)))
}

func (v voice) holdBegins(fs []*ladder.PaddockFacts) []part { return v.holds(fs, "hold") }

// holdAnimals is a hold on ground where animals stand.
func (v voice) holdAnimals(fs []*ladder.PaddockFacts) []part {
	return append(v.holds(fs, "hold.animals"), v.moveTo(fs, rankRemark), v.answer("answer.off", len(fs), v.command(diary.Off, fs[0].Place)))
}

// holdUnsure is one on ground of which nobody knows.
func (v voice) holdUnsure(fs []*ladder.PaddockFacts) []part {
	return append(v.holds(fs, "hold.unsure"), v.onOrOff(fs[0].Place))
}

// onOrOff is how to say whether animals are in.
func (v voice) onOrOff(at ladder.Place) part {
	return keep(rankAnswer, v.say("answer.on-or-off", "on", v.command(diary.On, at), "off", v.command(diary.Off, at)))
}

// holds says what to do about a hold, and why.
func (v voice) holds(fs []*ladder.PaddockFacts, key string) []part {
	until := func(f *ladder.PaddockFacts) string { return v.heldUntil(f.Hold) }
	a := v.about(fs, until)
	a.tag = cmp.Or(a.tag, v.say("hold.not-yet"))
	short := func(f *ladder.PaddockFacts) bool { return f.Hold != nil && f.Hold.Short }
	return []part{
		v.sentence(a, key),
		v.poisons(fs, asIs),
		when(every(fs, short), may(rankDetail, v.say("hold.short"))),
		when(len(fs) == 1 || same(fs, until) != "", keep(rankAnswer, v.say("hold.keep-off", "until", a.tag))),
		keep(rankAnswer, v.say("care.hold"), v.say("care.short")),
	}
}

// waitAnimals is what shuts ground without a hold while animals stand there.
func (v voice) waitAnimals(fs []*ladder.PaddockFacts) []part {
	off := v.command(diary.Off, fs[0].Place)
	answer := v.answer("answer.off", len(fs), off)
	if w := fs[0].Wait; w != nil && (w.Why == shut.NotKnown || w.Why == shut.FrostAsked) {
		answer = keep(rankAnswer, v.frostOr(off))
	} else if len(fs) == 1 && wantsHeight(fs[0]) {
		answer = keep(rankAnswer, v.say("answer.height-or-off", "height", v.heights(fs[0].Place, w.Height+2), "off", off), v.say("answer.off", "text", off))
	}
	return append(v.waits(fs, "wait.animals"), keep(rankAnswer, v.say("care.short")), v.moveTo(fs, rankRemark), answer)
}

// waits says what to do on ground that waits without a hold, and why: each reason once,
// with the plants of all its ground.
func (v voice) waits(fs []*ladder.PaddockFacts, key string) (parts []part) {
	why := func(f *ladder.PaddockFacts) ladder.Wait {
		var w ladder.Wait
		if f.Wait != nil {
			w, w.Plants = *f.Wait, nil
		}
		return w
	}
	for _, some := range groups(fs, func(f *ladder.PaddockFacts) string { return fmt.Sprint(why(f)) }) {
		w := why(some[0])
		for _, f := range some {
			if f.Wait != nil {
				w.Plants = append(w.Plants, f.Wait.Plants...)
			}
		}
		parts = append(parts, v.sentence(v.about(some, nil), key), must(v.waitsFor(&w)))
	}
	return parts
}

// wantsHeight reports whether ground waits for a height alone: the latest, if there is one,
// would do, but it is too old to stand for today.
func wantsHeight(f *ladder.PaddockFacts) bool {
	return f.Wait != nil && f.Wait.Why == shut.Low && (f.Height == nil || f.Height.Mean >= f.Wait.Height)
}

// waitsFor is why ground waits without a hold: 'nobody knows if it froze'.
func (v voice) waitsFor(w *ladder.Wait) string {
	if w == nil || w.Why == "" {
		return ""
	}
	return v.shutFor(season.Reason(w.Why), w.Plants, w.Height, w.Since, w.Who)
}

// shutFor is why ground is shut without a hold: by its plants, on a height, since a
// day, or because somebody has not answered.
func (v voice) shutFor(why season.Reason, plants []string, height float64, since civil.Date, who string) string {
	return v.say("why."+strings.ReplaceAll(string(why), " ", "-"), "danger", sentences(v.frost(plants, 2)),
		"plants", v.plants(plants), "height", v.length(height), "day", v.date(since), "who", v.who(who))
}

// heldUntil is about when a hold is over.
func (v voice) heldUntil(h *ladder.Hold) string {
	switch {
	case h == nil || h.Until.IsZero() && !h.ByEye:
		return v.say("hold.not-yet")
	case h.Until.IsZero():
		return v.say("hold.not-yet.dry")
	}
	return v.say("until-about", "day", v.date(h.Until))
}

// stillShut is ground whose hold is over and that something else shuts.
func (v voice) stillShut(fs []*ladder.PaddockFacts) []part {
	unknown := func(f *ladder.PaddockFacts) bool { return f.Wait != nil && f.Wait.Why == shut.NotKnown }
	return append(v.waits(fs, "still-shut"), keep(rankDetail, v.say("care.short")), when(slices.ContainsFunc(fs, unknown), v.frostYet()))
}

// holdOver is a hold that the calendar ended: in rest the rest goes on, what rested too
// little is left for spring, and where cattle stand it is no leave to stay.
func (v voice) holdOver(fs []*ladder.PaddockFacts) []part {
	parts := v.failed(fs, "hold-over.too")
	for _, of := range []struct {
		key string
		are func(*ladder.PaddockFacts) bool
	}{
		{"hold-over.animals", func(f *ladder.PaddockFacts) bool { return f.Grazed && !f.Failed }},
		{"hold-over.rest", func(f *ladder.PaddockFacts) bool { return !f.Grazed && f.Resting }},
		{"hold-over", func(f *ladder.PaddockFacts) bool { return !f.Grazed && !f.Resting && !f.Failed }},
	} {
		if some := only(fs, of.are); len(some) > 0 {
			parts = append(parts, v.sentence(v.about(some, nil), of.key))
		}
	}
	resting := func(f *ladder.PaddockFacts) bool { return f.Grazed && f.Resting }
	return append(parts, when(slices.ContainsFunc(fs, resting), must(v.say("rest-goes-on"))), v.care(), v.answer("answer.regrowth", len(fs), v.command(diary.Regrowth, fs[0].Place)))
}

// emergency is an animal dead or in trouble, in the words of whoever told of it. No
// cause is guessed.
func (v voice) emergency(fs []*ladder.EmergencyFacts) []part {
	var parts []part
	for _, f := range fs {
		key := farmwide("emergency.told", f.Paddock)
		if f.Horses {
			key = "emergency.horses"
		}
		parts = append(parts, must(v.say(key, "paddock", v.paddock(f.Place))))
		parts = append(parts, keep(rankDetail, v.inEach("quoted", "words", v.quotes(f.Words), "who", v.name(f.Who))...))
	}
	are := func(f *ladder.EmergencyFacts) bool { return f.Horses }
	parts = append(parts,
		when(slices.ContainsFunc(fs, are), must(v.say("emergency.horses-off"))),
		when(!every(fs, are), must(v.say("emergency.do"))))
	shuts := gathered(fs, func(f *ladder.EmergencyFacts) []ladder.Shut { return f.Shuts })
	if names := v.namesOf(shuts, func(ladder.Shut) bool { return true }); len(names) > 0 { // nobody said where
		parts = append(parts, keep(rankNames, v.say("emergency.where", "paddock", strings.Join(names, ", ")), v.say("emergency.where.all")))
	}
	if len(fs) > 1 || fs[0].Paddock == "" {
		return parts
	}
	return append(parts, v.answer("answer.clear", 1, v.command(diary.Clear, fs[0].Place)))
}

func (v voice) passedOn(fs []*ladder.PassedFacts) []part {
	f := fs[0]
	first := v.say("passed-on", "who", f.Who)
	if f.Note {
		first = v.say("note-told", "who", f.Who)
	}
	return []part{must(first), keep(rankDetail, v.inEach("quoted", "words", v.quotes(f.Words), "who", f.Who)...)}
}

// quotes are somebody's words, whole and shorter.
func (v voice) quotes(words string) []string {
	words = oneLine(words)
	if v.roomy {
		return []string{words}
	}
	return []string{gsm.Rewrite(words), gsm.Cut(gsm.Rewrite(words), 80), gsm.Cut(gsm.Rewrite(words), 30)}
}
