package ladder

import (
	"maps"
	"slices"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// froze writes down a measured frost, in degrees F, known at a time.
func (s *stage) froze(known, day string, source string, f float64) {
	c := (f - 32) / 1.8
	d, err := civil.ParseDate(day)
	if err != nil {
		s.t.Fatal(err)
	}
	s.fact(known, diary.Fact{Kind: diary.Frost, Day: d, TempC: &c, By: source, Source: source})
}

func TestEachFrostIsToldOnceWhateverTheSources(t *testing.T) {
	for _, tc := range []struct {
		name string
		more func(s *stage)
	}{
		{"the record tells of the thermometer's night a day later", func(s *stage) { s.froze("2026-10-08 06:00", "2026-10-07", diary.FromRecord, 33) }},
		{"the service tells of it at the same hour", func(s *stage) { s.froze("2026-10-07 08:00", "2026-10-07", diary.FromService, 34) }},
		{"an earlier source of the same night comes late", func(s *stage) { s.froze("2026-10-07 05:00", "2026-10-07", diary.FromService, 34) }},
		{"the record brings an earlier night late", func(s *stage) { s.froze("2026-10-06 06:00", "2026-10-05", diary.FromRecord, 35) }},
		{"a person saw it too", func(s *stage) { s.fact("2026-10-07 09:00", diary.Fact{Kind: diary.Frost, By: "Luis"}) }},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := newStage(t)
			s.froze("2026-10-07 08:00", "2026-10-07", diary.FromThermometer, 35)
			if got := only(s.play("2026-10-07 08:00", "2026-10-08 05:00"), "Ruth frost"); len(got) != 1 {
				t.Fatalf("Ruth hears %v", got)
			}
			tc.more(s)
			if got := only(s.play("2026-10-08 06:00", "2026-10-12 12:00"), " frost "); len(got) > 0 {
				t.Errorf("told again: %v", got)
			}
			if got := only(s.play("2026-10-08 06:00", "2026-10-12 12:00"), "hold-begins lane"); len(got) > 0 && tc.name != "the record brings an earlier night late" {
				t.Errorf("held again: %v", got)
			}
		})
	}
}

func TestAFrostTakenBackAndComeAgainIsToldAgain(t *testing.T) {
	s := newStage(t)
	s.froze("2026-10-07 08:00", "2026-10-07", diary.FromThermometer, 35)
	first := s.nextID
	s.play("2026-10-07 08:00", "2026-10-07 12:00")
	s.fact("2026-10-07 13:00", diary.Fact{Kind: diary.Void, Voids: first})
	s.play("2026-10-07 13:00", "2026-10-08 12:00")
	s.froze("2026-10-12 08:00", "2026-10-12", diary.FromThermometer, 34)
	if got := only(s.play("2026-10-12 08:00", "2026-10-12 12:00"), "Ruth frost"); len(got) != 1 {
		t.Errorf("Ruth hears %v of the second frost", got)
	}
}

func TestAfterAClearOnlyAnotherNightIsToldAsAHold(t *testing.T) {
	s := newStage(t)
	s.fact("2026-10-07 07:00", diary.Fact{Kind: diary.Frost})
	s.play("2026-10-07 07:00", "2026-10-07 09:00")
	s.fact("2026-10-07 10:00", diary.Fact{Kind: diary.Clear, Paddock: "lane"})
	s.froze("2026-10-08 05:30", "2026-10-07", diary.FromRecord, 30)
	if got := only(s.play("2026-10-07 21:00", "2026-10-08 09:00"), "hold-begins lane"); len(got) > 0 {
		t.Errorf("a record of the night that was cleared: %v", got)
	}
	s.fact("2026-10-09 07:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
	if got := only(s.play("2026-10-09 07:00", "2026-10-09 09:00"), "Luis hold-begins lane"); len(got) != 1 {
		t.Errorf("of the second hold Luis hears %v", got)
	}
}

func TestDarkForTenDaysOverAFrostTheHoldIsStillTold(t *testing.T) {
	s := newStage(t)
	s.froze("2026-10-07 08:00", "2026-10-07", diary.FromThermometer, 30)
	if got := only(s.play("2026-10-17 12:00", "2026-10-17 12:00"), "Ana hold-begins lane"); len(got) != 1 {
		t.Errorf("ten days after the frost, four before the hold is over: %v", got)
	}
}

func night(s *stage, issued, end string, f float64) diary.Observation {
	at := s.at(end)
	return diary.Observation{Source: diary.FromService, Place: "KQQF", At: at, Day: civil.DateOf(at), MinC: (f - 32) / 1.8, Forecast: true, Issued: s.at(issued)}
}

func warned(s *stage, now string, nights ...diary.Observation) []Notice {
	in := s.input(s.at(now))
	in.Nights = nights
	return slices.DeleteFunc(dueOf(in), func(n Notice) bool { return n.Kind != FrostWarning })
}

func TestAFrostForecastIsWarnedOfOnlyWherePlantsCanStillTurn(t *testing.T) {
	for _, tc := range []struct {
		name string
		set  func(s *stage)
		want int
	}{
		{"cattle on johnsongrass before any frost", func(*stage) {}, 2},
		{"an empty lane", func(s *stage) { s.fact("2026-10-02 09:00", diary.Fact{Kind: diary.Off, Paddock: "lane"}) }, 0},
		{"nobody knows whether cattle are in", func(s *stage) {
			s.fact("2026-10-02 09:00", diary.Fact{Kind: diary.On, Paddock: "hill", Herd: "cows"})
		}, 2},
		{"after a light frost", func(s *stage) { s.froze("2026-10-03 08:00", "2026-10-03", diary.FromThermometer, 33) }, 2},
		{"under the hold of the killing freeze", func(s *stage) { s.froze("2026-10-20 08:00", "2026-10-20", diary.FromThermometer, 25) }, 2},
		{"long after the killing freeze", func(s *stage) { s.froze("2026-10-03 08:00", "2026-10-03", diary.FromThermometer, 25) }, 0},
		{"it greened up again", func(s *stage) {
			s.froze("2026-10-03 08:00", "2026-10-03", diary.FromThermometer, 25)
			s.fact("2026-10-20 08:00", diary.Fact{Kind: diary.Regrowth, Paddock: "lane"})
		}, 2},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := newStage(t)
			s.fact("2026-10-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
			tc.set(s)
			got := warned(s, "2026-10-24 15:00", night(s, "2026-10-24 14:00", "2026-10-25 07:00", 30))
			if len(got) != tc.want {
				t.Errorf("%d warnings, want %d: %+v", len(got), tc.want, got)
			}
		})
	}
}

