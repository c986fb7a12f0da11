package wording

import (
	"fmt"
	"slices"
	"strings"

	"stubbled/notify/gsm"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season/shut"
)

var coldSpeakers = map[ladder.Kind]speaker{
	ladder.FrostSeen:     saysLong(voice.frostSeen, manyLines),
	ladder.FreezeSeen:    saysLong(voice.freezeSeen, manyLines),
	ladder.KillingFreeze: saysLong(voice.killingFreeze, inFull),
	ladder.FrostFirst:    says(voice.frostFirst),
	ladder.FrostWarning:  saysLong(voice.frostWarning, inFull),
	ladder.HazardAhead:   saysLong(voice.hazardAhead, inFull),
	ladder.HoldBegins:    saysLong(voice.holdBegins, inFull),
	ladder.HoldAnimals:   saysLong(voice.holdAnimals, inFull),
	ladder.HoldUnsure:    saysLong(voice.holdUnsure, inFull),
	ladder.WaitAnimals:   saysLong(voice.waitAnimals, inFull),
	ladder.FrostAsk:      saysLong(voice.frostAsk, inFull),
	ladder.EmergencyTold: saysLong(voice.emergency, inFull),
	ladder.PassedOn:      saysLong(voice.passedOn, inFull),
	ladder.HoldOver:      saysLong(voice.holdOver, inFull),
	ladder.RestOver:      saysLong(voice.restOver, inFull),
}

func manyLines(f *ladder.FrostFacts) bool { return len(f.Shuts) > 1 || restOver(f) }

// seen is a frost as it was measured or told: '31 F at Quail Fork, Sep 28'.
func (v voice) seen(c *ladder.Frost) string {
	switch {
	case c == nil:
		return v.say("cold.somewhere")
	case c.MinC != nil && c.Place != "":
		return v.say("cold.at", "temperature", v.degrees(*c.MinC), "place", v.name(c.Place), "day", v.date(c.Day))
	case c.MinC != nil:
		return v.say("cold.bare", "temperature", v.degrees(*c.MinC), "day", v.date(c.Day))
	case c.ByWho != "":
		return v.say("cold.told", "who", v.name(c.ByWho), "day", v.date(c.Day))
	}
	return v.say("cold.day", "day", v.date(c.Day))
}

func restOver(f *ladder.FrostFacts) bool { return f.FrostSeen != nil && f.FrostSeen.RestOver }

func beforeCutoff(f *ladder.FrostFacts) bool { return f.FrostSeen != nil && f.FrostSeen.BeforeCutoff }

// resting are the paddocks that a frost finds in rest: one notice for the whole
// farm names them line by line, those with cattle in apart.
func resting(fs []*ladder.FrostFacts) []*ladder.PaddockFacts {
	if len(fs) != 1 || !wholeFarm(&fs[0].PaddockFacts) {
		return paddocks(fs)
	}
	var out []*ladder.PaddockFacts
	for _, s := range fs[0].Shuts {
		if !s.Grazed {
			out = append(out, paddockOf(fs[0].Head, s))
		}
	}
	return out
}

// wholeFarm reports whether a notice speaks of the farm and not of a paddock.
func wholeFarm(f *ladder.PaddockFacts) bool { return f.Leave == 0 && f.Cutoff.IsZero() }

func (v voice) frostSeen(fs []*ladder.FrostFacts) []part {
	switch {
	case every(fs, restOver):
		return v.killed(fs)
	case every(fs, beforeCutoff) && len(fs) == 1 && wholeFarm(&fs[0].PaddockFacts):
		return v.early(paddocks(fs), fs[0].FrostSeen)
	case every(fs, beforeCutoff):
		in := paddocks(fs)
		return []part{v.sentence(v.about(in, nil), "frost.early", "frost", v.seen(fs[0].FrostSeen)), v.stillShuts(in),
			v.answer("answer", len(fs), v.heights(fs[0].Place, fs[0].Leave+1))}
	}
	return v.restGoesOn(fs, "frost")
}

// stillShuts says that a cutoff stands.
func (v voice) stillShuts(fs []*ladder.PaddockFacts) part {
	if day := same(fs, v.shuts); day != "" && !fs[0].Cutoff.IsZero() {
		return may(rankWhen, v.say("still-shuts", "day", day))
	}
	return part{}
}

func (v voice) freezeSeen(fs []*ladder.FrostFacts) []part {
	switch {
	case every(fs, restOver):
		return v.killed(fs)
	case every(fs, beforeCutoff):
		return v.early(paddocks(fs), fs[0].FrostSeen)
	}
	return v.restGoesOn(fs, "freeze")
}

