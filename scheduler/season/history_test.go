package season

import (
	"math"
	"testing"

	"stubbled/scheduler/diary"
)

// rested is a fall of the creek as it should be: shut on Sep 1 at 8 in, first
// frost on Oct 16, killing freeze on Nov 3, read at 18 in two days later. The
// grass grew 10 in on 23 days of full growth, as common practice has it.
func rested(p *play) {
	p.moves("2025-08-20", diary.On, "creek", "cows")
	p.moves("2025-09-01", diary.Off, "creek", "cows")
	p.reads("2025-09-01", "creek", plants(20, 8)...)
	p.tells("2025-10-16", diary.Frost, "")
	p.freeze("2025-11-03", 27)
}

// TestWhichSeasonsTeach: in every one of these falls the grass grew as common
// practice has it, and something else happened besides. left is the share of
// growth by which such a season would have been misread, had it taught.
func TestWhichSeasonsTeach(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		why   string  // empty: it teaches
		wrong float64 // of growth, 0 where the record has no two heights
	}{
		{"shut on time, read at both ends", func(p *play) {
			rested(p)
			p.reads("2025-11-05", "creek", plants(20, 18)...)
		}, "", 0},
		{"read on the fourteenth day", func(p *play) {
			rested(p)
			p.reads("2025-11-17", "creek", plants(20, 18)...)
		}, "", 0},
		{"read on the fifteenth, battered by winter", func(p *play) {
			rested(p)
			p.reads("2025-11-18", "creek", plants(20, 12)...)
		}, "no height within 14 days after rest ended", 0},
		{"a season with no height at the end", rested, "no height within 14 days after rest ended", 0},
		{"a season with no height at the start", func(p *play) {
			p.moves("2025-08-20", diary.On, "creek", "cows")
			p.moves("2025-09-01", diary.Off, "creek", "cows")
			p.freeze("2025-11-03", 27)
			p.reads("2025-11-05", "creek", plants(20, 18)...)
		}, "no height after the animals left", 0},
		{"the herd put back for four days, and not read since", func(p *play) {
			rested(p)
			p.moves("2025-09-20", diary.On, "creek", "cows")
			p.moves("2025-09-24", diary.Off, "creek", "cows")
			p.reads("2025-11-05", "creek", plants(20, 13)...)
		}, "no height after the animals left", 0},
		// From Sep 24 22 x 23 / 2 / 45 = 5.62 days of full growth are left, 2.44 in.
		{"the herd put back, and read when it left: rest began anew", func(p *play) {
			rested(p)
			p.moves("2025-09-20", diary.On, "creek", "cows")
			p.moves("2025-09-24", diary.Off, "creek", "cows")
			p.reads("2025-09-24", "creek", plants(20, 10)...)
			p.reads("2025-11-05", "creek", plants(20, 12.44)...)
		}, "", 0},
		{"in rest for 19 days only", func(p *play) {
			p.moves("2025-08-20", diary.On, "creek", "cows")
			p.moves("2025-10-01", diary.Off, "creek", "cows")
			p.reads("2025-10-01", "creek", plants(20, 8)...)
			p.tells("2025-10-16", diary.Frost, "")
			p.tells("2025-10-20", diary.Brown, "creek")
			p.reads("2025-10-22", "creek", plants(20, 9)...)
		}, "rested 19 days, under 20", 0},
		{"the herd turned in on the dormant grass before it was read", func(p *play) {
			rested(p)
			p.moves("2025-11-04", diary.On, "creek", "cows")
			p.reads("2025-11-10", "creek", plants(20, 11)...)
		}, "not known to have been empty until its end was read", -0.7},
		{"read and turned in on the same day", func(p *play) {
			rested(p)
			p.reads("2025-11-05", "creek", plants(20, 18)...)
			p.moves("2025-11-05", diary.On, "creek", "cows")
		}, "", 0},
		{"a gate that nobody said was shut", func(p *play) {
			p.moves("2025-08-20", diary.On, "creek", "cows")
			p.moves("2025-09-01", diary.On, "hill", "cows")
			p.reads("2025-09-01", "creek", plants(20, 8)...)
			p.tells("2025-10-16", diary.Frost, "")
			p.freeze("2025-11-03", 27)
			p.reads("2025-11-05", "creek", plants(20, 13)...)
		}, "rested 0 days, under 20", -0.5},
		{"cut for hay in mid-rest", func(p *play) {
			rested(p)
			p.write(diary.Fact{Day: day("2025-09-20"), Kind: diary.Hayed, Paddock: "creek", Heights: []float64{6}})
			p.reads("2025-11-05", "creek", plants(20, 9.5)...)
		}, "cut for hay during rest", -0.85},
		{"cut for hay before the cutoff, and read when it was shut", func(p *play) {
			p.tells("2025-08-15", diary.Hayed, "creek")
			rested(p)
			p.reads("2025-11-05", "creek", plants(20, 18)...)
		}, "", 0},
		{"cut before the cutoff, and not read since", func(p *play) {
			p.reads("2025-08-10", "creek", plants(20, 18)...)
			p.tells("2025-08-15", diary.Hayed, "creek")
			p.tells("2025-10-16", diary.Frost, "")
			p.freeze("2025-11-03", 27)
			p.reads("2025-11-05", "creek", plants(20, 18)...)
		}, "no height after the animals left", 0},
		{"burned over in rest", func(p *play) {
			rested(p)
			p.tells("2025-10-01", diary.Burned, "creek")
			p.reads("2025-11-05", "creek", plants(20, 4)...)
		}, "burned during rest", -1.4},
		{"grazed on purpose", func(p *play) {
			p.farm.FallUse = []FallUse{{Year: 2025, Paddock: "creek", Acres: 5}}
			rested(p)
			p.reads("2025-11-05", "creek", plants(20, 13)...)
		}, "grazed on purpose that fall", -0.5},
		{"begun above the height wanted: tall grass grows no leaf", func(p *play) {
			p.moves("2025-07-20", diary.Off, "creek", "cows")
			p.reads("2025-09-01", "creek", plants(20, 22)...)
			p.tells("2025-10-16", diary.Frost, "")
			p.freeze("2025-11-03", 27)
			p.reads("2025-11-05", "creek", plants(20, 24)...)
		}, "started above the height wanted", -0.8},
		{"begun at the height wanted itself", func(p *play) {
			p.reads("2025-09-01", "creek", plants(20, 18)...)
			p.tells("2025-10-16", diary.Frost, "")
			p.freeze("2025-11-03", 27)
			p.reads("2025-11-05", "creek", plants(20, 28)...)
		}, "", 0},
		{"no killing freeze and no brown tops: nobody knows when it ended", func(p *play) {
			p.reads("2025-09-01", "creek", plants(20, 8)...)
			p.tells("2025-10-16", diary.Frost, "")
			p.reads("2026-01-05", "creek", plants(20, 14)...)
		}, "no killing freeze known of, and nobody saw brown tops", -0.4},
		{"brown tops end a season as well as a freeze", func(p *play) {
			p.reads("2025-09-01", "creek", plants(20, 8)...)
			p.tells("2025-10-16", diary.Frost, "")
			p.tells("2025-10-25", diary.Brown, "creek")
			p.reads("2025-10-30", "creek", plants(20, 18)...)
		}, "", 0},
		{"and tell when growth ended where nobody saw a frost", func(p *play) {
			p.reads("2025-09-01", "creek", plants(20, 8)...)
			p.tells("2025-10-27", diary.Brown, "creek")
			p.reads("2025-10-28", "creek", plants(20, 18)...)
		}, "", 0},
		{"hail, elk or a neighbour's cattle: it got shorter", func(p *play) {
			rested(p)
			p.reads("2025-11-05", "creek", plants(20, 3)...)
		}, "the grass got shorter: something else took it", -1.5},
		{"no herd on file, and nobody said when they left", func(p *play) {
			p.farm.Herds = nil
			p.reads("2025-09-01", "creek", plants(20, 8)...)
			p.freeze("2025-11-03", 27)
			p.reads("2025-11-05", "creek", plants(20, 13)...)
		}, "rested 0 days, under 20", -0.5},
		{"no herd on file, and somebody said so", func(p *play) {
			p.farm.Herds = nil
			p.moves("2025-09-01", diary.Off, "creek", "")
			p.reads("2025-09-01", "creek", plants(20, 8)...)
			p.tells("2025-10-16", diary.Frost, "")
			p.freeze("2025-11-03", 27)
			p.reads("2025-11-05", "creek", plants(20, 18)...)
		}, "", 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			known := p.look("2026-06-01").learn(p.paddock("creek"), 2026)
			if len(known.history) != 1 {
				t.Fatalf("%d seasons", len(known.history))
			}
			f := known.history[0]
			if f.WhyNot != tc.why || f.Teaches != (tc.why == "") {
				t.Fatalf("teaches %v, why not %q; want %q (record %+v)", f.Teaches, f.WhyNot, tc.why, f)
			}
			if math.Abs(known.growth.Effect.Mean) > 0.005 {
				t.Errorf("learned %+.3f: the grass grew as common practice has it", known.growth.Effect.Mean)
			}
			if tc.wrong == 0 {
				return
			}
			// Had it taught, this is what it would have been taken for.
			g := p.look("2026-06-01").prior(p.paddock("creek"), p.look("2026-06-01").almanac(2026))
			s := g.G0 * 23
			near(t, "growth misread by", (f.End-f.Start)/s-1, tc.wrong, 0.06)
		})
	}
}

