package season

import (
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// watched gives a farm a date by hand of which 10 of 100 falls had 36 F by Sep 21,
// 32 F by Oct 1 and 28 F by Oct 12 (Oct 16 less 1.28 x 12 days; 10 days before and 11
// after), and a thermometer that misses no night.
func watched(t testing.TB) *play {
	p := newPlay(t)
	p.farm.Plan.Hand.Spread = 12
	var warm []frost.Day
	for d := day("2026-04-01"); d.Before(day("2027-12-31")); d = d.AddDays(1) {
		one := frost.NoDay(d)
		one.Min = frost.FromC(10)
		warm = append(warm, one)
	}
	p.air = (&frost.Record{}).With(warm...)
	return p
}

// A holdCase is what is told and, as of a day, the last day held: "" for no hold,
// "over DATE" for one that the calendar ended within the week, "person" for one that
// only a person ends.
type holdCase struct {
	name  string
	write func(*play)
	today string
	want  string
}

func (tc holdCase) check(t *testing.T, p *play, paddock string) {
	t.Helper()
	tc.write(p)
	v, got := p.view(tc.today, paddock), ""
	switch {
	case v.Hold != nil && v.Hold.Until.IsZero():
		got = "person"
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
}

// TestHolds: lane is tall fescue with johnsongrass in it, held 14 days, the
// longest published wait.
func TestHolds(t *testing.T) {
	for _, tc := range []holdCase{
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
		{"a killing freeze before the early side is doubted: later frosts still count", func(p *play) {
			p.freeze("2026-10-11", 27)
			p.freeze("2026-10-16", 30)
		}, "2026-10-27", "2026-10-30"},
		{"brown tops after a freeze end the frosts that count, not the wait", func(p *play) {
			p.freeze("2026-10-04", 31)
			p.tells("2026-10-08", diary.Brown, "lane")
			p.freeze("2026-10-10", 30)
		}, "2026-10-12", "2026-10-18"},
		{"brown tops that are drought's end nothing", func(p *play) {
			p.tells("2026-09-08", diary.Brown, "lane")
			p.freeze("2026-10-04", 34)
		}, "2026-10-12", "2026-10-18"},
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
		{"another night after a clear begins another hold", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.tells("2026-10-05", diary.Clear, "lane")
			p.freeze("2026-10-08", 33)
		}, "2026-10-09", "2026-10-22"},
		{"later word of a night already named makes its hold no longer", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.write(diary.Fact{Day: day("2026-10-01"), Kind: diary.Frost, At: day("2026-10-06").In(time.UTC)})
		}, "2026-10-07", "2026-10-15"},
		{"one night told twice before the check is lifted by it", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.write(diary.Fact{Day: day("2026-10-01"), Kind: diary.Frost, At: day("2026-10-04").In(time.UTC)})
			p.tells("2026-10-05", diary.Clear, "lane")
		}, "2026-10-07", ""},
		{"a frost that somebody tells of after the check holds again, whatever its day", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.tells("2026-10-05", diary.Clear, "lane")
			p.write(diary.Fact{Day: day("2026-10-01"), Kind: diary.Frost, At: day("2026-10-06").In(time.UTC)})
		}, "2026-10-07", "2026-10-15"},
		{"a killing freeze that was taken back killed nothing: later frosts still count", func(p *play) {
			p.takesBack(p.freeze("2026-10-12", 20))
			p.freeze("2026-10-20", 33)
		}, "2026-10-21", "2026-11-03"},
		{"a person's frost is never the killing one", func(p *play) {
			p.tells("2026-10-14", diary.Frost, "")
			p.freeze("2026-10-20", 33)
		}, "2026-10-27", "2026-11-03"},
		{"no frost, said by one, lifts nothing against a frost said by another", func(p *play) {
			p.tells("2026-10-01", diary.Frost, "")
			p.tells("2026-10-02", diary.NoFrost, "")
		}, "2026-10-05", "2026-10-15"},
		{"a frost in late March holds on over the year's turn", func(p *play) { p.freeze("2027-03-25", 34) }, "2027-04-05", "2027-04-08"},
		{"last fall's frost holds nothing next August", func(p *play) { p.freeze("2026-10-01", 34) }, "2027-08-05", ""},
		{"in April the plants are not up", func(p *play) { p.freeze("2026-04-20", 34) }, "2026-04-21", ""},
		{"a first height in April says that the plant was up for the frost of the days before", func(p *play) {
			p.paddock("lane").Grass, p.paddock("lane").Hazards = species(p.t, "johnsongrass"), nil
			p.freeze("2026-04-20", 34)
			p.reads("2026-04-21", "lane", 19)
		}, "2026-04-22", "2026-05-04"},
		{"but not for one fifteen days before", func(p *play) {
			p.paddock("lane").Grass, p.paddock("lane").Hazards = species(p.t, "johnsongrass"), nil
			p.freeze("2026-04-10", 34)
			p.reads("2026-04-25", "lane", 19)
		}, "2026-04-25", ""},
		{"nor in other grass, which greens up by itself", func(p *play) {
			p.freeze("2026-04-20", 34)
			p.reads("2026-04-21", "lane", 8)
		}, "2026-04-22", ""},
		{"a frost in May holds as one in the fall does", func(p *play) { p.freeze("2026-05-10", 34) }, "2026-05-12", "2026-05-24"},
		{"somebody who saw the plant in April says that it is up", func(p *play) {
			p.write(diary.Fact{Day: day("2026-04-18"), Kind: diary.Plant, Paddock: "lane", Plant: "johnsongrass"})
			p.freeze("2026-04-20", 34)
		}, "2026-04-21", "2026-05-04"},
		{"a freeze of 26 F in May kills nothing for the summer", func(p *play) { p.freeze("2026-05-02", 26); p.freeze("2026-05-14", 34) }, "2026-05-20", "2026-05-28"},
	} {
		t.Run(tc.name, func(t *testing.T) { tc.check(t, watched(t), "lane") })
	}
}

