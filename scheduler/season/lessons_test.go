package season

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// fall writes a whole fall of a paddock: shut on Sep 1 at one height, first
// frost on Oct 16, killing freeze on Nov 3, read at another two days later.
func (p *play) fall(year int, paddock string, from, to float64) {
	on := func(md string) string { return fmt.Sprintf("%d-%s", year, md) }
	p.moves(on("08-20"), diary.On, paddock, "cows")
	p.moves(on("09-01"), diary.Off, paddock, "cows")
	p.reads(on("09-01"), paddock, plants(20, from)...)
	p.tells(on("10-16"), diary.Frost, "")
	p.freeze(on("11-03"), 27)
	p.reads(on("11-05"), paddock, plants(20, to)...)
}

func (p *play) lesson(today, paddock string) Lesson {
	p.t.Helper()
	for _, l := range Lessons(p.sight(today)) {
		if l.Paddock == paddock {
			return l
		}
	}
	p.t.Fatalf("no lesson of %s", paddock)
	return Lesson{}
}

// TestADryPaddockFallsShortTwiceAndTheLessonsChangeTheRightNumber plays three
// invented falls. The hill is dry: from 8 in it makes 15 in twice. The creek
// makes 19.
//
// After two falls, by hand. The pair grows 10 in, so each of the hill's falls
// says -0.3. A height is read to 1.5 in and years spread 20 %: the variance of
// one is 0.2^2 + 2 x 1.5^2 / 10^2 = 0.085, its weight 11.765; paddocks spread 22
// %, weight 20.661. Effect -0.3 x 23.529 / 44.190 = -0.1597, known to 0.1504.
// From 8 in 10 x 0.8403 = 8.40 in grow, with a spread of
// sqrt((10 x hypot(0.1504, 0.2))^2 + 1.5^2) = 2.918 in. 18 in then lie
// (10 - 8.403) / 2.918 = 0.547 spreads off: a chance of 29 %.
//
// For 80 %, 0.8416 spreads must be to spare: leave 18 - 8.403 + 2.456 = 12.05,
// said as 12.5 in, where the chance is 84 %. Or rest so long that a full-growth
// count S of 10 / 23 x S x 0.8403 less 0.8416 x sqrt((10 / 23 x S x 0.2503)^2 +
// 2.25) makes 10: S = 37.4, that is 14.4 days before the 45 with their 23: 60
// days, 81 %.
func TestADryPaddockFallsShortTwiceAndTheLessonsChangeTheRightNumber(t *testing.T) {
	p := newPlay(t)
	p.fall(2024, "hill", 8, 15)
	p.fall(2024, "creek", 8, 19)
	if l := p.lesson("2025-01-15", "hill"); l.Chance != nil || l.Taught != 1 {
		t.Fatalf("after one fall: %+v; one fall is no lesson", l)
	} else if l.Thumb == nil || !l.Thumb.LeaveFor.Found || l.Thumb.LeaveFor.Value != 11 {
		// By the pair alone 10 in grow, with a spread of sqrt((10 x hypot(0.22, 0.2))^2 +
		// 1.5^2) = 3.33 in: leave 18 - 10 + 0.8416 x 3.33 = 10.80, said as 11.
		t.Errorf("after a first short fall the rule of thumb wants %+v, want 11 in", l.Thumb)
	}
	if l := p.lesson("2025-01-15", "creek"); l.Thumb != nil {
		t.Errorf("a fall that made its height is no reason to speak: %+v", l.Thumb)
	}
	p.fall(2025, "hill", 8, 15)
	p.fall(2025, "creek", 8, 19)

	l := p.lesson("2026-01-15", "hill")
	if l.Taught != 2 || l.Chance == nil || l.LeaveIn == nil || l.RestDays == nil || l.NoCure || l.Year != 2026 {
		t.Fatalf("after two falls: %+v", l)
	}
	near(t, "effect", l.Effect.Mean, -0.1597, 0.0005)
	near(t, "known to", l.Effect.SD, 0.1504, 0.0005)
	near(t, "chance", *l.Chance, 0.292, 0.003)
	near(t, "leave", *l.LeaveIn, 12.5, 0)
	near(t, "its chance", l.LeaveChance, 0.840, 0.003)
	near(t, "rest", float64(*l.RestDays), 60, 0)
	near(t, "its chance", l.RestChance, 0.811, 0.003)
	// Fifteen days longer: 15 x 38 x 1.3 x 26 lb, of hay 88 % dry of which 79 % is eaten.
	near(t, "days longer", float64(l.RestMore), 15, 0)
	near(t, "hay for them", l.RestHayLb, 15*1284.4/0.79/0.88, 1)
	if l.Thumb != nil {
		t.Error("its own falls are known, and the rule of thumb is still spoken of")
	}

	// The creek is asked to change as well, but far less: +0.1 x 23.529 / 44.190
	// = +0.0532, so 10.53 in grow; 18 - 10.532 + 0.8416 x 2.918 = 9.92, 10 in.
	creek := p.lesson("2026-01-15", "creek")
	near(t, "the creek's chance", *creek.Chance, 0.572, 0.003)
	near(t, "the creek leaves", *creek.LeaveIn, 10, 0)

	// The farm file is edited: the hill leaves 12.5 in, and makes it.
	p.paddock("hill").Rule.Leave, p.cache = 12.5, &Cache{}
	p.fall(2026, "hill", 12.5, 20.5)
	l = p.lesson("2027-01-15", "hill")
	if l.Taught != 3 || l.LeaveIn != nil || l.RestDays != nil || !l.Seasons[2].Met || l.Seasons[1].Met {
		t.Fatalf("after the change: %+v", l)
	}
	// r = 8 / 10 - 1 = -0.2: effect (-0.3 x 23.529 - 0.2 x 11.765) / 55.955 =
	// -0.1682, known to 0.1337. 5.5 in are wanted of 8.318 with a spread of 2.835.
	near(t, "chance under the new rule", *l.Chance, 0.840, 0.003)
}