// TestASeasonLearnsOnTheHeatOfItsOwn: two falls of 10 in, one of 35 warm days
// and one of 55, are not the same growth.
func TestASeasonLearnsOnTheHeatOfItsOwn(t *testing.T) {
	p := newPlay(t)
	p.onStation(append(sevenFalls, fall{2024, "10-06"}, fall{2025, "10-26"})...)
	p.air = p.farm.Plan.Record
	for _, year := range []string{"2024", "2025"} {
		p.reads(year+"-09-01", "creek", plants(20, 8)...)
		p.freeze(year+"-11-03", 27)
		p.reads(year+"-11-05", "creek", plants(20, 18)...)
	}
	h := p.look("2026-06-01").learn(p.paddock("creek"), 2026).history
	if len(h) != 2 || !h[0].Teaches || !h[1].Teaches {
		t.Fatalf("%+v", h)
	}
	near(t, "heat of 2024 to its own frost on Oct 6", h[0].Heat, 35*21.4, 0.01)
	near(t, "heat of 2025 to its own frost on Oct 26", h[1].Heat, 55*21.4, 0.01)
	near(t, "rain of 2 mm a day from Sep 1 to Nov 3", h[0].RainMM, 63*2, 1e-9)
	// In a frost pocket the frost that ends it is 5 days earlier, as in forecasts.
	p.farm.Paddocks[0].FrostOffset, p.cache = -5, &Cache{}
	h = p.look("2026-06-01").learn(p.paddock("creek"), 2026).history
	near(t, "heat of 2024 in the pocket", h[0].Heat, 30*21.4, 0.01)
}