func TestWhereTheHazardPlantIsTheGrassAReadingShowsThatItIsUp(t *testing.T) {
	holdCase{"", func(p *play) {
		p.paddock("lane").Grass = species(t, "johnsongrass")
		p.reads("2026-04-10", "lane", 6)
		p.freeze("2026-04-20", 34)
	}, "2026-04-21", "2026-05-04"}.check(t, watched(t), "lane")
}

// Safe height of johnsongrass: 18 in (University of Illinois and Nebraska for
// sudangrass, taken over).
func TestRegrowth(t *testing.T) {
	green := func(p *play) { p.tells("2026-07-05", diary.Regrowth, "lane") }
	for _, tc := range []holdCase{
		{"holds from the report in any phase, and no calendar ends it", green, "2026-09-15", "person"},
		{"of another paddock holds nothing here", func(p *play) { p.tells("2026-07-05", diary.Regrowth, "hill") }, "2026-07-06", ""},
		{"is over with a height at the safe height", func(p *play) { green(p); p.reads("2026-07-30", "lane", plants(10, 18.5)...) }, "2026-07-31", ""},
		{"is not over half an inch under it", func(p *play) { green(p); p.reads("2026-07-30", "lane", 17.5) }, "2026-07-31", "person"},
		{"is not over with a height read before the report", func(p *play) { p.reads("2026-07-04", "lane", 30); green(p) }, "2026-07-31", "person"},
		{"is not over with a height within 14 days of a frost", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.tells("2026-10-02", diary.Regrowth, "lane")
			p.reads("2026-10-14", "lane", plants(10, 30)...)
		}, "2026-10-20", "person"},
		{"is over with one 14 days after it", func(p *play) {
			p.freeze("2026-10-01", 34)
			p.tells("2026-10-02", diary.Regrowth, "lane")
			p.reads("2026-10-15", "lane", plants(10, 30)...)
		}, "2026-10-16", ""},
		{"ends 14 days after a killing freeze that came later", func(p *play) {
			p.tells("2026-10-08", diary.Regrowth, "lane")
			p.freeze("2026-10-12", 27)
		}, "2026-10-20", "2026-10-26"},
		{"after the fall's first killing freeze holds again until the next one", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.tells("2026-11-01", diary.Regrowth, "lane")
			p.freeze("2026-11-03", 30)
		}, "2027-01-04", "person"},
		{"is restarted by every frost within the wait after the shoots died", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.tells("2026-11-01", diary.Regrowth, "lane")
			p.freeze("2026-11-03", 26)
			p.freeze("2026-11-10", 30)
		}, "2026-11-11", "2026-11-24"},
		{"ends 14 days after brown tops that came later", func(p *play) {
			p.freeze("2026-10-12", 27)
			p.tells("2026-11-01", diary.Regrowth, "lane")
			p.tells("2026-11-06", diary.Brown, "lane")
		}, "2026-11-07", "2026-11-20"},
		{"is lifted by clear", func(p *play) { green(p); p.tells("2026-07-08", diary.Clear, "lane") }, "2026-07-09", ""},
		{"seen again after a clear holds again", func(p *play) {
			green(p)
			p.tells("2026-07-08", diary.Clear, "lane")
			p.tells("2026-07-12", diary.Regrowth, "lane")
		}, "2026-07-13", "person"},
		{"that was taken back holds nothing", func(p *play) { p.takesBack(p.tells("2026-07-05", diary.Regrowth, "lane")) }, "2026-07-06", ""},
	} {
		t.Run(tc.name, func(t *testing.T) { tc.check(t, watched(t), "lane") })
	}
}

