package wording

import (
	"strings"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

var coldSpeakers = map[ladder.Kind]speaker{
	ladder.FrostSeen:     saysLong(voice.frostSeen, manyLines),
	ladder.FreezeSeen:    saysLong(voice.freezeSeen, manyLines),
	ladder.KillingFreeze: saysLong(voice.freezeSeen, inFull),
	ladder.FrostFirst:    says(func(v voice, fs []*ladder.EndFacts) []part { return v.early(paddocks(fs), fs[0].FrostSeen) }),
	ladder.FrostWarning:  saysLong(voice.frostWarning, inFull),
	ladder.HazardAhead:   saysLong(voice.hazardAhead, inFull),
	ladder.HoldBegins:    saysLong(voice.holdBegins, inFull),
	ladder.HoldAnimals:   saysLong(voice.holdAnimals, inFull),
	ladder.HoldUnsure:    saysLong(voice.holdUnsure, inFull),
	ladder.WaitAnimals:   saysLong(voice.waitAnimals, inFull),
	ladder.FrostAsk:      saysLong(voice.frostAsk, inFull),
	ladder.FrostDisputed: says(voice.frostDisputed),
	ladder.EmergencyTold: saysLong(voice.emergency, inFull),
	ladder.PassedOn:      saysLong(voice.passedOn, inFull),
	ladder.HoldOver:      saysLong(voice.holdOver, inFull),
	ladder.StillShut:     saysLong(voice.stillShut, inFull),
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
	empty := only(fs[0].Shuts, func(s ladder.Shut) bool { return !s.Grazed })
	return each(empty, func(s ladder.Shut) *ladder.PaddockFacts { return paddockOf(fs[0].Head, s) })
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
		in, stands := paddocks(fs), part{}
		if day := same(in, v.shuts); day != "" && !in[0].Cutoff.IsZero() {
			stands = may(rankWhen, v.say("still-shuts", "day", day))
		}
		return []part{v.sentence(v.about(in, nil), "frost.early", "frost", v.seen(fs[0].FrostSeen)), stands,
			v.answer("answer", len(fs), v.heights(fs[0].Place, fs[0].Leave+1))}
	}
	return v.restGoesOn(fs, "frost")
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
	parts := []part{v.sentence(v.about(in, nil), key, "frost", v.seen(fs[0].FrostSeen)), keep(rankAnswer, v.say(key+".why"), v.say("frost.why"))}
	if fs[0].Owner {
		return parts
	}
	return append(parts, v.answer("answer.brown", len(in), v.command(diary.Brown, in[0].Place)))
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
	if f.Owner || f.Say == "" && f.Paddock == "" {
		return parts
	}
	return append(parts, v.answer("answer.like", len(fs), v.heights(f.Place, max(f.Target, 9))))
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
	parts := v.failed(fs, "rest-failed.over")
	if over := only(fs, func(f *ladder.PaddockFacts) bool { return !f.Failed }); len(over) > 0 {
		both := []string{v.sentence(v.about(over, nil), key, fields...).forms[0]}
		for _, p := range parts {
			both = append(both, p.forms[:min(1, len(p.forms))]...)
		}
		parts = []part{v.sentence(v.about(fs, nil), key, fields...)}
		if len(over) < len(fs) { // where there is no room for both every one is to be walked
			parts[0].forms = append([]string{strings.Join(both, " ")}, parts[0].forms...)
		}
	}
	if in := only(fs, poisonous); len(in) > 0 {
		until := same(in, func(f *ladder.PaddockFacts) string { return v.heldUntil(f.Hold) }) // else each is told with its own
		plants := gathered(in, func(f *ladder.PaddockFacts) []string { return f.Hold.Plants })
		a := v.about(in, nil)
		still := append(v.inEach("still-held", "paddock", a.forms[:1], "plants", v.plants(plants)), v.inEach("still-held.short", "paddock", a.forms)...)
		if len(in) == len(fs) && len(in) > 1 {
			still = append(still, v.say("still-held.all"))
		}
		parts = append(parts, keep(rankNames, still...), when(until != "", may(rankWhen, v.say("hold.keep-off", "until", until))))
	}
	return append(parts, v.care(), v.answer("answer", len(fs), v.heights(fs[0].Place, max(fs[0].Target, fs[0].Leave))))
}

// failed is ground whose rest came to too little: it is left for spring, and nobody
// stays on it. What is over is said with it where all ground is such.
func (v voice) failed(fs []*ladder.PaddockFacts, over string) (parts []part) {
	if in := only(fs, func(f *ladder.PaddockFacts) bool { return f.Failed && f.Grazed }); len(in) > 0 {
		parts = append(parts, v.sentence(v.about(in, nil), "rest-failed.grazed"))
	}
	if in := only(fs, func(f *ladder.PaddockFacts) bool { return f.Failed && !f.Grazed }); len(in) > 0 {
		parts = append(parts, v.sentence(v.about(in, nil), "rest-failed"))
	}
	return append(parts, when(every(fs, func(f *ladder.PaddockFacts) bool { return f.Failed }), must(v.say(over))))
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

// frostAsk asks whether it has frozen, whether the tops are brown, or both.
func (v voice) frostAsk(fs []*ladder.FrostFacts) []part {
	f, doubted, tops := fs[0], fs[0].FrostSeen != nil, ladder.Place{}
	parts := []part{must(v.say("frost-ask"))}
	if doubted {
		parts = []part{must(v.say("frost-ask.doubted", "frost", v.seen(f.FrostSeen)))}
	}
	resting := only(f.Shuts, func(s ladder.Shut) bool { return s.Wants == "brown" })
	if len(resting) > 0 {
		tops = resting[0].Place
		parts = append(parts, must(v.say("frost-ask.tops")))
	}
	var shut []string
	if in := v.namesOf(f.Shuts, func(s ladder.Shut) bool { return s.Wait != nil && s.Grazed }); len(in) > 0 {
		shut = append(shut, v.say("frost-ask.shut.grazed", "paddock", strings.Join(in, ", ")))
	}
	if empty := v.namesOf(f.Shuts, func(s ladder.Shut) bool { return s.Wait != nil && !s.Grazed }); len(empty) > 0 {
		shut = append(shut, v.say("frost-ask.shut", "paddock", strings.Join(empty, ", ")))
	}
	if len(shut) > 0 {
		parts = append(parts, keep(rankDetail, strings.Join(shut, " "), v.say("frost-ask.shut.all")))
	}
	switch brown := v.command(diary.Brown, tops); {
	case doubted:
		return append(parts, v.answer("answer.brown", len(resting), brown))
	case tops.Paddock != "":
		return append(parts, keep(rankAnswer, v.frostOr(brown)))
	}
	return append(parts, v.frostYet())
}

// frostYet is how to say whether it froze.
func (v voice) frostYet() part {
	return keep(rankAnswer, v.say("answer.frost-yet", "text", v.say("command.frost"), "none", v.say("command.no-frost")))
}

// frostOr is how to say whether it froze, or something else.
func (v voice) frostOr(other string) string {
	return v.say("answer.frost-or", "frost", v.say("command.frost"), "none", v.say("command.no-frost"), "text", other)
}

// frostDisputed is two people who do not say the same of a night.
func (v voice) frostDisputed(fs []*ladder.DisputeFacts) []part {
	f := fs[0]
	return []part{must(v.say("frost-disputed", "who", v.who(f.Who), "other", v.who(f.None), "day", v.date(f.Day))),
		must(v.say("frost-disputed.stricter")), may(rankDetail, v.say("frost-disputed.decides"))}
}