// A record of seven falls that begins in 2017 had too few for an average in
// 2020. The fall of 2020 teaches all the same, now that they are known.
func TestAFallBeforeTheRecordWasLongEnoughTeaches(t *testing.T) {
	p := newPlay(t)
	p.onStation(sevenFalls...)
	p.air = p.farm.Plan.Record
	p.reads("2020-09-01", "creek", plants(20, 8)...)
	p.freeze("2020-11-03", 27)
	p.reads("2020-11-05", "creek", plants(20, 18)...)
	h := p.look("2024-06-01").learn(p.paddock("creek"), 2024).history
	if len(h) == 0 || h[0].Year != 2020 || !h[0].Teaches || h[0].Cutoff != day("2020-09-01") {
		t.Errorf("%+v", h)
	}
}

func TestRainWithATenthOfItsDaysMissingIsUnknown(t *testing.T) {
	p := newPlay(t)
	p.onStation(fall{2025, "10-20"})
	for _, tc := range []struct {
		missing int
		want    float64
	}{{0, 120}, {5, 110}, {6, -1}} { // 60 days of 2 mm
		p.air = record(fall{2025, "10-20"}).Before(day("2025-10-31").AddDays(-tc.missing))
		near(t, "rain", p.look("2025-12-01").rainMM(day("2025-09-01"), day("2025-10-31")), tc.want, 1e-9)
	}
}