// No wait in days is published for cherry (Univ. of Maryland 2025; Penn State 2023).
func TestWildCherryHoldsUntilAPersonHasSeenTheLeavesBrownAndDry(t *testing.T) {
	cherry := func(p *play) { p.paddock("lane").Hazards = []grass.Hazard{hazard(t, "wild cherry")} }
	for _, tc := range []holdCase{
		{"down in July it holds on, on ground that nobody named it for", func(p *play) { p.tells("2026-07-05", diary.Danger, "lane") }, "2026-09-05", "person"},
		{"until clear", func(p *play) { p.tells("2026-07-05", diary.Danger, "lane"); p.tells("2026-08-06", diary.Clear, "lane") }, "2026-08-06", ""},
		{"a frost wilts it", func(p *play) { cherry(p); p.freeze("2026-10-01", 34) }, "2026-12-05", "person"},
		{"and that is lifted by clear too", func(p *play) { cherry(p); p.freeze("2026-10-01", 34); p.tells("2026-10-20", diary.Clear, "lane") }, "2026-10-21", ""},
		{"a report that was taken back holds nothing", func(p *play) { p.takesBack(p.tells("2026-07-05", diary.Danger, "lane")) }, "2026-07-06", ""},
	} {
		t.Run(tc.name, func(t *testing.T) { tc.check(t, watched(t), "lane") })
	}
}

func TestAPlantThatSomebodyReports(t *testing.T) {
	report := func(p *play) int64 {
		return p.write(diary.Fact{Day: day("2026-10-10"), Kind: diary.Plant, Paddock: "lane", Plant: "johnsongrass"})
	}
	for _, tc := range []holdCase{
		{"counts at once, the frosts of the last 14 days included", func(p *play) { p.freeze("2026-09-28", 34); report(p) }, "2026-10-10", "2026-10-12"},
		{"and none before them", func(p *play) { p.freeze("2026-09-25", 34); report(p) }, "2026-10-10", ""},
		{"counts for the frosts to come", func(p *play) { report(p); p.freeze("2026-10-20", 34) }, "2026-10-21", "2026-11-03"},
		{"and undo takes it back", func(p *play) { p.freeze("2026-09-28", 34); p.takesBack(report(p)) }, "2026-10-10", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := watched(t)
			p.paddock("lane").Hazards = nil
			tc.check(t, p, "lane")
		})
	}
}

// A fall's minimum sinks about 0.4 F a day (assumption): 5 days are 2 F.
func TestAMinimumThatOnlyAFrostPocketFeelsHoldsThatPaddockAlone(t *testing.T) {
	p := watched(t)
	c := (37.8 - 32) / 1.8
	p.write(diary.Fact{Day: day("2026-10-05"), Kind: diary.Frost, Paddock: "lane", TempC: &c, By: "station", Source: diary.FromRecord})
	p.paddock("hill").Hazards = []grass.Hazard{hazard(t, "johnsongrass")}
	if h := p.view("2026-10-06", "lane").Hold; h == nil || h.Until != day("2026-10-19") {
		t.Errorf("the pocket: %+v", h)
	}
	if h := p.view("2026-10-06", "hill").Hold; h != nil {
		t.Errorf("the hill is held until %s by a night that it did not have", h.Until)
	}
}