// Soil is a guess until a paddock has seasons: dry ground starts at 0.8 of the
// pair, and learns from there.
func TestDrySoilIsWhereLearningStarts(t *testing.T) {
	p := newPlay(t)
	p.paddock("hill").Soil = grass.Dry
	g := p.look("2026-05-01").learn(p.paddock("hill"), 2026).growth
	near(t, "in 45 days of rest", g.G0*23, 8, 1e-9)
	p.fall(2024, "hill", 8, 16)
	p.fall(2025, "hill", 8, 16)
	p.cache = &Cache{}
	near(t, "two falls that grew just that", p.look("2026-05-01").learn(p.paddock("hill"), 2026).growth.Effect.Mean, 0, 1e-9)
}

// A drought fall must not condemn a paddock: after two usual falls one that
// grew nothing says -1 with a weight of 11.765 against 20.661 and three such:
// -0.210. Were falls taken for certain and only readings in doubt, its weight
// would be 22.2 and it would say -0.254.
func TestOneDroughtFallCondemnsNoPaddock(t *testing.T) {
	p := newPlay(t)
	p.fall(2023, "creek", 8, 18)
	p.fall(2024, "creek", 8, 18)
	p.fall(2025, "creek", 8, 8)
	e := p.lesson("2026-01-15", "creek").Effect
	near(t, "effect", e.Mean, -11.765/(20.661+3*11.765), 0.001)
	if e.Mean < -0.22 {
		t.Errorf("effect %.3f", e.Mean)
	}
}

func TestNoSensibleRestReachesIt(t *testing.T) {
	p := newPlay(t)
	p.paddock("creek").Rule.Begin = 9
	p.fall(2024, "creek", 8, 9)
	p.fall(2025, "creek", 8, 9)
	p.fall(2026, "creek", 8, 9)
	p.paddock("creek").Rule.AtFrost, p.cache = 44, &Cache{}
	l := p.lesson("2027-01-15", "creek")
	if l.Chance == nil || !l.NoCure || l.LeaveIn != nil || l.RestDays != nil {
		t.Errorf("%+v", l)
	}
}

