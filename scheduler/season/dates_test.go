package season

import (
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// TestAPaddockGoesThroughItsPhasesOnceAYear walks every day of two years, one of
// them a leap year: open from Apr 1, rest from Sep 1, dormant from the killing
// freeze on Nov 3 to Mar 31.
func TestAPaddockGoesThroughItsPhasesOnceAYear(t *testing.T) {
	for _, year := range []int{2026, 2027} { // 2028, where the second ends, is a leap year
		p := newPlay(t)
		first := civil.Date{Year: year, Month: time.April, Day: 1}
		p.freeze(civil.Date{Year: year, Month: time.November, Day: 3}.String(), 27)
		days := map[Phase]int{}
		for d := first; d.Before(civil.Date{Year: year + 1, Month: time.April, Day: 1}); d = d.AddDays(1) {
			v := p.view(d.String(), "creek")
			want := Open
			switch {
			case !d.Before(civil.Date{Year: year, Month: time.November, Day: 3}):
				want = Dormant
			case !d.Before(civil.Date{Year: year, Month: time.September, Day: 1}):
				want = Rest
			}
			if v.Phase != want || v.Year != year {
				t.Fatalf("%s: %s of season %d, want %s of %d", d, v.Phase, v.Year, want, year)
			}
			days[v.Phase]++
		}
		// April to August 153 days, Sep 1 to Nov 2 63, Nov 3 to Mar 31 149 or 150.
		dormant := 149
		if year == 2027 {
			dormant = 150
		}
		if days[Open] != 153 || days[Rest] != 63 || days[Dormant] != dormant {
			t.Errorf("season %d: %v days", year, days)
		}
	}
}

func TestWhatEndsARest(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		today string
		ended string // empty: it goes on
		by    Ending
	}{
		{"a night of 28 F ends it, although 28 F is -2.22 C and stands as -2.2 C on record", func(p *play) {
			c := -2.2
			p.write(diary.Fact{Day: day("2026-10-30"), Kind: diary.Frost, TempC: &c})
		}, "2026-11-01", "2026-10-30", ByFreeze},
		{"29 F does not: it is only told that rest is not over", func(p *play) { p.freeze("2026-10-20", 29) }, "2026-11-01", "", ""},
		{"what a person saw is a light frost", func(p *play) { p.tells("2026-10-20", diary.Frost, "") }, "2026-11-01", "", ""},
		{"what a person saw is enough where the farm's rule is 32 F", func(p *play) {
			p.paddock("creek").Rule.EndsAt = frost.Freeze32F
			p.tells("2026-10-20", diary.Frost, "")
		}, "2026-11-01", "2026-10-20", ByFreeze},
		{"and where it is 36 F", func(p *play) {
			p.paddock("creek").Rule.EndsAt = frost.Frost36F
			p.tells("2026-10-20", diary.Frost, "")
		}, "2026-11-01", "2026-10-20", ByFreeze},
		{"a frost seen on the hill alone ends no rest on the creek", func(p *play) {
			p.paddock("creek").Rule.EndsAt = frost.Freeze32F
			p.tells("2026-10-20", diary.Frost, "hill")
		}, "2026-11-01", "", ""},
		{"brown tops end it after a light frost, before any killing freeze", func(p *play) {
			p.tells("2026-10-20", diary.Frost, "")
			p.freeze("2026-11-03", 27)
			p.tells("2026-10-24", diary.Brown, "creek")
		}, "2026-11-05", "2026-10-24", ByBrown},
		{"brown said of the whole farm counts too", func(p *play) {
			p.freeze("2026-10-20", 31)
			p.tells("2026-10-24", diary.Brown, "")
		}, "2026-11-05", "2026-10-24", ByBrown},
		{"brown tops before any frost are only noted", func(p *play) { p.tells("2026-10-10", diary.Brown, "creek") }, "2026-11-05", "", ""},
		{"a night of 34 F is no freeze that browns grass", func(p *play) {
			p.freeze("2026-10-08", 34)
			p.tells("2026-10-10", diary.Brown, "creek")
		}, "2026-11-05", "", ""},
		{"from the early side on brown tops are believed without any frost told", func(p *play) { p.tells("2026-10-27", diary.Brown, "creek") }, "2026-11-05", "2026-10-27", ByBrown},
		{"brown on another paddock does not", func(p *play) { p.tells("2026-10-24", diary.Brown, "hill") }, "2026-11-05", "", ""},
		{"tops that brown in August are drought, not dormancy", func(p *play) { p.tells("2026-08-20", diary.Brown, "creek") }, "2026-11-05", "", ""},
		{"a freeze that was taken back ends nothing", func(p *play) { p.takesBack(p.freeze("2026-10-30", 25)) }, "2026-11-05", "", ""},
		{"one killing freeze before the early side, Oct 27 by hand, ends growth and not rest", func(p *play) { p.freeze("2026-09-12", 27) }, "2026-11-05", "", ""},
		{"a second one within the week is the same cold spell", func(p *play) { p.freeze("2026-09-12", 27); p.freeze("2026-09-18", 25) }, "2026-11-05", "", ""},
		{"a second one a week later ends it", func(p *play) { p.freeze("2026-09-12", 27); p.freeze("2026-09-19", 25) }, "2026-11-05", "2026-09-19", ByFreeze},
		{"brown tops after the doubted freeze end it", func(p *play) {
			p.freeze("2026-09-12", 27)
			p.tells("2026-09-15", diary.Brown, "creek")
		}, "2026-11-05", "2026-09-15", ByBrown},
		{"on the early side itself one is enough", func(p *play) { p.freeze("2026-10-27", 27) }, "2026-11-05", "2026-10-27", ByFreeze},
		{"a killing freeze before the cutoff is doubted the same way", func(p *play) { p.freeze("2026-08-20", 27) }, "2026-08-28", "", ""},
		{"and a second one beats the cutoff", func(p *play) { p.freeze("2026-08-20", 27); p.freeze("2026-08-28", 27) }, "2026-09-05", "2026-08-28", ByFreeze},
		{"a freeze in May is last winter's", func(p *play) { p.freeze("2026-05-05", 27) }, "2026-10-01", "", ""},
		{"the first of two freezes counts", func(p *play) { p.freeze("2026-11-09", 20); p.freeze("2026-11-02", 27) }, "2026-11-12", "2026-11-02", ByFreeze},
		{"on Dec 31 a fall without frost still rests", func(*play) {}, "2026-12-31", "", ""},
		{"on Jan 1 it no longer does", func(*play) {}, "2027-01-01", "2027-01-01", ByYear},
		{"a freeze in January comes too late to be the end", func(p *play) { p.freeze("2027-01-04", 20) }, "2027-01-10", "2027-01-01", ByYear},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			v := p.view(tc.today, "creek")
			ended := ""
			if !v.Dates.Ended.IsZero() {
				ended = v.Dates.Ended.String()
			}
			if ended != tc.ended || v.Dates.EndedBy != tc.by {
				t.Errorf("ended %q by %q, want %q by %q", ended, v.Dates.EndedBy, tc.ended, tc.by)
			}
			if want := phaseOf(Dates{Cutoff: v.Dates.Cutoff}, v.Today, true); tc.ended != "" && v.Phase != Dormant || tc.ended == "" && v.Phase != want {
				t.Errorf("phase %s", v.Phase)
			}
		})
	}
}