// restGoesOn is a frost that does not end rest.
func (v voice) restGoesOn(fs []*ladder.FrostFacts, key string) []part {
	in := resting(fs)
	if len(in) == 0 {
		return []part{must(v.say(key+".farm", "frost", v.seen(fs[0].FrostSeen))), must(v.say("frost.why"))}
	}
	return []part{v.sentence(v.about(in, nil), key, "frost", v.seen(fs[0].FrostSeen)),
		keep(rankAnswer, v.say(key+".why"), v.say("frost.why")),
		v.answer("answer.brown", len(in), v.command(diary.Brown, in[0].Place))}
}

// killed is a freeze that ends rest.
func (v voice) killed(fs []*ladder.FrostFacts) []part {
	f := fs[0]
	if len(fs) > 1 || !wholeFarm(&f.PaddockFacts) {
		return v.restEnds(paddocks(fs), "killing-freeze", "frost", v.seen(f.FrostSeen))
	}
	parts := []part{must(v.say("killing-freeze.farm", "frost", v.seen(f.FrostSeen)))}
	if in := resting(fs); len(in) > 0 {
		parts = append(parts, part{rankNames, append(v.inEach("still-resting", "paddock", v.names(places(in))), "")})
	}
	parts = append(parts, v.care())
	if f.Say == "" && f.Paddock == "" {
		return parts
	}
	return append(parts, v.answer("answer.like", len(fs), v.heights(f.Place, max(f.Target, 9))))
}

func (v voice) killingFreeze(fs []*ladder.FrostFacts) []part {
	switch {
	case every(fs, restOver):
		return v.killed(fs)
	case every(fs, beforeCutoff):
		return v.early(paddocks(fs), fs[0].FrostSeen)
	}
	return v.restGoesOn(fs, "freeze")
}

func (v voice) restOver(fs []*ladder.EndFacts) []part {
	in := paddocks(fs)
	switch f := fs[0]; {
	case f.Result != nil && f.Result.NoFrost:
		return v.restEnds(in, "rest-over.year")
	case f.FrostSeen != nil && f.FrostSeen.MinC != nil:
		return v.restEnds(in, "killing-freeze", "frost", v.seen(f.FrostSeen))
	}
	return v.restEnds(in, "rest-over")
}

// restEnds asks for a look and a height, and promises nothing.
func (v voice) restEnds(fs []*ladder.PaddockFacts, key string, fields ...any) []part {
	parts := []part{v.sentence(v.about(fs, nil), key, fields...)}
	if h := heldIn(fs); h != nil {
		parts = append(parts, v.sentence(v.about(held(fs), nil), "still-held", "plants", v.plants(h.Plants)))
		if !h.Until.IsZero() {
			parts = append(parts, may(rankWhen, v.say("hold.until", "day", v.date(h.Until))))
		}
	}
	return append(parts, v.care(), v.answer("answer", len(fs), v.heights(fs[0].Place, max(fs[0].Target, fs[0].Leave))))
}

// heldIn is the first hold of a bundle; nil where there is none.
func heldIn(fs []*ladder.PaddockFacts) *ladder.Hold {
	if in := held(fs); len(in) > 0 {
		return in[0].Hold
	}
	return nil
}

// held are the paddocks of a bundle under a hold.
func held(fs []*ladder.PaddockFacts) []*ladder.PaddockFacts {
	return slices.DeleteFunc(slices.Clone(fs), func(f *ladder.PaddockFacts) bool { return !poisonous(f) })
}

// poisonous reports whether a paddock is under a hold that names its plants.
func poisonous(f *ladder.PaddockFacts) bool { return f.Hold != nil && len(f.Hold.Plants) > 0 }

// care defers to the ground, the laboratory and the vet. It is shortened, never
// left out.
func (v voice) care() part {
	return keep(rankDetail, v.say("care"), v.say("care.short"))
}

func (v voice) frostFirst(fs []*ladder.EndFacts) []part {
	return v.early(paddocks(fs), fs[0].FrostSeen)
}

// early is a freeze that came before the cutoff.
func (v voice) early(fs []*ladder.PaddockFacts, frost *ladder.Frost) []part {
	if len(fs) == 1 && wholeFarm(fs[0]) && frost != nil {
		return []part{must(v.say("frost-first.farm", "frost", v.seen(frost))), may(rankDetail, v.say("frost-first.why")),
			must(v.say("look-first"))}
	}
	return []part{v.sentence(v.about(fs, nil), "frost-first", "frost", v.seen(frost)),
		may(rankDetail, v.say("frost-first.why")), may(rankRemark, v.say("look-first")),
		v.answer("answer", len(fs), v.heights(fs[0].Place, fs[0].Leave+1))}
}