func TestMetEasilyThreeFallsRunning(t *testing.T) {
	// Easily is 18 + 2 x 1.5 = 21 in, from the height to leave.
	for _, tc := range []struct {
		name  string
		falls func(*play)
		easy  bool
	}{
		{"three falls from 8 to 21 in", func(p *play) {
			for y := 2023; y < 2026; y++ {
				p.fall(y, "creek", 8, 21)
			}
		}, true},
		{"two are not three", func(p *play) { p.fall(2024, "creek", 8, 21); p.fall(2025, "creek", 8, 21) }, false},
		{"one of them made it with little to spare", func(p *play) {
			p.fall(2023, "creek", 8, 21)
			p.fall(2024, "creek", 8, 20)
			p.fall(2025, "creek", 8, 23)
		}, false},
		{"fell short from 4 in, though it would have done from 8", func(p *play) {
			for y := 2023; y < 2026; y++ {
				p.fall(y, "creek", 4, 17.5)
			}
		}, false},
		{"one of them was not read", func(p *play) {
			p.fall(2022, "creek", 8, 21)
			p.fall(2023, "creek", 8, 21)
			p.moves("2024-09-01", diary.Off, "creek", "")
			p.fall(2025, "creek", 8, 21)
		}, false},
		{"tall at frost because much more was left than the rule asks", func(p *play) {
			for y := 2023; y < 2026; y++ {
				p.fall(y, "creek", 14, 22)
			}
		}, false},
		{"more left, and it would have done from 8 in as well", func(p *play) {
			for y := 2023; y < 2026; y++ {
				p.fall(y, "creek", 10, 24)
			}
		}, true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.falls(p)
			if got := p.lesson("2026-01-15", "creek").Easy; got != tc.easy {
				t.Errorf("easy %v, want %v", got, tc.easy)
			}
		})
	}
}

func TestWhichFallARuleIsFor(t *testing.T) {
	p := newPlay(t)
	for _, tc := range []struct {
		today string
		year  int
	}{{"2026-08-31", 2026}, {"2026-09-01", 2027}, {"2026-12-01", 2027}, {"2027-03-31", 2027}, {"2027-04-01", 2027}} {
		if got := p.lesson(tc.today, "creek").Year; got != tc.year {
			t.Errorf("%s: for the fall of %d, want %d", tc.today, got, tc.year)
		}
	}
	p.freeze("2026-08-20", 27) // one alone is doubted
	p.freeze("2026-08-28", 27)
	if got := p.lesson("2026-08-29", "creek").Year; got != 2027 {
		t.Errorf("frost beat the cutoff on Aug 28: a rule for %d, want next year's", got)
	}
}

// The season that just ended is in the lessons as soon as its end is read.
func TestTheFinishedFallTeachesAtOnce(t *testing.T) {
	p := newPlay(t)
	p.fall(2025, "creek", 8, 15)
	p.fall(2026, "creek", 8, 15)
	if l := p.lesson("2026-10-20", "creek"); l.Taught != 1 {
		t.Errorf("on Oct 20 %d falls teach, and 2026's rest goes on", l.Taught)
	}
	if l := p.lesson("2026-11-04", "creek"); l.Taught != 1 {
		t.Errorf("on Nov 4 %d falls teach, and 2026's end is not read yet", l.Taught)
	}
	if l := p.lesson("2026-11-06", "creek"); l.Taught != 2 {
		t.Errorf("on Nov 6 %d falls teach, want 2", l.Taught)
	}
}

// A fall without a freeze ends with the year, and no fact says so.
func TestAFallThatEndsWithTheYearJoinsTheRecord(t *testing.T) {
	p := newPlay(t)
	p.fall(2025, "creek", 8, 18)
	p.reads("2026-09-01", "creek", plants(20, 8)...)
	if l := p.lesson("2026-12-31", "creek"); len(l.Seasons) != 1 {
		t.Errorf("on Dec 31 %d seasons, and that of 2026 goes on", len(l.Seasons))
	}
	if l := p.lesson("2027-01-01", "creek"); len(l.Seasons) != 2 || l.Seasons[1].EndedBy != ByYear || l.Seasons[1].RestEnd != day("2026-12-31") {
		t.Errorf("on Jan 1: %+v", l.Seasons)
	}
}

