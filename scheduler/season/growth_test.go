package season

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// sevenFalls are five days apart from Oct 1 to Oct 31, on average Oct 16.
var sevenFalls = []fall{{2017, "10-01"}, {2018, "10-06"}, {2019, "10-11"}, {2020, "10-16"}, {2021, "10-21"}, {2022, "10-26"}, {2023, "10-31"}}

// TestAForecastByHand: frost on Oct 16 and no other day, no station. From Sep 1
// the taper has 23 days of full growth left, and 8 in grow 10 in more on the
// common-practice pair. Growth spreads by 22 and 20 %, together 29.7 %, and a
// height is read to 1.5 in: sd = sqrt((10 x 0.297)^2 + 1.5^2) = 3.33 in, so the
// 10 and 90 % points are 18 -+ 1.2816 x 3.33 = 13.7 and 22.3, and 18 in is a
// coin's flip.
func TestAForecastByHand(t *testing.T) {
	p := newPlay(t)
	p.reads("2026-09-01", "creek", 8)
	a := p.view("2026-09-01", "creek").Ahead
	near(t, "mean", a.Mean, 18, 0.01)
	near(t, "low", a.Low, 18-1.2816*3.3268, 0.02)
	near(t, "high", a.High, 18+1.2816*3.3268, 0.02)
	near(t, "chance", a.Chance, 0.5, 0.002)
	if a.Known || a.Seasons != 0 || a.At != day("2026-10-16") {
		t.Errorf("known %v from %d seasons, at %s", a.Known, a.Seasons, a.At)
	}
}

// TestAForecastCountsEachFallWithItsOwnFrost: from Sep 1 the seven falls have 30,
// 35, ... 60 warm days left of 21.4 degree-days each.
func TestAForecastCountsEachFallWithItsOwnFrost(t *testing.T) {
	p := newPlay(t)
	p.onStation(sevenFalls...)
	l := p.look("2026-09-01")
	a := l.almanac(2026)
	got := a.ahead(day("2026-09-01"), 0)
	if len(got) != 7 {
		t.Fatalf("%d falls ahead", len(got))
	}
	for i, days := range []int{30, 35, 40, 45, 50, 55, 60} {
		near(t, fmt.Sprintf("fall %d", i), got[i], 21.4*float64(days), 0.01)
	}
	// On Oct 12 the falls of Oct 1, 6 and 11 are behind; four are left.
	if got = a.ahead(day("2026-10-12"), 0); len(got) != 4 {
		t.Errorf("%d falls ahead on Oct 12, want 4", len(got))
	}
	near(t, "the next of them", got[0], 21.4*4, 0.01)
	// In a frost pocket of 5 days Oct 16 is Oct 11: three are left.
	if got = a.ahead(day("2026-10-12"), -5); len(got) != 3 {
		t.Errorf("%d falls ahead on Oct 12 in the pocket, want 3", len(got))
	}
	// Before the season a rule is judged by all of them.
	if got = a.every(day("2026-10-12"), 0); len(got) != 7 || got[0] != 0 || got[6] == 0 {
		t.Errorf("every fall: %v", got)
	}
}

// A fall without a frost counts to Dec 31, and moves with no offset.
func TestAFallWithoutFrostGrowsToTheEndOfTheYear(t *testing.T) {
	p := newPlay(t)
	p.onStation(append([]fall{{2016, ""}}, sevenFalls...)...)
	got := p.look("2026-12-01").almanac(2026).ahead(day("2026-12-01"), -5)
	if len(got) != 1 {
		t.Fatalf("%v, want the one fall that had no frost", got)
	}
	near(t, "its heat", got[0], 30*21.4, 0.01)
}

func TestWithoutAStationDaysTaperToThePlanningFrost(t *testing.T) {
	p := newPlay(t)
	p.farm.Plan.Hand.Spread = 10
	a := p.look("2026-09-01").almanac(2026)
	var least, most float64
	for i, s := range a.ahead(day("2026-09-01"), 0) {
		if i == 0 || s < least {
			least = s
		}
		most = max(most, s)
	}
	// A frost after Oct 16 finds nothing more to grow: 45 x 46 / 2 / 45 = 23.
	near(t, "the latest fall", most, 23, 1e-9)
	// The earliest of 100 lies 26 days before (2.576 x 10): 23 - 26 x 27 / 2 / 45.
	near(t, "the earliest fall", least, 23-26.0*27/2/45, 1e-9)
}

// A farm by hand that plans on a careful level has the same growth: its days
// still taper to the average frost.
func TestACarefulLevelByHandChangesNoGrowth(t *testing.T) {
	p := newPlay(t)
	p.farm.Plan.Hand.Spread = 10
	for _, level := range []int{0, 20} {
		p.farm.Plan.Level = level
		near(t, "S over the common rest", newAlmanac(p.farm.Plan, 2026).restHeat(0), 23, 1e-9)
	}
}