// allPlants are the plants of all holds of a bundle, how many, and whether all
// of them only bloat.
func (v voice) allPlants(fs []*ladder.PaddockFacts) (plants string, n int, bloat bool) {
	var names []string
	bloat = true
	for _, f := range held(fs) {
		names = append(names, f.Hold.Plants...)
		bloat = bloat && f.Hold.Bloat
	}
	if len(strings.Join(names, "")) == 0 {
		return v.say("plant.unnamed"), 2, false
	}
	plants = v.plants(names)
	return plants, len(unique(names)), bloat
}

// danger says what a frost does to the plants.
func (v voice) danger(fs []*ladder.PaddockFacts) string {
	plants, n, bloat := v.allPlants(fs)
	if bloat {
		return v.say("danger.bloat", "plants", plants, "n", n)
	}
	return v.say("danger", "plants", plants, "n", n)
}

func (v voice) frostWarning(fs []*ladder.FrostFacts) []part {
	in := paddocks(fs)
	forecast := part{}
	if c := fs[0].FrostSeen; c != nil && c.MinC != nil {
		forecast = may(rankNames, v.say("forecast", "temperature", v.degrees(*c.MinC), "day", v.date(c.Day)))
	}
	return []part{v.sentence(v.about(in, nil), "frost-warning"), forecast, must(sentence(v.danger(in))),
		v.moveTo(in, rankWhen), may(rankAnswer, v.say("care.hay-vet"), v.say("care.vet")),
		v.unreached(gathered(fs, func(f *ladder.FrostFacts) []string { return f.Missing })), v.answer("answer.off", len(fs), v.command(diary.Off, fs[0].Place))}
}

// hazardAhead is ground that the first frost will poison, with cattle in.
func (v voice) hazardAhead(fs []*ladder.FrostFacts) []part {
	in := paddocks(fs)
	parts := []part{v.sentence(v.about(in, nil), "hazard-ahead"), must(v.danger(in))}
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
	if a.tag == "" {
		a.tag = v.say("hold.not-yet")
	}
	parts := []part{v.sentence(a, key), must(v.danger(fs))}
	if every(fs, func(f *ladder.PaddockFacts) bool { return f.Hold != nil && f.Hold.Short }) {
		parts = append(parts, may(rankDetail, v.say("hold.short")))
	}
	if len(fs) == 1 || same(fs, until) != "" {
		parts = append(parts, keep(rankAnswer, v.say("hold.keep-off", "until", a.tag)))
	}
	return append(parts, keep(rankAnswer, v.say("care.hold"), v.say("care.short")))
}

// waitAnimals is what shuts ground without a hold while animals stand there.
func (v voice) waitAnimals(fs []*ladder.PaddockFacts) []part {
	off := v.command(diary.Off, fs[0].Place)
	answer := v.answer("answer.off", len(fs), off)
	if w := fs[0].Wait; w != nil && w.Why == shut.NotKnown {
		answer = keep(rankAnswer, v.frostOr(off))
	}
	var parts []part
	for _, some := range byReason(fs) {
		parts = append(parts, v.sentence(v.about(some, nil), "wait.animals"), must(v.waitsFor(some[0])))
	}
	return append(parts, keep(rankAnswer, v.say("care.short")), v.moveTo(fs, rankRemark), answer)
}

// byReason parts a bundle by what shuts its ground.
func byReason(fs []*ladder.PaddockFacts) (groups [][]*ladder.PaddockFacts) {
	at := map[string]int{}
	for _, f := range fs {
		key := ""
		if f.Wait != nil {
			key = fmt.Sprint(f.Wait.Why, f.Wait.Plants)
		}
		if _, known := at[key]; !known {
			at[key] = len(groups)
			groups = append(groups, nil)
		}
		groups[at[key]] = append(groups[at[key]], f)
	}
	return groups
}

// waitsFor is why ground waits without a hold: 'nobody knows if it froze'.
func (v voice) waitsFor(f *ladder.PaddockFacts) string {
	w := f.Wait
	if w == nil {
		return ""
	}
	return v.say("why."+strings.ReplaceAll(string(w.Why), " ", "-"), "plants", v.plants(w.Plants), "height", v.length(w.Height), "day", v.date(w.Since))
}