// Ground that must be given back before its cutoff rests from that day, and its
// lesson is of that rest.
func TestALessonIsOfTheCutoffThatHolds(t *testing.T) {
	p := newPlay(t)
	p.fall(2024, "creek", 8, 15)
	p.fall(2025, "creek", 8, 15)
	usual := *p.lesson("2026-01-15", "creek").Chance
	p.paddock("creek").OutBy, p.cache = MonthDay{8, 1}, &Cache{}
	given := p.lesson("2026-01-15", "creek")
	if *given.Chance < usual+0.3 {
		t.Errorf("shut on Aug 1 its chance is %.2f, and on Sep 1 %.2f", *given.Chance, usual)
	}
	// From Aug 1 76 days: 23 + 31 = 54 days of full growth, 23.48 x 0.8403 =
	// 19.73 in, spread 23.48 x 0.2503 and 1.5: 6.07. (10 - 19.73) / 6.07 = -1.60.
	near(t, "chance", *given.Chance, 0.945, 0.004)
}

// TestTheCuresInvertTheSum: whatever the falls were, at the height and at the
// rest that a lesson says the chance is what was asked, and half an inch or a
// day less falls short of it.
func TestTheCuresInvertTheSum(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := newPlay(t)
		if rapid.Bool().Draw(r, "spread") {
			p.farm.Plan.Hand.Spread = rapid.Float64Range(1, 15).Draw(r, "days")
		}
		for y := 2023; y < 2026; y++ {
			p.fall(y, "creek", rapid.Float64Range(5, 12).Draw(r, "from"), rapid.Float64Range(8, 24).Draw(r, "to"))
		}
		creek := p.paddock("creek")
		creek.Rule.Confidence = rapid.Float64Range(0.5, 0.95).Draw(r, "confidence")
		l := p.lesson("2026-01-15", "creek")
		if l.Chance == nil {
			return
		}
		if (*l.Chance < l.Confidence) != (l.LeaveIn != nil || l.RestDays != nil || l.NoCure) {
			r.Fatalf("chance %.3f of %.3f wanted: %+v", *l.Chance, l.Confidence, l)
		}
		under := func(leave float64, rest int) float64 {
			q := *creek
			q.Rule.Leave, q.Rule.RestDays = leave, rest
			look := p.look("2026-01-15")
			rule, _ := look.ruleOf(&q, 2026, look.learn(creek, 2026).growth)
			return look.learn(creek, 2026).growth.Chance(rule.ask)
		}
		if l.LeaveIn != nil {
			at, less := under(*l.LeaveIn, 45), under(*l.LeaveIn-0.5, 45)
			if math.Abs(at-l.LeaveChance) > 1e-6 || at < l.Confidence-1e-6 || less >= l.Confidence && *l.LeaveIn > 8 {
				r.Fatalf("leave %.1f: %.4f told, %.4f summed; half an inch less %.4f", *l.LeaveIn, l.LeaveChance, at, less)
			}
		}
		if l.RestDays != nil {
			at, less := under(8, *l.RestDays), under(8, *l.RestDays-1)
			if math.Abs(at-l.RestChance) > 1e-6 || at < l.Confidence || less >= l.Confidence {
				r.Fatalf("rest %d: %.4f told, %.4f summed; a day less %.4f", *l.RestDays, l.RestChance, at, less)
			}
		}
	})
}

// TestTheRuleOfThumbOnAStation: frost on Oct 16 and no other day. 8 in and 45
// days make 18 in in half of falls by the pair itself; its own spread of 3.33 in
// asks for 18 - 10 + 0.8416 x 3.33 = 10.80, said as 11 in.
func TestTheRuleOfThumbOnAStation(t *testing.T) {
	p := newPlay(t)
	p.paddock("creek").Soil, p.paddock("creek").Rule.Leave = grass.Dry, 12 // neither is the rule of thumb's
	thumb, ok := RuleOfThumb(p.sight("2026-07-01"))
	if !ok {
		t.Fatal("nothing to say")
	}
	near(t, "chance", thumb.Chance, 0.5, 0.002)
	near(t, "leave", thumb.LeaveFor.Exact, 10.80, 0.01)
	near(t, "said", thumb.LeaveFor.Value, 11, 0)
	if !thumb.RestFor.Found || thumb.RestFor.Value <= 45 || thumb.RestFor.Value > 60 {
		t.Errorf("rest %+v", thumb.RestFor)
	}
	p.farm.Paddocks = p.farm.Paddocks[2:]
	if _, ok := RuleOfThumb(p.sight("2026-07-01")); ok {
		t.Error("a farm without natives has no rule of thumb")
	}
}