func TestWhatWithholdsAForecast(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		today string
		told  bool
	}{
		{"a reading and a frost to come", func(p *play) { p.reads("2026-09-10", "creek", 12) }, "2026-09-12", true},
		{"nothing read", func(*play) {}, "2026-09-12", false},
		{"the manager called a drought: no promise", func(p *play) {
			p.reads("2026-09-10", "creek", 12)
			p.tells("2026-08-01", diary.Dry, "")
		}, "2026-09-12", false},
		{"a drought on another paddock is none here", func(p *play) {
			p.reads("2026-09-10", "creek", 12)
			p.tells("2026-08-01", diary.Dry, "hill")
		}, "2026-09-12", true},
		{"last year's drought is over", func(p *play) {
			p.reads("2026-09-10", "creek", 12)
			p.tells("2026-03-30", diary.Dry, "")
		}, "2026-09-12", true},
		{"past the latest frost there is no fall left to ask", func(p *play) { p.reads("2026-09-10", "creek", 12) }, "2026-10-16", false},
		{"the frost has come: what stands is read, not reckoned", func(p *play) {
			p.reads("2026-09-10", "creek", 12)
			p.tells("2026-09-28", diary.Frost, "")
		}, "2026-09-28", false},
		{"a frost seen on the hill is none of the creek's", func(p *play) {
			p.reads("2026-09-10", "creek", 12)
			p.tells("2026-09-28", diary.Frost, "hill")
		}, "2026-09-29", true},
		{"a measured 34 F is not the planning frost of 32 F", func(p *play) {
			p.reads("2026-09-10", "creek", 12)
			p.freeze("2026-09-28", 34)
		}, "2026-09-29", true},
		{"a week of grazing since the reading", func(p *play) {
			p.reads("2026-08-10", "creek", 14)
			p.moves("2026-08-11", diary.On, "creek", "cows")
			p.moves("2026-08-18", diary.Off, "creek", "cows")
		}, "2026-08-19", false},
		{"two days of it", func(p *play) {
			p.reads("2026-08-10", "creek", 14)
			p.moves("2026-08-11", diary.On, "creek", "cows")
			p.moves("2026-08-13", diary.Off, "creek", "cows")
		}, "2026-08-19", true},
		{"ground that is no native", func(p *play) {
			p.paddock("creek").Grass = species(p.t, "tall fescue")
			p.reads("2026-09-10", "creek", 12)
		}, "2026-09-12", false},
		{"no frost date at all", func(p *play) {
			p.farm.Plan = Plan{Threshold: frost.Freeze32F}
			p.reads("2026-09-10", "creek", 12)
		}, "2026-09-12", false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			if a := p.view(tc.today, "creek").Ahead; (a != nil) != tc.told {
				t.Errorf("forecast %+v, want one told: %v", a, tc.told)
			}
		})
	}
}

// A mid-rest reading starts the forecast anew from that height: 7 in on Oct 1
// have 15 x 16 / 2 / 45 = 2.67 days of full growth left, 1.16 in.
func TestAMidRestReadingStartsAnew(t *testing.T) {
	p := newPlay(t)
	p.reads("2026-09-01", "creek", 8)
	near(t, "by the reading at cutoff", p.view("2026-10-01", "creek").Ahead.Mean, 18, 0.01)
	p.reads("2026-10-01", "creek", 7)
	near(t, "by the reading in mid-rest", p.view("2026-10-01", "creek").Ahead.Mean, 7+2.6667*10/23, 0.01)
}

// What grows while animals stand on it is theirs: the days they were in are no
// rest. In from Sep 1 to Sep 4, the grass rests 42 of its 45 days.
func TestGrowthCountsFromTheDayTheyAreOff(t *testing.T) {
	p := newPlay(t)
	p.reads("2026-09-01", "creek", 8)
	p.moves("2026-09-01", diary.On, "creek", "cows")
	// still in: from today on, 42 x 43 / 2 / 45 = 20.07 days of full growth
	near(t, "with animals in", p.view("2026-09-04", "creek").Ahead.Mean, 8+20.0667*10/23, 0.01)
	p.moves("2026-09-04", diary.Off, "creek", "cows")
	near(t, "a week after they left", p.view("2026-09-11", "creek").Ahead.Mean, 8+20.0667*10/23, 0.01)
}

