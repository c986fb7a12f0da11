package wording

import (
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// What is supposed on Aug 31 of a paddock that was read that day.
var (
	what  = diary.Fact{Kind: diary.WhatIf, Paddock: "creek", Wait: 5 * 24 * time.Hour}
	moves = diary.Fact{Kind: diary.WhatIf, Paddock: "hill", Herd: "cows", Day: day(9, 1)}
	low   = diary.Fact{Kind: diary.HowLow, Paddock: "creek"}
)

type change func(*ladder.SupposedGround)

func supposedOf(changes ...change) ladder.SupposedGround {
	g := ladder.SupposedGround{In: day(8, 31), Out: day(9, 5), Lowest: 6, Shut: ladder.Shut{
		Place: ladder.Place{Paddock: "creek", Name: "Creek Bottom", Say: "cb"}, Native: true, Phase: season.Open,
		Standing: ladder.Standing{Cutoff: day(9, 1), Frost: day(10, 16), Leave: 8, Target: 18, Height: &ladder.Height{Mean: 14, Plants: 20, Day: day(8, 30)}},
		Judged:   ladder.Judged{Verdict: &season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Floor: 8}},
	}}
	for _, change := range changes {
		change(&g)
	}
	return g
}

func then(mean, low, high float64) change {
	return func(g *ladder.SupposedGround) {
		g.Then.Expect = &ladder.Expect{At: day(10, 16), Mean: mean, Low: low, High: high}
	}
}

func now(mean float64) change {
	return func(g *ladder.SupposedGround) {
		g.Now.Expect = &ladder.Expect{At: day(10, 16), Mean: mean, Low: mean - 4, High: mean + 4}
	}
}

func lowTo(height float64) change {
	return func(g *ladder.SupposedGround) { g.Leaves, g.Then.Days = height, ptr(3.2) }
}

func inHold(g *ladder.SupposedGround) {
	g.Closed, g.Hold = true, &ladder.Hold{Plants: []string{"johnsongrass"}, Until: day(9, 10)}
	g.Verdict = &season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.OnHold}
}

func to(g *ladder.SupposedGround) {
	g.Place = ladder.Place{Paddock: "hill", Name: "Hill", Say: "hill"}
	g.In, g.Out, g.Then.Days = day(9, 1), day(9, 7), ptr(6.2)
}

func out(g *ladder.SupposedGround) { g.Out = day(9, 1) }

func longer(of diary.Fact, first ladder.SupposedGround, hay int, others ...ladder.SupposedGround) []flat {
	return supposing(of, ladder.Supposed{HayDays: hay, Grounds: append([]ladder.SupposedGround{first}, others...)})
}

func supposing(of diary.Fact, s ladder.Supposed) []flat {
	return []flat{{Farm: "Quail Fork", Day: day(8, 31), Recorded: []diary.Fact{of}, Supposed: &s}}
}

func supposes(name string, f ...flat) sample {
	return sample{"supposed: " + name, ladder.AnswerAsked, f}
}

