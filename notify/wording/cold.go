package wording

import (
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// seen is a frost as it was measured or told: '31 F at Quail Fork, Sep 28'.
func (v voice) seen(c *ladder.Cold) string {
	switch {
	case c == nil:
		return v.say("cold.somewhere")
	case c.MinC != nil && c.Place != "":
		return v.say("cold.at", v.degrees(*c.MinC), v.name(c.Place), v.date(c.Day))
	case c.MinC != nil:
		return v.say("cold.bare", v.degrees(*c.MinC), v.date(c.Day))
	case c.ByWho != "":
		return v.say("cold.told", v.name(c.ByWho), v.date(c.Day))
	}
	return v.say("cold.day", v.date(c.Day))
}

func restOver(f ladder.Facts) bool { return f.Cold36 != nil && f.Cold36.RestOver }

func beforeCutoff(f ladder.Facts) bool { return f.Cold36 != nil && f.Cold36.BeforeCutoff }

// resting are the paddocks that a frost finds in rest: one notice for the whole
// farm names them line by line, those with cattle in apart.
func resting(fs []ladder.Facts) []ladder.Facts {
	if len(fs) != 1 || !wholeFarm(fs[0]) {
		return fs
	}
	var out []ladder.Facts
	for _, s := range fs[0].Shuts {
		if s.Grazed {
			continue
		}
		one := factsOf(fs[0], s)
		one.Cold36 = fs[0].Cold36
		out = append(out, one)
	}
	return out
}

// wholeFarm reports whether a notice speaks of the farm and not of a paddock.
func wholeFarm(f ladder.Facts) bool { return f.Leave == 0 && f.Cutoff.IsZero() }

func (v voice) frostSeen(fs []ladder.Facts) []part {
	switch {
	case every(fs, restOver):
		return v.killed(fs)
	case every(fs, beforeCutoff) && len(fs) == 1 && wholeFarm(fs[0]):
		return v.frostFirst(fs)
	case every(fs, beforeCutoff):
		return []part{v.sentence(v.about(fs, nil), "frost.early", v.seen(fs[0].Cold36)), v.stillShuts(fs),
			v.answer("answer", fs, v.heights(fs[0], fs[0].Leave+1))}
	}
	return v.restGoesOn(fs, "frost")
}

// stillShuts says that a cutoff stands.
func (v voice) stillShuts(fs []ladder.Facts) part {
	if day := same(fs, v.shuts); day != "" && !fs[0].Cutoff.IsZero() {
		return may(rankWhen, v.say("still-shuts", day))
	}
	return part{}
}

func (v voice) freezeSeen(fs []ladder.Facts) []part {
	switch {
	case every(fs, restOver):
		return v.killed(fs)
	case every(fs, beforeCutoff):
		return v.frostFirst(fs)
	}
	return v.restGoesOn(fs, "freeze")
}

// restGoesOn is a frost that does not end rest.
func (v voice) restGoesOn(fs []ladder.Facts, key string) []part {
	in := resting(fs)
	if len(in) == 0 {
		return []part{must(v.say(key+".farm", v.seen(fs[0].Cold36))), must(v.say("frost.why"))}
	}
	return []part{v.sentence(v.about(in, nil), key, v.seen(fs[0].Cold36)),
		keep(rankAnswer, v.say(key+".why"), v.say("frost.why")),
		v.answer("answer.brown", in, v.command(diary.Brown, in[0]))}
}

// killed is a freeze that ends rest.
func (v voice) killed(fs []ladder.Facts) []part {
	f := fs[0]
	if len(fs) > 1 || !wholeFarm(f) {
		return v.restEnds(fs, "killing-freeze")
	}
	parts := []part{must(v.say("killing-freeze.farm", v.seen(f.Cold36)))}
	if in := resting(fs); len(in) > 0 {
		parts = append(parts, part{rankNames, append(v.inEach("still-resting", v.names(in)), "")})
	}
	parts = append(parts, v.care())
	if f.Say == "" && f.Paddock == "" {
		return parts
	}
	return append(parts, v.answer("answer.like", fs, v.heights(f, max(f.Target, 9))))
}

func (v voice) killingFreeze(fs []ladder.Facts) []part {
	switch {
	case every(fs, restOver):
		return v.killed(fs)
	case every(fs, beforeCutoff):
		return v.frostFirst(fs)
	}
	return v.restGoesOn(fs, "freeze")
}

func (v voice) restOver(fs []ladder.Facts) []part {
	switch f := fs[0]; {
	case f.Result != nil && f.Result.NoFrost:
		return v.restEnds(fs, "rest-over.year")
	case f.Cold36 != nil && f.Cold36.MinC != nil:
		return v.restEnds(fs, "killing-freeze")
	}
	return v.restEnds(fs, "rest-over")
}

// restEnds asks for a look and a height, and promises nothing.
func (v voice) restEnds(fs []ladder.Facts, key string) []part {
	args := []any{}
	if key == "killing-freeze" {
		args = append(args, v.seen(fs[0].Cold36))
	}
	parts := []part{v.sentence(v.about(fs, nil), key, args...)}
	if h := heldIn(fs); h != nil {
		parts = append(parts, v.sentence(v.about(held(fs), nil), "still-held", v.plants(h.Plants)))
		if !h.Until.IsZero() {
			parts = append(parts, may(rankWhen, v.say("hold.until", v.date(h.Until))))
		}
	}
	return append(parts, v.care(), v.answer("answer", fs, v.heights(fs[0], max(fs[0].Target, fs[0].Leave))))
}

// heldIn is the first hold of a bundle; nil where there is none.
func heldIn(fs []ladder.Facts) *ladder.Hold {
	for _, f := range fs {
		if f.Hold != nil && len(f.Hold.Plants) > 0 {
			return f.Hold
		}
	}
	return nil
}

// held are the paddocks of a bundle under a hold.
func held(fs []ladder.Facts) []ladder.Facts {
	var out []ladder.Facts
	for _, f := range fs {
		if f.Hold != nil && len(f.Hold.Plants) > 0 {
			out = append(out, f)
		}
	}
	return out
}

// care defers to the ground, the laboratory and the vet. It is shortened, never
// left out.
func (v voice) care() part {
	return keep(rankDetail, v.say("care"), v.say("care.short"))
}

func (v voice) frostFirst(fs []ladder.Facts) []part {
	if len(fs) == 1 && wholeFarm(fs[0]) && fs[0].Cold36 != nil {
		return []part{must(v.say("frost-first.farm", v.seen(fs[0].Cold36))), may(rankDetail, v.say("frost-first.why")),
			must(v.say("look-first"))}
	}
	return []part{v.sentence(v.about(fs, nil), "frost-first", v.seen(fs[0].Cold36)),
		may(rankDetail, v.say("frost-first.why")), may(rankRemark, v.say("look-first")),
		v.answer("answer", fs, v.heights(fs[0], fs[0].Leave+1))}
}

// allPlants are the plants of all holds of a bundle, how many, and whether all
// of them only bloat.
func (v voice) allPlants(fs []ladder.Facts) (plants string, n int, bloat bool) {
	var names []string
	bloat = true
	for _, f := range held(fs) {
		names = append(names, f.Hold.Plants...)
		bloat = bloat && f.Hold.Bloat
	}
	if len(names) == 0 {
		return v.say("plant.unnamed"), 2, false
	}
	plants = v.plants(names)
	return plants, len(unique(names)), bloat
}

// danger says what a frost does to the plants.
func (v voice) danger(fs []ladder.Facts) string {
	plants, n, bloat := v.allPlants(fs)
	if bloat {
		return v.say("danger.bloat", plants, n)
	}
	return v.say("danger", plants, n)
}

func (v voice) frostWarning(fs []ladder.Facts) []part {
	forecast := part{}
	if c := fs[0].Cold36; c != nil && c.MinC != nil {
		forecast = may(rankNames, v.say("forecast", v.degrees(*c.MinC), v.date(c.Day)))
	}
	return []part{v.sentence(v.about(fs, nil), "frost-warning"), forecast, must(sentence(v.danger(fs))),
		v.moveTo(fs, rankWhen), may(rankAnswer, v.say("care.hay-vet"), v.say("care.vet")),
		v.unreached(fs), v.answer("answer.off", fs, v.command(diary.Off, fs[0]))}
}

func (v voice) holdBegins(fs []ladder.Facts) []part {
	animals := anyOf(fs, func(f ladder.Facts) bool { return f.Hold != nil && f.Hold.Animals || f.Grazed })
	key := "hold"
	if animals {
		key = "hold.animals"
	}
	a := v.about(fs, v.heldUntil)
	if a.tag == "" {
		a.tag = v.say("hold.not-yet")
	}
	parts := []part{v.sentence(a, key), must(v.danger(fs))}
	if every(fs, func(f ladder.Facts) bool { return f.Hold != nil && f.Hold.Short }) {
		parts = append(parts, may(rankDetail, v.say("hold.short")))
	}
	if len(fs) == 1 || same(fs, v.heldUntil) != "" {
		parts = append(parts, keep(rankAnswer, v.say("hold.keep-off", a.tag)))
	}
	parts = append(parts, keep(rankAnswer, v.say("care.hold"), v.say("care.short")))
	if animals {
		parts = append(parts, v.moveTo(fs, rankRemark), v.answer("answer.off", fs, v.command(diary.Off, fs[0])))
	}
	return parts
}

// heldUntil is about when a hold is over.
func (v voice) heldUntil(f ladder.Facts) string {
	if f.Hold == nil || f.Hold.Until.IsZero() {
		return v.say("hold.not-yet")
	}
	return v.say("until-about", v.date(f.Hold.Until))
}

func (v voice) holdOver(fs []ladder.Facts) []part {
	return []part{v.sentence(v.about(fs, nil), "hold-over"), v.care(),
		v.answer("answer.regrowth", fs, v.command(diary.Regrowth, fs[0]))}
}