// Killing freeze of alfalfa: 24-25 F (Ohio State 2012), not 28 F. Worst 3-5 days
// after freezing (Univ. of Nebraska).
func TestLegumesHoldWhereTheyAreTheGrassAndOnlyTheirOwnFreezeKillsThem(t *testing.T) {
	for _, tc := range []holdCase{
		{"34 F does nothing to alfalfa", func(p *play) { p.freeze("2026-10-01", 34) }, "2026-10-02", ""},
		{"32 F begins a hold", func(p *play) { p.freeze("2026-10-01", 32) }, "2026-10-02", "2026-10-15"},
		{"a frost that was told does too", func(p *play) { p.tells("2026-10-01", diary.Frost, "") }, "2026-10-02", "2026-10-15"},
		{"27 F does not kill it: the next freeze restarts the wait", func(p *play) { p.freeze("2026-10-14", 27); p.freeze("2026-10-20", 30) }, "2026-10-30", "2026-11-03"},
		{"23 F does: nothing restarts it any more", func(p *play) { p.freeze("2026-10-20", 23); p.freeze("2026-10-25", 30) }, "2026-10-30", "2026-11-03"},
		{"brown tops end it, seven days after at the earliest", func(p *play) { p.freeze("2026-10-20", 23); p.tells("2026-10-23", diary.Brown, "lane") }, "2026-10-27", "2026-10-27"},
		{"on day 8 it is over then", func(p *play) { p.freeze("2026-10-20", 23); p.tells("2026-10-23", diary.Brown, "lane") }, "2026-10-28", "over 2026-10-27"},
		{"without brown tops day 14 is the last", func(p *play) { p.freeze("2026-10-20", 23) }, "2026-11-03", "2026-11-03"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := watched(t)
			p.paddock("lane").Grass, p.paddock("lane").Hazards = species(t, "alfalfa"), nil
			tc.check(t, p, "lane")
		})
	}
	t.Run("in another grass they hold nothing", func(t *testing.T) {
		p := watched(t)
		p.paddock("lane").Hazards = []grass.Hazard{hazard(t, "clover")}
		holdCase{"", func(p *play) { p.freeze("2026-10-01", 28) }, "2026-10-02", ""}.check(t, p, "lane")
	})
}

func TestTheFirstHeightAfterAHoldThatTheCalendarEndedCarriesTheCaution(t *testing.T) {
	p := watched(t)
	p.freeze("2026-10-12", 27) // held to Oct 26
	if v := p.view("2026-10-20", "lane"); len(v.Caution) > 0 {
		t.Error("a caution for what is still held")
	}
	p.reads("2026-11-20", "lane", plants(20, 10)...)
	if v := p.view("2026-11-20", "lane"); v.Verdict.Say != Go || len(v.Caution) != 1 || v.Caution[0].Name != "johnsongrass" {
		t.Errorf("%s with the caution %v", v.Verdict.Say, v.Caution)
	}
	p.reads("2026-11-25", "lane", plants(20, 10)...)
	if v := p.view("2026-11-25", "lane"); v.Verdict.Say != Go || len(v.Caution) > 0 {
		t.Errorf("the second height: %s with the caution %v", v.Verdict.Say, v.Caution)
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
		p := watched(t)
		p.tells("2026-10-05", diary.Clear, "lane")
		frostOn(p, "2026-10-01")
		if v := p.view("2026-10-06", "lane"); v.Hold != nil {
			t.Errorf("held until %s: the ground was checked four days after that frost", v.Hold.Until)
		}
	})
	t.Run("a check of Oct 5 that comes in after the frost of Oct 6 does not end its hold", func(t *testing.T) {
		p := watched(t)
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
		{"a native mix of 8 in is not", "mixed natives", func(p *play) { p.reads("2026-10-01", "creek", 8, 8) }, false},
		{"under 8 in it is", "mixed natives", func(p *play) { p.reads("2026-10-01", "creek", 7.9) }, true},
		{"a reading of 21 days before still shows it", "indiangrass", func(p *play) { p.reads("2026-09-10", "creek", 20) }, false},
		{"one of 22 days before, in this rest, has grown since", "indiangrass", func(p *play) { p.reads("2026-09-09", "creek", 20) }, false},
		{"but only as much as the low end of what may be expected", "indiangrass", func(p *play) { p.reads("2026-09-09", "creek", 11) }, true},
		{"one from before this rest says nothing any more", "indiangrass", func(p *play) { p.reads("2026-08-25", "creek", 20) }, true},
		{"one of ground that was grazed since neither", "indiangrass", func(p *play) {
			p.reads("2026-09-09", "creek", 20)
			p.moves("2026-09-12", diary.On, "creek", "cows")
			p.moves("2026-09-14", diary.Off, "creek", "cows")
		}, true},
		{"mixed natives nobody read are held", "mixed natives", func(*play) {}, true},
		{"a tall reading after the frost comes too late", "mixed natives", func(p *play) { p.reads("2026-10-02", "creek", 20) }, true},
		{"tall, and cut for hay before the frost", "mixed natives", func(p *play) {
			p.reads("2026-09-20", "creek", 20)
			p.tells("2026-09-25", diary.Hayed, "creek")
		}, true},
		{"gamagrass is no hazard at all", "eastern gamagrass", func(*play) {}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := watched(t)
			p.paddock("creek").Grass = species(t, tc.grass)
			tc.write(p)
			p.freeze("2026-10-01", 34)
			v := p.view("2026-10-03", "creek")
			if held := v.Hold != nil; held != tc.held {
				t.Errorf("held %v, want %v", held, tc.held)
			}
			if v.Hold != nil && !v.Hold.Short {
				t.Error("does not say that it is held because it is short or was not read")
			}
		})
	}
	t.Run("a reading of December counts in January", func(t *testing.T) {
		p := watched(t)
		p.paddock("creek").Grass = species(t, "indiangrass")
		p.reads("2026-12-20", "creek", 20)
		p.freeze("2027-01-03", 34)
		if v := p.view("2027-01-04", "creek"); v.Hold != nil {
			t.Errorf("held until %s, though read at 20 in two weeks before", v.Hold.Until)
		}
	})
}