func supposedSamples() []sample {
	return []sample{
		supposes("five more days", longer(what, supposedOf(then(14.2, 11, 17.3), now(18.1)), 3)...),
		supposes("five more days, what it leaves", longer(what, supposedOf(then(14.2, 11, 17.3), now(18.1), func(g *ladder.SupposedGround) { g.Leaves, g.Lowest = 5.6, 6 }), -12)...),
		supposes("five more days, with seasons of its own", longer(what, supposedOf(now(18.1), then(14.2, 11, 17.3), func(g *ladder.SupposedGround) { g.Then.Expect.Chance, g.Then.Expect.Seasons = ptr(0.31), 4 }), 0)...),
		supposes("five days of ground in rest", longer(what, supposedOf(then(14.2, 11, 17.3), now(18.1), func(g *ladder.SupposedGround) { g.Empty, g.Resting = true, true }), 0)...),
		supposes("five more days in a drought", longer(what, supposedOf(func(g *ladder.SupposedGround) { g.Verdict, g.Leaves = &season.Verdict{Drought: true}, 7.5 }), 9)...),
		supposes("five more days in a hold", longer(what, supposedOf(inHold), 0)...),
		supposes("five more days where frost may poison", longer(what, supposedOf(func(g *ladder.SupposedGround) { g.Closed = true }), 0)...),
		supposes("five more days, no height", longer(what, supposedOf(func(g *ladder.SupposedGround) { g.Closed, g.Verdict = true, nil }), 0)...),
		supposes("to other ground", longer(moves, supposedOf(to), 5, supposedOf(then(16.1, 12, 20), out))...),
		supposes("to other ground for long", longer(moves, supposedOf(to, func(g *ladder.SupposedGround) { g.Then.Days, g.Then.More = ptr(14.0), true }), 0)...),
		supposes("to other ground with plants that poison", longer(moves, supposedOf(to, func(g *ladder.SupposedGround) {
			g.Verdict = &season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Cautions: []season.Caution{{Why: season.RiskKin, Plants: []string{"johnsongrass"}}}}
		}), 0)...),
		supposes("to ground in a hold", longer(moves, supposedOf(to, inHold), 0, supposedOf(then(16.1, 12, 20), out))...),
		supposes("ten left", longer(diary.Fact{Kind: diary.WhatIf, Paddock: "creek", Heights: []float64{10}}, supposedOf(then(20.2, 15, 25), now(17.8), func(g *ladder.SupposedGround) {
			g.Leaves, g.Now.Days, g.Then.Days = 10, ptr(3.4), ptr(0.0)
		}), 0)...),
		supposes("more left than will stand there", longer(diary.Fact{Kind: diary.WhatIf, Paddock: "creek", Heights: []float64{20}}, supposedOf(func(g *ladder.SupposedGround) { g.Leaves, g.Closed = 20, true }), 0)...),
		{"supposed: fewer head", ladder.AnswerAsked, supposing(diary.Fact{Kind: diary.WhatIf, Herd: "cows", Amount: -8}, ladder.Supposed{
			Had: 38, Head: 30, HayDays: -20, Grounds: []ladder.SupposedGround{supposedOf(func(g *ladder.SupposedGround) { g.Now.Days, g.Then.Days = ptr(3.4), ptr(5.1) })},
		})},
		supposes("how low", longer(low, supposedOf(lowTo(11)), 0)...),
		supposes("how low, with seasons of its own", longer(low, supposedOf(lowTo(11), func(g *ladder.SupposedGround) { g.Falls = 8 }), 0)...),
		supposes("how low, already there", longer(low, supposedOf(lowTo(15)), 0)...),
		supposes("how low, months ahead", longer(low, supposedOf(lowTo(6), func(g *ladder.SupposedGround) { g.Days = 70 }), 0)...),
		supposes("how low, too late", longer(low, supposedOf(), 0)...),
		supposes("how low in a drought", longer(low, supposedOf(func(g *ladder.SupposedGround) { g.Verdict = &season.Verdict{Drought: true} }), 0)...),
		supposes("how low in a hold", longer(low, supposedOf(inHold), 0)...),
		supposes("how low while dormant", longer(low, supposedOf(func(g *ladder.SupposedGround) {
			g.Closed, g.Phase, g.Verdict = true, season.Dormant, &season.Verdict{Say: season.Go, Action: season.TurnIn, Reason: season.DormantGrass, Floor: 6}
		}), 0)...),
		supposes("how low where there is no rest", longer(low, supposedOf(func(g *ladder.SupposedGround) { g.Closed, g.Native = true, false }), 0)...),
		supposes("how low, three paddocks", longer(low, supposedOf(lowTo(11)), 0, supposedOf(lowTo(11)), supposedOf(inHold))...),
		{"how low, no native", ladder.AnswerAsked, supposing(low, ladder.Supposed{})},
	}
}
