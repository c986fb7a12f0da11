package wording

import (
	"cmp"
	"slices"
	"sort"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// supposed says what would come of what was supposed, beside what comes of it as it
// stands. Nothing that is only supposed is a GO.
func (v voice) supposed(f *ladder.AskedFacts, what diary.Fact) (parts []part) {
	s := f.Supposed
	herd := v.herd(what.Herd)
	if s.Had != s.Head {
		parts = append(parts, must(sentence(v.say("suppose.head", "herd", herd, "had", s.Had, "then", s.Head))))
	}
	for i := range s.Grounds {
		switch g := judged(s.Grounds[i]); {
		case g.Closed && i > 0 && g.Paddock != what.Paddock: // it is left
		case g.Closed:
			parts = append(parts, v.closed(f, g, what)...)
		case s.Had != s.Head:
			parts = append(parts, v.daysThere(g))
		case len(what.Heights) > 0:
			parts = append(parts, must(v.say("suppose.leave", "paddock", v.paddock(g.Place), "height", v.bare(g.Leaves))))
			parts = append(append(parts, v.atFrost(g)...), v.asRuled(g), v.daysThere(g))
		case what.Day.IsZero():
			parts = append(append(append(parts, v.longer(g)), v.atFrost(g)...), v.leaves(g)...)
			parts = append(append(parts, v.asItIs(g)), v.cautions(g.Verdict)...)
		case g.Paddock == what.Paddock:
			parts = append(append(parts, v.moved(g, herd)...), v.cautions(g.Verdict)...)
		case g.Then.Expect != nil && !s.Grounds[0].Closed:
			parts = append(parts, must(v.say("suppose.out", "paddock", v.paddock(g.Place), "day", v.date(g.Out))))
			parts = append(append(parts, v.atFrost(g)...), v.leaves(g)...)
		}
	}
	switch days := s.HayDays; {
	case days > 0:
		parts = append(parts, keep(rankAnswer, v.say("suppose.costs", "days", days)))
	case days < 0:
		parts = append(parts, keep(rankAnswer, v.say("suppose.saves", "days", -days)))
	}
	if len(parts) == 0 {
		return []part{must(v.say("suppose.same"))}
	}
	return parts
}

// supposedLong reports whether what is supposed may take two segments: of several
// paddocks, of one that is shut, with a caution, or where it eats the growing point.
func supposedLong(f *ladder.AskedFacts) bool {
	if f.Supposed == nil || len(f.Supposed.Grounds) != 1 {
		return true
	}
	g := judged(f.Supposed.Grounds[0])
	return g.Closed || len(g.Verdict.Cautions) > 0 || g.Native && g.Leaves > 0 && g.Leaves < g.Lowest
}

// judged is ground that has a verdict.
func judged(g ladder.SupposedGround) *ladder.SupposedGround {
	g.Verdict = cmp.Or(g.Verdict, unjudged)
	return &g
}

// closed says what stands against it, in the words of its verdict.
func (v voice) closed(f *ladder.AskedFacts, g *ladder.SupposedGround, what diary.Fact) []part {
	one := &ladder.VerdictFacts{PaddockFacts: *paddockOf(f.Head, g.Shut), Judged: g.Judged}
	name := v.paddock(g.Place)
	if !g.Frost.IsZero() {
		one.DaysToFrost = g.Frost.DaysSince(f.Day)
	}
	switch d := g.Verdict; {
	case len(what.Heights) > 0 && g.Hold == nil && g.Wait == nil && g.Phase == season.Open:
		return []part{must(v.say("suppose.too-tall", "paddock", name, "height", v.length(what.Heights[0]), "day", v.date(g.Cutoff)))}
	case what.Kind == diary.HowLow && g.Hold == nil && g.Wait == nil && g.Phase == season.Dormant && d.Floor > 0:
		return []part{must(v.say("low.dormant", "paddock", name, "height", v.length(d.Floor)))}
	case what.Kind == diary.HowLow && g.Hold == nil && g.Wait == nil && !g.Native:
		return []part{must(v.say("low.cool", "paddock", name, "height", v.length(g.Leave)))}
	case d.Say == season.Go:
		return []part{must(v.say("suppose.perilous", "paddock", name)), may(rankDetail, v.say("care.vet"))}
	}
	return v.verdict(one)
}

// longer is what is supposed of ground that is grazed on.
func (v voice) longer(g *ladder.SupposedGround) part {
	switch {
	case g.Empty && g.Resting:
		return must(v.say("suppose.graze.rest", "paddock", v.paddock(g.Place), "days", g.Out.DaysSince(g.In), "day", v.date(g.Out)))
	case g.Empty:
		return must(v.say("suppose.graze", "paddock", v.paddock(g.Place), "days", g.Out.DaysSince(g.In), "day", v.date(g.Out)))
	}
	return must(v.say("suppose.more", "paddock", v.paddock(g.Place), "days", g.Out.DaysSince(g.In), "day", v.date(g.Out)))
}

// atFrost is the height to come then: in most falls, or where the paddock has seasons
// of its own how often it is the one wanted.
func (v voice) atFrost(g *ladder.SupposedGround) []part {
	e := g.Then.Expect
	switch {
	case g.Verdict.Drought:
		return []part{may(rankAnswer, v.say("drought"))}
	case e == nil:
		return nil
	case e.Chance != nil && e.Seasons >= seasonsForChance:
		return []part{keep(rankAnswer, v.say("suppose.frost.chance", "height", v.unitless(e.Mean), "wanted", v.bare(g.Target), "falls", v.falls(*e.Chance)))}
	}
	short := v.say("suppose.frost", "height", v.unitless(e.Mean), "wanted", v.bare(g.Target))
	return []part{keep(rankAnswer, v.say("suppose.frost.range", "height", v.unitless(e.Mean), "wanted", v.bare(g.Target), "low", v.whole(e.Low), "high", v.whole(e.High)), short)}
}

// leaves is the height that they would leave, where that is under the one to leave.
func (v voice) leaves(g *ladder.SupposedGround) []part {
	switch {
	case g.Leaves <= 0:
		return nil
	case g.Native && g.Leaves < g.Lowest:
		return []part{keep(rankAnswer, v.say("suppose.lowest", "height", v.against(g.Leaves, g.Lowest), "lowest", v.bare(g.Lowest)))}
	case g.Leaves < g.Leave:
		return []part{may(rankWhen, v.say("suppose.leaves", "height", v.against(g.Leaves, g.Leave), "leave", v.bare(g.Leave)))}
	}
	return nil
}

// asItIs is what comes of it if they are out today, or nobody goes in; with the day of
// a height that is not today's.
func (v voice) asItIs(g *ladder.SupposedGround) part {
	e := g.Now.Expect
	if e == nil {
		return part{}
	}
	said := v.say("suppose.out-today", "height", v.whole(e.Mean))
	if g.Empty {
		said = v.say("suppose.alone", "height", v.whole(e.Mean))
	}
	if g.Height != nil && g.Height.Day.Before(g.In) {
		return keep(rankAnswer, said+" "+v.say("suppose.by", "day", v.date(g.Height.Day)), said)
	}
	return keep(rankAnswer, said)
}

// asRuled is what comes of the height that the rule leaves.
func (v voice) asRuled(g *ladder.SupposedGround) part {
	if g.Now.Expect == nil {
		return part{}
	}
	return keep(rankAnswer, v.say("suppose.ruled", "leave", v.bare(g.Leave), "height", v.whole(g.Now.Expect.Mean)))
}

// daysThere are the days of grass then, and now.
func (v voice) daysThere(g *ladder.SupposedGround) part {
	then, known := daysOfGrass(g.Then.Days)
	now, before := daysOfGrass(g.Now.Days)
	if !known || !before {
		return part{}
	}
	return keep(rankWhen, v.say("suppose.days", "paddock", v.paddock(g.Place), "grass", v.atMost(then, g.Then.More), "now", v.atMost(now, g.Now.More)))
}

// atMost is so many days, or more.
func (v voice) atMost(days int, more bool) string {
	if more {
		return v.say("days.more", "days", days)
	}
	return v.say("days.plain", "days", days)
}

// moved is a herd on other ground.
func (v voice) moved(g *ladder.SupposedGround, herd string) []part {
	parts := []part{must(sentence(v.say("suppose.move", "herd", herd, "paddock", v.paddock(g.Place), "day", v.date(g.In))))}
	switch days, known := daysOfGrass(g.Then.Days); {
	case known && g.Then.More:
		parts = append(parts, keep(rankAnswer, v.say("suppose.grass.more", "grass", v.atMost(days, true))))
	case known:
		parts = append(parts, keep(rankAnswer, v.say("suppose.grass", "grass", v.atMost(days, false), "day", v.date(g.Out))))
	}
	if h := g.Height; h != nil && h.Day.Before(g.In) {
		parts = append(parts, may(rankWhen, v.say("suppose.by", "day", v.date(h.Day))))
	}
	return parts
}

// low says how low each paddock may be grazed today.
func (v voice) low(f *ladder.AskedFacts, what diary.Fact) []part {
	grounds := slices.Clone(f.Supposed.Grounds)
	sort.SliceStable(grounds, func(i, j int) bool { return grounds[i].Closed && !grounds[j].Closed })
	all := each(grounds, func(g ladder.SupposedGround) []part { return v.lowOf(f, judged(g), what) })
	switch len(all) {
	case 0:
		return []part{must(v.say("low.none"))}
	case 1:
		return all[0]
	}
	return []part{{rankNames, v.lines(all, "lines-more")}}
}

func (v voice) lowOf(f *ladder.AskedFacts, g *ladder.SupposedGround, what diary.Fact) []part {
	name, wanted := v.paddock(g.Place), v.bare(g.Target)
	switch {
	case g.Closed:
		return v.closed(f, g, what)
	case g.Leaves <= 0 && g.Verdict.Drought:
		return []part{must(v.say("low.dry", "paddock", name))}
	case g.Leaves <= 0:
		return []part{must(v.say("low.late", "paddock", name, "wanted", wanted))}
	}
	said, short := v.say("low.most", "paddock", name, "height", v.length(g.Leaves), "wanted", wanted), v.say("low.short", "paddock", name, "height", v.length(g.Leaves))
	if g.Falls > 0 {
		said = v.say("low.falls", "paddock", name, "height", v.length(g.Leaves), "wanted", wanted, "falls", v.falls(float64(g.Falls)/10))
	}
	parts := []part{must(said, short)}
	if h := g.Height; h != nil {
		days, known := daysOfGrass(g.Then.Days)
		switch now := v.readOn(h, g.Leaves, f.Day); {
		case h.Mean <= g.Leaves:
			parts = append(parts, keep(rankAnswer, v.say("low.under", "height", now)))
		case known:
			parts = append(parts, keep(rankAnswer, v.say("low.now", "height", now, "grass", v.atMost(days, g.Then.More))))
		}
	}
	return append(parts, when(g.Days > 0 && g.Leaves < g.Leave, may(rankWhen, v.say("low.rule", "height", v.length(g.Leave), "day", v.date(g.Cutoff)))))
}
