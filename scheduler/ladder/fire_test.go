package ladder

import (
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season/shut"
)

// onLane is a stage whose cows stand on the johnsongrass of the lane when a person
// tells of a frost.
func onLane(t *testing.T, frost string) *stage {
	s := newStage(t)
	s.fact("2026-10-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	s.play("2026-10-01 09:00", frost)
	s.fact(frost, diary.Fact{Kind: diary.Frost, By: "Luis"})
	return s
}

func TestAHoldWithCattleInIsSaidEveryFourHoursOfTheDayThenThreeTimes(t *testing.T) {
	s := onLane(t, "2026-10-07 07:00")
	var at []string
	for _, l := range only(s.play("2026-10-07 07:00", "2026-10-10 23:00"), "Ana hold-animals lane") {
		at = append(at, l[:11])
	}
	wantLines(t, at, "10-07 07:00", "10-07 11:00", "10-07 15:00", "10-07 19:00",
		"10-08 06:00", "10-08 10:00", "10-08 14:00", "10-08 18:00", "10-09 06:00", "10-09 10:00", "10-09 14:00", "10-09 18:00",
		"10-10 06:30", "10-10 12:30", "10-10 18:30")
}

func TestAFrostToldLateInTheEveningIsSaidAtOnceAndAgainAtSix(t *testing.T) {
	s := onLane(t, "2026-10-07 22:30")
	got := only(s.play("2026-10-07 22:30", "2026-10-08 09:00"), "Ana hold-animals lane") // her quiet hours begin at 21:00
	wantLines(t, got, "10-07 22:30 Ana hold-animals lane", "10-08 06:00 Ana hold-animals lane")
}

func TestFirstManagersAndHelpersHearOfCattleOnAHoldThenEverybody(t *testing.T) {
	s := onLane(t, "2026-10-07 07:00")
	who := func(from, to string) []string {
		var names []string
		for _, l := range only(s.play(from, to), "hold-animals lane") {
			names = append(names, strings.Fields(l)[2])
		}
		return names
	}
	wantLines(t, who("2026-10-07 07:00", "2026-10-07 07:30"), "Ana", "Luis")
	wantLines(t, who("2026-10-07 11:00", "2026-10-07 11:30"), "Ana", "Luis", "Ruth", "Cole")
	s.fact("2026-10-07 12:00", diary.Fact{Kind: diary.Ack, Paddock: "lane", By: "Cole"})
	wantLines(t, who("2026-10-07 12:00", "2026-10-07 20:00"), "Ana", "Cole", "Ana", "Cole")
	wantLines(t, who("2026-10-08 06:00", "2026-10-08 06:10"), "Ana", "Luis", "Ruth", "Cole") // the others each morning
	s.fact("2026-10-08 08:00", diary.Fact{Kind: diary.Later, Paddock: "lane", Wait: 48 * time.Hour})
	wantLines(t, who("2026-10-08 08:00", "2026-10-08 12:00"), "Ana", "Cole") // it cannot be put off
	s.fact("2026-10-08 13:00", diary.Fact{Kind: diary.Off, Paddock: "lane"})
	wantLines(t, who("2026-10-08 13:00", "2026-10-09 12:00"))
	s.fact("2026-10-09 13:00", diary.Fact{Kind: diary.Void, Voids: s.nextID}) // it was wrong
	if got := who("2026-10-09 13:00", "2026-10-09 13:30"); !slices.Contains(got, "Ana") {
		t.Errorf("the `off` was taken back, and %v hear of it", got)
	}
}

func TestWhereNoManagerCanBeReachedEverybodyHearsOfCattleOnAHold(t *testing.T) {
	s := newStage(t)
	s.shun["+15555550142"], s.shun["ana@example.org"] = true, true
	s.fact("2026-10-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	s.fact("2026-10-07 07:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
	if got := only(s.play("2026-10-07 07:00", "2026-10-07 07:30"), "Ruth hold-animals lane"); len(got) != 1 {
		t.Errorf("the owner hears %v", got)
	}
}

func TestTheManagerHearsWhenAHelperTurnsCattleIntoAHeldPaddock(t *testing.T) {
	s := newStage(t)
	s.froze("2026-10-05 08:00", "2026-10-05", diary.FromThermometer, 31)
	wantLines(t, only(s.play("2026-10-05 08:00", "2026-10-08 14:00"), "Ana hold"), "10-05 08:00 Ana hold-begins lane")
	s.fact("2026-10-08 15:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows", By: "Luis"})
	if got := only(s.play("2026-10-08 15:00", "2026-10-08 15:30"), "Ana hold-animals lane"); len(got) != 1 {
		t.Errorf("Ana hears %v", got)
	}
}

func TestWhereTheFarmHasNoHerdOnFileItIsAskedThatEveningAndThreeMornings(t *testing.T) {
	s := newStage(t)
	s.farm.Herds = nil
	s.fact("2026-10-07 07:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
	wantLines(t, only(s.play("2026-10-07 07:00", "2026-10-14 23:00"), "Ana hold"), "10-07 07:00 Ana hold-unsure lane", "10-07 18:30 Ana hold-unsure lane",
		"10-08 06:30 Ana hold-unsure lane", "10-09 06:30 Ana hold-unsure lane", "10-10 06:30 Ana hold-unsure lane")
}

func TestAHoldWithCattleInThatNobodyAnswersIsCalledWhereTheFarmHasCalls(t *testing.T) {
	s := onLane(t, "2026-10-07 07:00")
	s.play("2026-10-07 07:00", "2026-10-07 14:00")
	in := s.input(s.at("2026-10-07 15:00"))
	in.Calls = true
	called := func(alarms ...Trouble) int {
		in.Alarms = alarms
		n := 0
		for _, notice := range dueOf(in) {
			if notice.Kind == HoldAnimals && notice.Medium == Call {
				n++
			}
		}
		return n
	}
	if n := called(); n != 4 {
		t.Errorf("%d are called eight hours after it began, want all four", n)
	}
	if n := called(Trouble{What: "call", Medium: Call}); n != 0 {
		t.Errorf("the carrier of calls fails, and %d are called and not told by text", n)
	}
}

func TestAFarmWithoutWeatherIsAskedWhetherItFroze(t *testing.T) {
	s := newStage(t)
	s.air = nil
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	got := only(s.play("2026-09-01 00:00", "2026-10-20 12:00"), "Ana frost-ask")
	wantLines(t, got, "09-10 06:30 Ana frost-ask ", "09-17 06:30 Ana frost-ask ", "09-24 06:30 Ana frost-ask ", "10-01 06:30 Ana frost-ask ",
		"10-08 06:30 Ana frost-ask ", "10-15 06:30 Ana frost-ask ", "10-16 06:30 Ana frost-ask ") // weekly, and the planned date itself
	s.fact("2026-10-21 09:00", diary.Fact{Kind: diary.NoFrost})
	got = only(s.play("2026-10-21 09:00", "2026-11-05 12:00"), "Ana frost-ask")
	wantLines(t, got, "10-27 06:30 Ana frost-ask ", "11-03 06:30 Ana frost-ask ") // on the sixth day after the last word
	if got = only(s.play("2027-01-02 00:00", "2027-01-15 12:00"), "frost-ask"); len(got) != 3 {
		t.Errorf("in January the lane's johnsongrass still waits: %v", got)
	}
}

// Who is told to take animals off until somebody says whether it froze is asked so by
// that text, and not by a second one of the same week; what is asked of the tops stays.
func TestWhetherItFrozeIsAskedOnceWhereAnimalsWait(t *testing.T) {
	s := newStage(t)
	s.air = nil
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	s.fact("2026-08-28 09:05", diary.Fact{Kind: diary.On, Paddock: "lane"})
	got := s.play("2026-09-09 00:00", "2026-10-20 12:00")
	if waits := only(got, "Ana wait-animals"); len(waits) < 5 {
		t.Errorf("cattle stand in Lane, and nobody knows of frost: %v", waits)
	}
	wantLines(t, only(got, "Ana frost-ask"), "10-16 06:30 Ana frost-ask ") // are the tops brown
}

// What froze hard stays held for as long as a later frost could hold it: nothing hangs on
// the answer any more. Before the tops are brown everything does.
func TestNobodyIsAskedOfFrostOnceTheTopsAreBrownAndTheHoldOutlastsTheDoubt(t *testing.T) {
	s := newStage(t)
	s.air = nil
	s.farm.Paddocks = s.farm.Paddocks[:1]
	s.farm.Paddocks[0].Hazards = newStage(t).farm.Paddocks[2].Hazards
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	if got := only(s.play("2026-10-11 00:00", "2026-10-24 12:00"), "Ana frost-ask"); len(got) == 0 {
		t.Error("nobody knows whether it froze, and nobody is asked")
	}
	s.fact("2026-10-24 13:00", diary.Fact{Kind: diary.Frost})
	s.fact("2026-10-24 13:00", diary.Fact{Kind: diary.Brown})
	if got := only(s.play("2026-10-24 13:00", "2026-11-20 12:00"), "frost-ask"); len(got) > 0 {
		t.Errorf("the tops are brown and the ground is held for two weeks, and it asks %v", got)
	}
}

func TestAFarmWithAThermometerIsNotAskedWhetherItFroze(t *testing.T) {
	if got := only(newStage(t).play("2026-09-01 00:00", "2026-11-20 12:00"), "frost-ask"); len(got) > 0 {
		t.Errorf("%v", got)
	}
}

func TestAKillingFreezeThatCameTooSoonIsAskedAboutThatMorningAndWeekly(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	s.play("2026-09-10 00:00", "2026-09-12 23:00")
	s.froze("2026-09-13 06:00", "2026-09-12", diary.FromThermometer, 27)
	wantLines(t, only(s.play("2026-09-13 06:00", "2026-09-21 12:00"), "Ana frost-ask"), "09-13 06:30 Ana frost-ask ", "09-20 06:30 Ana frost-ask ")
	s.fact("2026-09-22 09:00", diary.Fact{Kind: diary.Brown})
	if got := only(s.play("2026-09-22 09:00", "2026-10-09 12:00"), "frost-ask"); len(got) > 0 {
		t.Errorf("the tops are brown, and it asks %v", got)
	}
}

// Who was told of a last day turns animals in the day after: what shuts the ground still
// is said that morning, in place of that the hold is over.
func TestTheMorningAfterAHoldWhatShutsTheGroundStillIsSaid(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*stage)
		kind  Kind
		wait  shut.Why
	}{
		{"nobody knows whether it froze since", func(s *stage) { s.air = nil }, StillShut, shut.NotKnown},
		{"an emergency that nobody cleared", func(s *stage) {
			s.fact("2026-09-30 08:00", diary.Fact{Kind: diary.Emergency, Paddock: "lane", By: "Luis"})
		}, StillShut, shut.Emergency},
		{"nothing else: the hold is over", func(*stage) {}, HoldOver, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := newStage(t)
			tc.write(s)
			s.play("2026-09-30 09:00", "2026-10-01 08:00")
			s.fact("2026-10-01 08:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
			s.play("2026-10-01 08:00", "2026-10-16 06:00")
			due := dueOf(s.input(s.at("2026-10-16 06:30")))
			i := slices.IndexFunc(due, func(n Notice) bool { return n.Kind == tc.kind && n.To == "Ana" && n.Key.Of == "lane" })
			if i < 0 {
				t.Fatalf("the last day of Lane is past, and Ana hears nothing: %v", due)
			}
			var why shut.Why
			if w := due[i].Facts.(*PaddockFacts).Wait; w != nil {
				why = w.Why
			}
			if why != tc.wait {
				t.Errorf("%q shuts it still, want %q", why, tc.wait)
			}
			if got := only(s.play("2026-10-16 06:00", "2026-10-20 12:00"), "Ana "+string(tc.kind)+" lane"); len(got) != 1 {
				t.Errorf("it is said %v", got)
			}
		})
	}
}