func TestTheDayAPaddockMustBeGivenBack(t *testing.T) {
	giveBack := func(id string, m time.Month, d int) func(*play) {
		return func(p *play) { p.paddock(id).OutBy = MonthDay{int(m), d} }
	}
	for _, tc := range []struct {
		name    string
		set     func(*play)
		paddock string
		today   string
		cutoff  string
		phase   Phase
	}{
		{"before the cutoff it is the cutoff", giveBack("creek", 8, 15), "creek", "2026-08-15", "2026-08-15", Rest},
		{"after the cutoff it moves nothing", giveBack("creek", 11, 15), "creek", "2026-08-31", "2026-09-01", Open},
		{"ground that is no native has no other cutoff", giveBack("lane", 11, 15), "lane", "2026-11-14", "2026-11-15", Open},
		{"and is shut from that day", giveBack("lane", 11, 15), "lane", "2026-11-15", "2026-11-15", Rest},
		{"until the year turns", giveBack("lane", 11, 15), "lane", "2027-04-01", "2027-11-15", Open},
		{"a day in February belongs to the grass year that began in April", giveBack("lane", 2, 15), "lane", "2026-06-01", "2027-02-15", Open},
		{"the turn itself is the end of the year and not its first day", giveBack("lane", 4, 1), "lane", "2026-04-01", "2027-04-01", Open},
		{"Feb 29 is Mar 1 where there is none", giveBack("lane", 2, 29), "lane", "2026-06-01", "2027-03-01", Open},
		{"and itself in a leap year", giveBack("lane", 2, 29), "lane", "2027-06-01", "2028-02-29", Open},
		{"a native without a frost date is still given back", func(p *play) {
			giveBack("creek", 11, 15)(p)
			p.farm.Plan = Plan{Threshold: frost.Freeze32F}
		}, "creek", "2026-11-20", "2026-11-15", Rest},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.set(p)
			v := p.view(tc.today, tc.paddock)
			if v.Dates.Cutoff != day(tc.cutoff) || v.Phase != tc.phase {
				t.Errorf("cutoff %s, %s; want %s, %s", v.Dates.Cutoff, v.Phase, tc.cutoff, tc.phase)
			}
		})
	}
}