func TestAKillingFreezeInJanuaryEndsTheWarnings(t *testing.T) {
	s := newStage(t)
	s.fact("2026-12-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	cold := night(s, "2027-01-30 14:00", "2027-01-31 07:00", 30)
	if got := warned(s, "2027-01-30 15:00", cold); len(got) != 2 {
		t.Errorf("no killing freeze yet, and %d warnings", len(got))
	}
	s.froze("2027-01-10 06:00", "2027-01-10", diary.FromThermometer, 24)
	if got := warned(s, "2027-01-30 15:00", cold); len(got) != 0 {
		t.Errorf("what is dead is warned of: %+v", got)
	}
}

func TestTheNewestForecastOfANightCounts(t *testing.T) {
	s := newStage(t)
	s.fact("2026-10-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	old, newer := night(s, "2026-10-01 06:00", "2026-10-02 06:00", 34), night(s, "2026-10-01 12:00", "2026-10-02 07:00", 44)
	if got := warned(s, "2026-10-01 15:00", old, newer); len(got) > 0 {
		t.Errorf("warned by a forecast that was taken back: %+v", got)
	}
	if got := warned(s, "2026-10-01 15:00", old, night(s, "2026-10-01 06:00", "2026-10-02 07:00", 35)); len(got) != 2 {
		t.Errorf("one night by two forecasts makes %d warnings, want one each for Ana and Luis", len(got))
	}
}

func TestTheWarningComesWhenTheNightComesNear(t *testing.T) {
	s := newStage(t)
	s.fact("2026-10-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	in := s.input(s.at("2026-10-01 15:00"))
	in.Nights = []diary.Observation{night(s, "2026-10-01 14:00", "2026-10-03 20:30", 30)}
	for range 20 {
		if _, next := new(Memo).Plan(in, nil); !next.After(s.at("2026-10-02 08:30")) {
			in.Now = next
			continue
		}
		break
	}
	if in.Now != s.at("2026-10-02 08:30") {
		t.Errorf("the last moment looked at is %s, want 36 hours before the night's end", in.Now.In(s.zone))
	}
}

func TestThePlaceToGoBeforeAFrostHasNoHazardPlants(t *testing.T) {
	s := newStage(t)
	s.fact("2026-10-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	in := s.input(s.at("2026-10-01 15:00"))
	in.Nights = []diary.Observation{night(s, "2026-10-01 14:00", "2026-10-02 07:00", 30)}
	in.MoveTo = func(_ string, frost bool) Sends {
		if frost {
			return Sends{MoveTo: []string{"Mill"}}
		}
		return Sends{MoveTo: []string{"Draw", "Mill"}}
	}
	for _, n := range dueOf(in) {
		if n.Kind == FrostWarning && !slices.Equal(OnPaddock(n.Facts).MoveTo, []string{"Mill"}) {
			t.Errorf("sent from one hazard to another: %v", OnPaddock(n.Facts).MoveTo)
		}
	}
}

func TestOnceFrostHasComeNoHerdIsSentToHazardPlants(t *testing.T) {
	for _, frosted := range []bool{false, true} {
		s := newStage(t)
		if frosted {
			s.froze("2026-08-29 08:00", "2026-08-29", diary.FromThermometer, 33)
		}
		in := s.input(s.at("2026-08-30 09:00"))
		leftOut := false
		in.MoveTo = func(_ string, frost bool) Sends { leftOut = frost; return Sends{} }
		dueOf(in)
		if leftOut != frosted {
			t.Errorf("frost has come: %v, and paddocks with hazard plants are left out: %v", frosted, leftOut)
		}
	}
}

func TestTheEndOfRestIsToldOnce(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	s.play("2026-08-28 09:00", "2026-10-23 12:00")
	s.froze("2026-10-24 08:00", "2026-10-24", diary.FromThermometer, 25)
	got := s.play("2026-10-24 08:00", "2026-10-25 12:00")
	wantLines(t, only(got, "rest-over"), "10-24 08:00 Ana rest-over creek", "10-24 08:00 Ana rest-over hill")
	wantLines(t, only(got, "killing-freeze"), "10-24 08:00 Ruth killing-freeze creek") // Ana heard it with the end of rest
	s.froze("2026-10-22 06:00", "2026-10-21", diary.FromRecord, 27)                    // the record was late
	if got := only(s.play("2026-10-26 08:00", "2026-10-30 12:00"), "rest-over"); len(got) > 0 {
		t.Errorf("the record brings an earlier freeze, and it says again %v", got)
	}
}

func TestAPersonsFrostEndsRestOnlyWhereTheRuleSaysSo(t *testing.T) {
	s := newStage(t)
	s.farm.Paddocks[0].Rule.EndsAt = frost.Freeze32F
	s.play("2026-08-15 00:00", "2026-10-19 12:00")
	s.fact("2026-10-20 07:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
	wantLines(t, only(s.play("2026-10-20 07:00", "2026-10-21 12:00"), "rest-over"), "10-20 07:00 Ana rest-over creek")
}

func TestASecondKillingFreezeBeforeCutoffEndsTheLadder(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-20 12:00")
	s.froze("2026-08-21 06:00", "2026-08-20", diary.FromRecord, 27) // one alone is doubted
	if got := only(s.play("2026-08-21 06:00", "2026-08-27 12:00"), "heads-up creek"); len(got) == 0 {
		t.Error("one cold night silences the ladder")
	}
	s.froze("2026-08-28 06:00", "2026-08-27", diary.FromRecord, 27)
	got := s.play("2026-08-28 06:00", "2026-09-10 12:00")
	wantLines(t, only(got, "frost-beat-cutoff"), "08-28 06:30 Ana frost-beat-cutoff creek", "08-28 06:30 Ana frost-beat-cutoff hill")
	for _, kind := range []Kind{MovePlan, ShutToday, Overdue, KeepShut} {
		if late := only(got, string(kind)); len(late) > 0 {
			t.Errorf("frost beat the cutoff, and it says %v", late)
		}
	}
}

func TestTheHeightIsAskedWhenRestReallyBegins(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-09-12 12:00")
	s.fact("2026-09-12 18:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	wantLines(t, only(s.play("2026-09-12 18:00", "2026-09-14 12:00"), "ask-height creek"), "09-13 06:30 Ana ask-height creek")
}

func TestWithoutFrostTheYearEndsTheRest(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	got := s.play("2026-12-20 00:00", "2027-01-20 12:00")
	wantLines(t, only(got, "rest-over creek"), "01-01 06:30 Ana rest-over creek")
	for _, n := range dueOf(s.input(time.Date(2027, 1, 2, 15, 0, 0, 0, s.zone))) {
		if n.Kind != RestOver {
			continue
		}
		if r := n.Facts.(*EndFacts).Result; !r.NoFrost || r.RestEnd != (civil.Date{Year: 2026, Month: 12, Day: 31}) {
			t.Errorf("the last day of rest is %v", r)
		}
	}
}

// Ground that was grazed through its rest is left for spring, and the word that rest is
// over says so; beside it, what rested is not.
func TestTheWordThatRestIsOverSaysWhatRestedTooLittle(t *testing.T) {
	s := newStage(t)
	s.play("2026-10-30 00:00", "2026-10-30 23:00")
	s.froze("2026-11-06 06:00", "2026-11-05", diary.FromThermometer, 24)
	failed := map[string]bool{}
	for _, n := range dueOf(s.input(s.at("2026-11-06 08:00"))) {
		if f, ok := n.Facts.(*EndFacts); ok && n.Kind == RestOver && n.To == "Ana" {
			failed[f.Paddock] = f.Failed
		}
	}
	if want := map[string]bool{"creek": true, "hill": false}; !maps.Equal(failed, want) {
		t.Errorf("cows stood in Creek all through its rest and not in Hill: rested too little %v, want %v", failed, want)
	}
}
