package season

import (
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// TestHolds: lane is tall fescue with johnsongrass in it, held 14 days, the
// longest published wait. want is the last day held as of today, or "" for no
// hold, or "over DATE" for one that the calendar ended within the week.
func TestHolds(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		today string
		want  string
	}{
		{"no frost, no hold", func(*play) {}, "2026-10-10", ""},
		{"36 F anywhere on the farm begins it", func(p *play) { p.freeze("2026-10-01", 36) }, "2026-10-02", "2026-10-15"},
		{"36 F is 2.22 C and stands as 2.2 C on record", func(p *play) {
			c := 2.2
			p.write(diary.Fact{Day: day("2026-10-01"), Kind: diary.Frost, TempC: &c})
		}, "2026-10-02", "2026-10-15"},
		{"a frost that a person saw on another paddock begins it too", func(p *play) { p.tells("2026-10-01", diary.Frost, "creek") }, "2026-10-02", "2026-10-15"},
		{"day 14 is still held", func(p *play) { p.freeze("2026-10-01", 34) }, "2026-10-15", "2026-10-15"},
		{"day 15 is not, and it is told that it is over", func(p *play) { p.freeze("2026-10-01", 34) }, "2026-10-16", "over 2026-10-15"},
		{"after a week that is no news any more", func(p *play) { p.freeze("2026-10-01", 34) }, "2026-10-23", ""},
		{"a second frost starts the wait again", func(p *play) { p.freeze("2026-10-01", 34); p.freeze("2026-10-09", 33) }, "2026-10-20", "2026-10-23"},
		{"a frost after the hold was over begins another", func(p *play) { p.freeze("2026-10-01", 34); p.freeze("2026-10-20", 33) }, "2026-10-21", "2026-11-03"},
		{"the killing freeze starts the last wait", func(p *play) { p.freeze("2026-10-01", 34); p.freeze("2026-10-12", 27) }, "2026-10-20", "2026-10-26"},
		{"frosts after the killing freeze start none", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.freeze("2026-10-20", 25)
			p.freeze("2026-10-25", 30)
		}, "2026-10-26", "2026-10-26"},
		{"unless regrowth was reported since", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.tells("2026-11-01", diary.Regrowth, "lane")
			p.freeze("2026-11-03", 30)
		}, "2026-11-04", "2026-11-17"},
		{"once for each report", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.tells("2026-11-01", diary.Regrowth, "lane")
			p.freeze("2026-11-03", 30)
			p.freeze("2026-11-10", 30)
		}, "2026-11-11", "2026-11-17"},
		{"a second report lets one more frost count", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.tells("2026-11-01", diary.Regrowth, "lane")
			p.freeze("2026-11-03", 30)
			p.tells("2026-11-06", diary.Regrowth, "lane")
			p.freeze("2026-11-10", 30)
		}, "2026-11-11", "2026-11-24"},
		{"regrowth that the killing freeze itself took is no regrowth after it", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.tells("2026-10-08", diary.Regrowth, "lane")
			p.freeze("2026-10-12", 27)
			p.freeze("2026-10-20", 30)
		}, "2026-10-21", "2026-10-26"},
		{"regrowth on another paddock is none of this one's", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.tells("2026-11-01", diary.Regrowth, "hill")
			p.freeze("2026-11-03", 30)
		}, "2026-11-04", ""},
		{"regrowth without a frost holds nothing by itself", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.tells("2026-11-08", diary.Regrowth, "lane")
		}, "2026-11-09", ""},
		{"a frost that was taken back holds all the same: it is looked at, not argued away", func(p *play) { p.takesBack(p.freeze("2026-10-01", 34)) }, "2026-10-05", "2026-10-15"},
		{"clear ends it", func(p *play) { p.freeze("2026-10-01", 34); p.tells("2026-10-05", diary.Clear, "lane") }, "2026-10-05", ""},
		{"clear ends one whose frost was taken back", func(p *play) {
			p.takesBack(p.freeze("2026-10-01", 34))
			p.tells("2026-10-03", diary.Clear, "lane")
		}, "2026-10-05", ""},
		{"clear on another paddock ends nothing here", func(p *play) { p.freeze("2026-10-01", 34); p.tells("2026-10-05", diary.Clear, "creek") }, "2026-10-06", "2026-10-15"},
		{"clear of the whole farm does", func(p *play) { p.freeze("2026-10-01", 34); p.tells("2026-10-05", diary.Clear, "") }, "2026-10-06", ""},
		{"a clear that was taken back clears nothing", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.takesBack(p.tells("2026-10-05", diary.Clear, "lane"))
		}, "2026-10-06", "2026-10-15"},
		{"a frost after a clear begins another hold", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.tells("2026-10-05", diary.Clear, "lane")
			p.freeze("2026-10-08", 33)
		}, "2026-10-09", "2026-10-22"},
		{"a killing freeze that was taken back killed nothing: later frosts still count", func(p *play) {
			p.takesBack(p.freeze("2026-10-12", 20))
			p.freeze("2026-10-20", 33)
		}, "2026-10-21", "2026-11-03"},
		{"a person's frost is never the killing one", func(p *play) {
			p.tells("2026-10-12", diary.Frost, "")
			p.freeze("2026-10-20", 33)
		}, "2026-10-27", "2026-11-03"},
		{"a frost in late March holds on over the year's turn", func(p *play) { p.freeze("2027-03-25", 34) }, "2027-04-05", "2027-04-08"},
		{"last fall's frost holds nothing next August", func(p *play) { p.freeze("2026-10-01", 34) }, "2027-08-05", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			v, got := p.view(tc.today, "lane"), ""
			switch {
			case v.Hold != nil:
				got = v.Hold.Until.String()
			case v.WasHeld != nil:
				got = "over " + v.WasHeld.Until.String()
			}
			if got != tc.want && !(tc.want == "" && strings.HasPrefix(got, "over")) {
				t.Errorf("got %q, want %q", got, tc.want)
			}
			if held := v.Hold != nil; held != (v.Verdict.Reason == OnHold) {
				t.Errorf("held %v and the verdict is %s", held, v.Verdict.Reason)
			}
		})
	}
}