// frostAsk asks whether it has frozen, whether the tops are brown, or both.
func (v voice) frostAsk(fs []*ladder.FrostFacts) []part {
	f, tops := fs[0], v.browning(fs[0].Shuts)
	doubted := f.FrostSeen != nil
	var parts []part
	if doubted {
		parts = append(parts, must(v.say("frost-ask.doubted", "frost", v.seen(f.FrostSeen))))
	} else {
		parts = append(parts, must(v.say("frost-ask")))
	}
	if tops.Paddock != "" {
		parts = append(parts, must(v.say("frost-ask.tops")))
	}
	if held := v.waiting(f.Shuts); len(held) > 0 {
		parts = append(parts, part{rankDetail, append(v.inEach("frost-ask.shut", "paddock", v.shortening(held, ", ")), "")})
	}
	brown := v.command(diary.Brown, tops)
	switch {
	case doubted:
		return append(parts, v.answer("answer.brown", 1, brown))
	case tops.Paddock != "":
		return append(parts, keep(rankAnswer, v.frostOr(brown)))
	}
	return append(parts, keep(rankAnswer, v.say("answer.frost-yet", "text", v.say("command.frost"), "none", v.say("command.no-frost"))))
}

// frostOr is how to say whether it froze, or something else.
func (v voice) frostOr(other string) string {
	return v.say("answer.frost-or", "frost", v.say("command.frost"), "none", v.say("command.no-frost"), "text", other)
}

// waiting names the ground of a list that nobody may graze before frost is known.
func (v voice) waiting(all []ladder.Shut) (names []string) {
	for _, s := range all {
		if s.Wait != nil {
			names = append(names, v.paddock(s.Place))
		}
	}
	return names
}

// browning is the first paddock of a list whose tops are asked about.
func (v voice) browning(all []ladder.Shut) ladder.Place {
	for _, s := range all {
		if s.Wants == "brown" {
			return s.Place
		}
	}
	return ladder.Place{}
}

// heldUntil is about when a hold is over.
func (v voice) heldUntil(h *ladder.Hold) string {
	if h == nil || h.Until.IsZero() {
		return v.say("hold.not-yet")
	}
	return v.say("until-about", "day", v.date(h.Until))
}

// holdOver is a hold that the calendar ended: in rest the rest goes on, and where
// cattle stand it is no leave to stay.
func (v voice) holdOver(fs []*ladder.PaddockFacts) []part {
	var parts []part
	for _, key := range []string{"hold-over.animals", "hold-over.rest", "hold-over"} {
		if some := slices.DeleteFunc(slices.Clone(fs), func(f *ladder.PaddockFacts) bool { return overKey(f) != key }); len(some) > 0 {
			parts = append(parts, v.sentence(v.about(some, nil), key))
		}
	}
	if slices.ContainsFunc(fs, func(f *ladder.PaddockFacts) bool { return f.Grazed && f.Resting }) {
		parts = append(parts, must(v.say("rest-goes-on")))
	}
	return append(parts, v.care(), v.answer("answer.regrowth", len(fs), v.command(diary.Regrowth, fs[0].Place)))
}

func overKey(f *ladder.PaddockFacts) string {
	switch {
	case f.Grazed:
		return "hold-over.animals"
	case f.Resting:
		return "hold-over.rest"
	}
	return "hold-over"
}

// emergency is an animal dead or in trouble, in the words of whoever told of it. No
// cause is guessed.
func (v voice) emergency(fs []*ladder.EmergencyFacts) []part {
	var parts []part
	for _, f := range fs {
		parts = append(parts, must(v.say(farmwide("emergency.told", f.Paddock), "paddock", v.paddock(f.Place))))
		parts = append(parts, keep(rankDetail, v.inEach("quoted", "words", v.quotes(f.Words), "who", v.name(f.Who))...))
	}
	parts = append(parts, must(v.say("emergency.do")))
	if len(fs) > 1 || fs[0].Paddock == "" {
		return parts
	}
	return append(parts, v.answer("answer.clear", 1, v.command(diary.Clear, fs[0].Place)))
}

func (v voice) passedOn(fs []*ladder.PassedFacts) []part {
	f := fs[0]
	return []part{must(v.say("passed-on", "who", f.Who)), keep(rankDetail, v.inEach("quoted", "words", v.quotes(f.Words), "who", f.Who)...)}
}

// quotes are somebody's words, whole and shorter.
func (v voice) quotes(words string) []string {
	words = oneLine(words)
	if v.roomy {
		return []string{words}
	}
	return []string{gsm.Rewrite(words), gsm.Cut(gsm.Rewrite(words), 80), gsm.Cut(gsm.Rewrite(words), 30)}
}

// farmwide is the form of a phrase for the whole farm where no paddock is named.
func farmwide(key, paddock string) string {
	if paddock == "" && has(key+".all") {
		return key + ".all"
	}
	return key
}