func TestForecastsRiseWithHeightAndWithRest(t *testing.T) {
	p := newPlay(t)
	p.onStation(sevenFalls...)
	a, creek := p.look("2026-07-01").almanac(2026), p.paddock("creek")
	g := p.look("2026-07-01").prior(creek, a)
	rapid.Check(t, func(r *rapid.T) {
		height := rapid.Float64Range(1, 30).Draw(r, "height")
		taller := height + rapid.Float64Range(0, 10).Draw(r, "more")
		rest := rapid.IntRange(0, 100).Draw(r, "rest")
		longer := rest + rapid.IntRange(0, 30).Draw(r, "longer")
		offset := rapid.IntRange(-15, 15).Draw(r, "offset")
		p.farm.Paddocks[0].FrostOffset = offset
		p.farm.Paddocks[0].Rule.Leave, p.farm.Paddocks[0].Rule.RestDays = height, rest
		chance := func(h float64, days int) float64 {
			creek.Rule.Leave, creek.Rule.RestDays = h, days
			rule, ok := p.look("2026-05-01").ruleOf(creek, 2026, g)
			if !ok {
				r.Fatal("no rule to ask of")
			}
			return g.Chance(rule.ask)
		}
		base := chance(height, rest)
		if up := chance(taller, rest); up < base-1e-9 {
			r.Fatalf("%.2f in: %.4f, and %.2f in: %.4f", height, base, taller, up)
		}
		if up := chance(height, longer); up < base-1e-9 {
			r.Fatalf("%d days: %.4f, and %d days: %.4f", rest, base, longer, up)
		}
	})
}

// TestObservedHeatMayLowerButNeverRaise: the mean year has 21.4 a day in
// September. A fall of 30 C days has 86 F at most: (86 + 59) / 2 - 46.6 = 25.9.
func TestObservedHeatMayLowerButNeverRaise(t *testing.T) {
	season := func(maxC float64, rain frost.Rain) *play {
		p := newPlay(t)
		p.onStation(sevenFalls...)
		var days []frost.Day
		for d := day("2026-06-15"); d.Before(day("2026-09-21")); d = d.AddDays(1) {
			days = append(days, frost.Day{Date: d, Min: frost.FromC(15), Max: frost.FromC(maxC), Rain: rain})
		}
		p.air = p.farm.Plan.Record.With(days...)
		p.reads("2026-09-01", "creek", 8)
		return p
	}
	behind := func(p *play) float64 {
		l := p.look("2026-09-21")
		return l.behind(day("2026-09-01"), l.almanac(2026), 0)
	}
	mean := behind(season(25, 2000))
	near(t, "a usual September of 20 days", mean, 20*21.4, 1)
	near(t, "a hot one with rain as usual", behind(season(30, 2000)), 20*25.9, 0.1)
	near(t, "a hot dry one: no more than the mean year", behind(season(30, 500)), mean, 1e-9)
	near(t, "a hot one without a rain gauge", behind(season(30, frost.NoRain)), mean, 1e-9)
	// 20 C: (68 + 59) / 2 - 46.6 = 16.9 a day.
	near(t, "a cool wet one counts less", behind(season(20, 2000)), 20*16.9, 0.1)
	near(t, "a cool dry one too", behind(season(20, 500)), 20*16.9, 0.1)
}

func TestAStationWithoutMaximaCountsDays(t *testing.T) {
	p := newPlay(t)
	var days []frost.Day
	for _, f := range sevenFalls {
		r := record(f)
		for d := day(fmt.Sprintf("%d-08-01", f.year)); d.Year == f.year; d = d.AddDays(1) {
			one := r.Day(d)
			one.Max = frost.NoTemp
			days = append(days, one)
		}
	}
	rec := (&frost.Record{}).With(days...)
	p.farm.Plan = Plan{Threshold: frost.Freeze32F, Record: rec}
	p.air = rec
	p.reads("2026-09-01", "creek", 8)
	v := p.view("2026-09-01", "creek")
	if v.Dates.Cutoff != day("2026-09-01") || v.Ahead == nil {
		t.Fatalf("cutoff %s, forecast %+v", v.Dates.Cutoff, v.Ahead)
	}
	// Frosts 15, 10 and 5 days early lose 15 x 16, 10 x 11 and 5 x 6 halves of a
	// 45th: 2.667, 1.222, 0.333; late ones gain nothing. Mean 23 - 4.222 / 7.
	near(t, "mean height", v.Ahead.Mean, 8+(23-4.2222/7)*10/23, 0.01)
}

// Nothing that is told of growth is ever above the greatest leaf, no number, or
// below what was read by more than a reading is out (1.5 in).
func TestAForecastIsAlwaysANumberBetweenTheReadingAndTheLeaf(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := newPlay(t)
		if rapid.Bool().Draw(r, "station") {
			p.onStation(sevenFalls...)
		}
		h := rapid.Float64Range(0.1, 120).Draw(r, "height")
		on := day("2026-04-01").AddDays(rapid.IntRange(0, 200).Draw(r, "read"))
		p.reads(on.String(), "creek", h)
		a := p.view(on.AddDays(rapid.IntRange(0, 30).Draw(r, "later")).String(), "creek").Ahead
		if a == nil {
			return
		}
		for _, x := range []float64{a.Mean, a.Low, a.High, a.Chance, a.ByCutoff} {
			if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
				r.Fatalf("%+v", a)
			}
		}
		if top := max(h, 48); a.Mean > top+1e-9 || a.High > top+1e-9 || a.Low > a.High || a.Mean < h-1.5 {
			r.Fatalf("from %.2f in: %+v", h, a)
		}
	})
}