// A record that comes late, and a text that comes late, are ordered by when
// they were said and not by when they were written down.
func TestAClearEndsWhatWasKnownWhenTheGroundWasChecked(t *testing.T) {
	frostOn := func(p *play, on string) {
		c := 0.5
		p.write(diary.Fact{Day: day(on), Kind: diary.Frost, TempC: &c, At: day(on).AddDays(1).In(time.UTC)})
	}
	t.Run("a record of Oct 1 that comes in after the check of Oct 5 holds nothing", func(t *testing.T) {
		p := newPlay(t)
		p.tells("2026-10-05", diary.Clear, "lane")
		frostOn(p, "2026-10-01")
		if v := p.view("2026-10-06", "lane"); v.Hold != nil {
			t.Errorf("held until %s: the ground was checked four days after that frost", v.Hold.Until)
		}
	})
	t.Run("a check of Oct 5 that comes in after the frost of Oct 6 does not end its hold", func(t *testing.T) {
		p := newPlay(t)
		frostOn(p, "2026-10-01")
		frostOn(p, "2026-10-06")
		p.write(diary.Fact{Day: day("2026-10-05"), Kind: diary.Clear, Paddock: "lane", At: day("2026-10-05").In(time.UTC).Add(9 * time.Hour)})
		if v := p.view("2026-10-08", "lane"); v.Hold == nil {
			t.Error("not held: cattle go in two days after a frost on a check made before it")
		}
	})
}