// Nobody grazes what was given back: a lease that ended in mid-November is not
// opened again by dormancy.
func TestGroundThatWasGivenBackIsNobodysToGraze(t *testing.T) {
	p := newPlay(t)
	p.paddock("creek").OutBy = MonthDay{11, 15}
	p.freeze("2026-11-03", 27)
	p.reads("2026-11-12", "creek", plants(20, 20)...)
	if v := p.view("2026-11-12", "creek"); v.Verdict.Say != Go || v.Verdict.OutBy != day("2026-11-15") || *v.Verdict.Days != 3 {
		t.Errorf("three days before: %s, out by %s; want GO, out by the day it is given back", v.Verdict.Say, v.Verdict.OutBy)
	}
	if v := p.view("2026-11-15", "creek"); v.Verdict.Say != Wait || v.Verdict.Reason != GivenBack {
		t.Errorf("on the day: %s (%s), want WAIT: it is given back", v.Verdict.Say, v.Verdict.Reason)
	}
	p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "creek"}}
	if v := p.view("2026-11-16", "creek"); v.Verdict.Reason != GivenBack {
		t.Errorf("used on purpose: %s (%s), want it given back all the same", v.Verdict.Say, v.Verdict.Reason)
	}
}

func TestPlanningOnACarefulLevelMovesTheCutoffAndNothingElse(t *testing.T) {
	var falls []fall
	for i, d := range []string{"10-01", "10-04", "10-07", "10-10", "10-13", "10-16", "10-19", "10-22", "10-25", "10-28", "10-31"} {
		falls = append(falls, fall{2010 + i, d})
	}
	p := newPlay(t)
	p.onStation(falls...)
	average := p.view("2026-07-01", "creek")
	// Mean Oct 16. Type 7 at 20 % of 11 falls: h = 10 x 20 / 100 = 2, so the
	// third: Oct 7. A level of fewer than ten is refused.
	if average.Dates.Frost != day("2026-10-16") || average.Dates.Cutoff != day("2026-09-01") {
		t.Errorf("on the average: frost %s, cutoff %s", average.Dates.Frost, average.Dates.Cutoff)
	}
	p.farm.Plan.Level, p.cache = 20, &Cache{}
	careful := p.view("2026-07-01", "creek")
	if careful.Dates.Frost != day("2026-10-07") || careful.Dates.Cutoff != day("2026-08-23") {
		t.Errorf("on 20 %%: frost %s, cutoff %s, want Oct 7 and Aug 23", careful.Dates.Frost, careful.Dates.Cutoff)
	}
	plain := p.look("2026-07-01").learn(p.paddock("creek"), 2026).growth.G0
	p.farm.Plan.Level, p.cache = 0, &Cache{}
	if g := p.look("2026-07-01").learn(p.paddock("creek"), 2026).growth.G0; g != plain {
		t.Errorf("growth %g on the average, %g on 20 %%: following the advice would change the advice", g, plain)
	}
}

// In 2022 the falls of 2022 and 2023 are not known yet: those before have their
// frost on Oct 1, 6, 11, 16 and 21, on average on Oct 11.
func TestASeasonIsPlannedFromThoseFinishedBeforeIt(t *testing.T) {
	p := newPlay(t)
	p.onStation(sevenFalls...)
	if d := p.view("2022-07-01", "creek").Dates; d.Frost != day("2022-10-11") || d.Cutoff != day("2022-08-27") {
		t.Errorf("frost %s, cutoff %s", d.Frost, d.Cutoff)
	}
	// Hyndman-Fan type 7: four tenths of the way from the first of five to the second.
	if got := p.view("2022-07-01", "lane").Dates.Cold; got != day("2022-10-03") {
		t.Errorf("36 F reckoned with from %s", got)
	}
}

func TestAFrostPocketIsMovedWholeFromCutoffToLikelyEnd(t *testing.T) {
	p := newPlay(t)
	flat := p.view("2026-07-01", "creek").Dates
	p.paddock("creek").FrostOffset = -5
	pocket := p.view("2026-07-01", "creek").Dates
	for _, d := range []struct {
		what      string
		was, here civil.Date
	}{{"frost", flat.Frost, pocket.Frost}, {"cutoff", flat.Cutoff, pocket.Cutoff}, {"early", flat.Early, pocket.Early},
		{"late", flat.Late, pocket.Late}, {"likely end", flat.LikelyEnd, pocket.LikelyEnd}} {
		if d.here != d.was.AddDays(-5) {
			t.Errorf("%s %s, want 5 days before %s", d.what, d.here, d.was)
		}
	}
}

// The freeze that ends rest is looked for among the falls that can still come:
// in a late fall the end lies ahead, never behind.
func TestTheLikelyEndNeverLiesBehind(t *testing.T) {
	p := newPlay(t)
	for _, today := range []string{"2026-08-01", "2026-10-27", "2026-11-20", "2026-12-30"} {
		if v := p.view(today, "creek"); !v.Dates.LikelyEnd.After(day(today)) {
			t.Errorf("%s: rest goes on and is likely to have ended on %s", today, v.Dates.LikelyEnd)
		}
	}
}