// Brown tops end the wait of dead alfalfa after 7 days, and that of johnsongrass
// after 14.
func TestAShorterWaitNeverShortensAHold(t *testing.T) {
	p := watched(t)
	lane := p.paddock("lane")
	lane.Grass = species(t, "alfalfa")
	p.freeze("2026-10-12", 23)
	p.tells("2026-10-15", diary.Brown, "lane")
	v := p.view("2026-10-20", "lane")
	if v.Hold == nil || v.Hold.Until != day("2026-10-26") {
		t.Fatalf("hold %+v: the johnsongrass waits until Oct 26", v.Hold)
	}
	if len(v.Shut) != 1 || v.Shut[0].Plant != "johnsongrass" {
		t.Errorf("shut by %+v, want the johnsongrass alone by now", v.Shut)
	}
	if h := p.view("2026-10-18", "lane").Hold; len(h.Plants) != 2 || h.Short {
		t.Errorf("plants %v, short %v; want each plant named once, and not only because it is short", h.Plants, h.Short)
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
			p := watched(t)
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
	p := watched(t)
	p.freeze("2026-10-01", 34)
	second := p.freeze("2026-10-20", 33)
	if h := p.view("2026-10-21", "lane").Hold; h.Began != day("2026-10-20") || h.Cause() != second {
		t.Errorf("began %s by fact %d, want the second frost: it is told anew", h.Began, h.Cause())
	}
}

func TestAHoldIsToldAgainTheDayBeforeTheOneThatWasTold(t *testing.T) {
	p := watched(t)
	cause := p.freeze("2026-10-01", 34) // told until Oct 15
	p.freeze("2026-10-09", 33)          // until Oct 23: told on Oct 14
	p.freeze("2026-10-20", 33)          // until Nov 3: told on Oct 22
	for _, tc := range []struct {
		today, told string
		step        int
	}{{"2026-10-13", "2026-10-01", 0}, {"2026-10-14", "2026-10-14", 1}, {"2026-10-21", "2026-10-14", 1}, {"2026-10-22", "2026-10-22", 2}} {
		h := p.view(tc.today, "lane").Hold
		if step, on := h.Step(day(tc.today)); step != tc.step || on != day(tc.told) {
			t.Errorf("%s: telling %d of %s, want %d of %s", tc.today, step, on, tc.step, tc.told)
		}
		if h.Cause() != cause {
			t.Errorf("%s: caused by fact %d, want the first frost, %d", tc.today, h.Cause(), cause)
		}
	}
}

func TestAFrostOfTheLastDayIsToldAtOnce(t *testing.T) {
	p := watched(t)
	p.freeze("2026-10-01", 34)
	p.freeze("2026-10-15", 33) // the last day that was told
	h := p.view("2026-10-15", "lane").Hold
	if step, on := h.Step(day("2026-10-15")); step != 1 || on != day("2026-10-15") {
		t.Errorf("telling %d of %s", step, on)
	}
}

func TestTopsThatBrownedByAFreezeThatNobodySawHoldFourteenDays(t *testing.T) {
	for _, tc := range []holdCase{
		{"beside no frost", func(p *play) { p.tells("2026-10-16", diary.NoFrost, ""); p.tells("2026-10-28", diary.Brown, "lane") }, "2026-10-29", "2026-11-11"},
		{"the last day is held", func(p *play) { p.tells("2026-10-28", diary.Brown, "lane") }, "2026-11-11", "2026-11-11"},
		{"the day after is not", func(p *play) { p.tells("2026-10-28", diary.Brown, "lane") }, "2026-11-12", "over 2026-11-11"},
		{"brown of the whole farm is brown of this ground", func(p *play) { p.tells("2026-10-28", diary.Brown, "") }, "2026-10-29", "2026-11-11"},
		{"told again it is no longer", func(p *play) { p.tells("2026-10-28", diary.Brown, "lane"); p.tells("2026-11-02", diary.Brown, "lane") }, "2026-11-03", "2026-11-11"},
		{"brown of another paddock says nothing of this one", func(p *play) { p.tells("2026-10-28", diary.Brown, "creek") }, "2026-10-29", ""},
		{"brown in August is drought's, which poisons johnsongrass too", func(p *play) { p.tells("2026-08-20", diary.Brown, "lane") }, "2026-08-21", "2026-09-03"},
		{"and two weeks later it is over", func(p *play) { p.tells("2026-08-20", diary.Brown, "lane") }, "2026-09-04", "over 2026-09-03"},
		{"told again in September it holds anew", func(p *play) { p.tells("2026-08-20", diary.Brown, "lane"); p.tells("2026-09-10", diary.Brown, "lane") }, "2026-09-11", "2026-09-24"},
		{"where a frost of the days before was known that one holds", func(p *play) { p.freeze("2026-10-20", 30); p.tells("2026-10-28", diary.Brown, "lane") }, "2026-10-29", "2026-11-03"},
		{"one that was over by then does not", func(p *play) { p.freeze("2026-10-05", 30); p.tells("2026-10-28", diary.Brown, "lane") }, "2026-10-29", "2026-11-11"},
		{"after the killing freeze brown is no news", func(p *play) { p.freeze("2026-11-01", 25); p.tells("2026-11-20", diary.Brown, "lane") }, "2026-11-21", ""},
		{"a manager who has checked it lifts it", func(p *play) { p.tells("2026-10-28", diary.Brown, "lane"); p.tells("2026-10-30", diary.Clear, "lane") }, "2026-10-31", ""},
		{"taken back it holds nothing", func(p *play) { p.takesBack(p.tells("2026-10-28", diary.Brown, "lane")) }, "2026-10-29", ""},
	} {
		t.Run(tc.name, func(t *testing.T) { tc.check(t, watched(t), "lane") })
	}
	t.Run("ground without the plant is not held", func(t *testing.T) {
		p := watched(t)
		p.paddock("lane").Hazards = nil
		holdCase{"", func(p *play) { p.tells("2026-10-28", diary.Brown, "lane") }, "2026-10-29", ""}.check(t, p, "lane")
	})
	t.Run("indiangrass that browns in August is not held", func(t *testing.T) {
		p := watched(t)
		p.paddock("lane").Hazards = []grass.Hazard{hazard(t, "indiangrass")}
		holdCase{"", func(p *play) { p.tells("2026-08-20", diary.Brown, "lane") }, "2026-08-21", ""}.check(t, p, "lane")
	})
	t.Run("brown leaves are what wild cherry is waited for", func(t *testing.T) {
		p := watched(t)
		p.paddock("lane").Hazards = []grass.Hazard{hazard(t, "wild cherry")}
		holdCase{"", func(p *play) { p.tells("2026-10-28", diary.Brown, "lane") }, "2026-10-29", ""}.check(t, p, "lane")
	})
}

// A hold that began before the year's turn goes on after it as the one that it was; one
// that the winter ended is no part of it.
func TestAHoldThatTheYearsTurnFallsInIsOne(t *testing.T) {
	p := newPlay(t)
	p.paddock("creek").Grass = species(t, "indiangrass")
	for _, night := range []string{"2025-12-02", "2026-03-20", "2026-03-30"} {
		p.freeze(night, 34)
	}
	p.reads("2026-04-03", "creek", 4, 5, 4)
	p.freeze("2026-04-05", 34)
	v := p.view("2026-04-10", "creek")
	if v.Hold == nil || v.Hold.Began != day("2026-03-20") || v.Hold.Until != day("2026-04-19") {
		t.Errorf("held %+v, want from Mar 20, the first of the nights that run into one another, to two weeks after Apr 5", v.Hold)
	}
	if v = p.view("2026-04-20", "creek"); v.Hold != nil || v.WasHeld == nil || v.WasHeld.Began != day("2026-03-20") {
		t.Errorf("on Apr 20 it is held %+v, and was held %+v", v.Hold, v.WasHeld)
	}
}