func TestConditionalPlantsHoldOnlyWhereShortOrUnread(t *testing.T) {
	for _, tc := range []struct {
		name  string
		grass string
		write func(*play)
		held  bool
	}{
		{"indiangrass of 16 in read on the day of the frost is not held", "indiangrass", func(p *play) { p.reads("2026-10-01", "creek", 16, 16) }, false},
		{"under 16 in it is", "indiangrass", func(p *play) { p.reads("2026-10-01", "creek", 15.9) }, true},
		{"mixed natives of 8 in are not", "mixed natives", func(p *play) { p.reads("2026-10-01", "creek", 8, 8) }, false},
		{"under 8 in they are", "mixed natives", func(p *play) { p.reads("2026-10-01", "creek", 7.9) }, true},
		{"a reading of 21 days before still shows it", "indiangrass", func(p *play) { p.reads("2026-09-10", "creek", 20) }, false},
		{"one of 22 days before does not", "indiangrass", func(p *play) { p.reads("2026-09-09", "creek", 20) }, true},
		{"mixed natives nobody read are held", "mixed natives", func(*play) {}, true},
		{"a tall reading after the frost comes too late", "mixed natives", func(p *play) { p.reads("2026-10-02", "creek", 20) }, true},
		{"tall, and cut for hay before the frost", "mixed natives", func(p *play) {
			p.reads("2026-09-20", "creek", 20)
			p.tells("2026-09-25", diary.Hayed, "creek")
		}, true},
		{"gamagrass is no hazard at all", "eastern gamagrass", func(*play) {}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			p.paddock("creek").Grass = species(t, tc.grass)
			tc.write(p)
			p.freeze("2026-10-01", 34)
			v := p.view("2026-10-03", "creek")
			if held := v.Hold != nil; held != tc.held {
				t.Errorf("held %v, want %v", held, tc.held)
			}
			if tc.held && !v.Hold.Short {
				t.Error("does not say that it is held because it is short or was not read")
			}
		})
	}
	t.Run("a reading of December counts in January", func(t *testing.T) {
		p := newPlay(t)
		p.paddock("creek").Grass = species(t, "indiangrass")
		p.reads("2026-12-20", "creek", 20)
		p.freeze("2027-01-03", 34)
		if v := p.view("2027-01-04", "creek"); v.Hold != nil {
			t.Errorf("held until %s, though read at 20 in two weeks before", v.Hold.Until)
		}
	})
}

// A weed of an invented wait of 5 days, and indiangrass of 14. A frost that finds
// the grass tall again must not shorten what the first frost began.
func TestAShorterWaitNeverShortensAHold(t *testing.T) {
	p := newPlay(t)
	weed := hazard(t, "arrowgrass")
	weed.Wait.Value = 5
	creek := p.paddock("creek")
	creek.Grass, creek.Hazards = species(t, "indiangrass"), []grass.Hazard{weed, hazard(t, "indiangrass")}
	p.freeze("2026-10-01", 34) // unread: both, until Oct 15
	p.reads("2026-10-02", "creek", 20)
	p.freeze("2026-10-03", 34) // tall: the weed alone, until Oct 8
	v := p.view("2026-10-09", "creek")
	if v.Hold == nil || v.Hold.Until != day("2026-10-15") {
		t.Fatalf("hold %+v: the indiangrass was frosted on Oct 1 and waits until Oct 15", v.Hold)
	}
	if len(v.Hold.Plants) != 2 || v.Hold.Short {
		t.Errorf("plants %v, short %v; want each plant named once, and not only because it is short", v.Hold.Plants, v.Hold.Short)
	}
}

func TestAlfalfaHoldsOnlyWhereItIsThePaddocksGrass(t *testing.T) {
	p := newPlay(t)
	p.paddock("lane").Grass, p.paddock("lane").Hazards = species(t, "alfalfa"), nil
	p.paddock("hill").Hazards = []grass.Hazard{hazard(t, "alfalfa")}
	p.freeze("2026-10-01", 34)
	if v := p.view("2026-10-02", "lane"); v.Hold == nil || v.Hold.Plants[0].Danger != grass.Bloat {
		t.Errorf("hold %+v, want bloat", v.Hold)
	}
	if v := p.view("2026-10-02", "hill"); v.Hold != nil {
		t.Errorf("hill is held by %v, a few plants of it in gamagrass", v.Hold.Plants)
	}
}

func TestAPlantThatSomebodyReportsCountsAtOnceTheFrostsOfTheLastDaysIncluded(t *testing.T) {
	p := newPlay(t)
	p.freeze("2026-10-01", 34)
	if v := p.view("2026-10-05", "creek"); v.Hold != nil {
		t.Fatal("gamagrass alone is held")
	}
	told := p.write(diary.Fact{Day: day("2026-10-05"), Kind: diary.Plant, Paddock: "creek", Plant: "johnsongrass", By: "Luis"})
	if v := p.view("2026-10-05", "creek"); v.Hold == nil || v.Hold.Until != day("2026-10-15") || v.Hold.Plants[0].Name != "johnsongrass" {
		t.Errorf("hold %+v, want johnsongrass until Oct 15: it stood there when it froze", v.Hold)
	}
	if v := p.view("2026-10-05", "hill"); v.Hold != nil {
		t.Error("it holds the paddock beside it too")
	}
	p.takesBack(told)
	if v := p.view("2026-10-06", "creek"); v.Hold != nil {
		t.Error("taken back, it holds on")
	}
}

// A farm that ends rest at 32 F has not killed its johnsongrass by it, and one
// that asks for 24 F has not at 28 F.
func TestOnlyTheColderOfTwoFreezesKills(t *testing.T) {
	for _, tc := range []struct {
		name   string
		endsAt string
		first  float64
		want   string
	}{
		{"rest over at 32 F, and the frost after it still counts", "32F", 31, "2026-11-03"},
		{"a farm that asks for 24 F is not killed off at 27 F", "24F", 27, "2026-11-03"},
		{"at 23 F it is", "24F", 23, "2026-10-26"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			creek := p.paddock("creek")
			creek.Hazards = []grass.Hazard{hazard(t, "shattercane")}
			th, err := frost.ParseThreshold(tc.endsAt)
			if err != nil {
				t.Fatal(err)
			}
			creek.Rule.EndsAt = th
			p.freeze("2026-10-12", tc.first)
			p.freeze("2026-10-20", 30)
			if v := p.view("2026-10-22", "creek"); v.Hold == nil || v.Hold.Until.String() != tc.want {
				t.Errorf("hold %+v, want until %s", v.Hold, tc.want)
			}
		})
	}
}

func TestAFrostAfterAHoldWasOverBeginsAnother(t *testing.T) {
	p := newPlay(t)
	p.freeze("2026-10-01", 34)
	second := p.freeze("2026-10-20", 33)
	if h := p.view("2026-10-21", "lane").Hold; h.Began != day("2026-10-20") || h.Cause() != second {
		t.Errorf("began %s by fact %d, want the second frost: it is told anew", h.Began, h.Cause())
	}
}

func TestAHoldIsToldAgainWhereItWasMadeLonger(t *testing.T) {
	p := newPlay(t)
	cause := p.freeze("2026-10-01", 34) // told until Oct 15
	p.freeze("2026-10-09", 33)          // until Oct 23: told on Oct 15
	p.freeze("2026-10-20", 33)          // until Nov 3: told on Oct 23
	for _, tc := range []struct {
		today, told string
		step        int
	}{{"2026-10-14", "2026-10-01", 0}, {"2026-10-15", "2026-10-15", 1}, {"2026-10-22", "2026-10-15", 1}, {"2026-10-23", "2026-10-23", 2}} {
		h := p.view(tc.today, "lane").Hold
		if step, on := h.Step(day(tc.today)); step != tc.step || on != day(tc.told) {
			t.Errorf("%s: telling %d of %s, want %d of %s", tc.today, step, on, tc.step, tc.told)
		}
		if h.Cause() != cause {
			t.Errorf("%s: caused by fact %d, want the first frost, %d", tc.today, h.Cause(), cause)
		}
	}
}
