package ladder

import (
	"slices"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// used is a stage on which Hill is in this year's fall use and grazed by cows
// from a day on.
func used(t *testing.T, on string) *stage {
	s := newStage(t)
	s.farm.FallUse = []season.FallUse{{Year: 2026, Paddock: "hill"}}
	s.fact(on, diary.Fact{Kind: diary.On, Paddock: "hill", Herd: "cows"})
	return s
}

func TestAPaddockInFallUseHasNoRungs(t *testing.T) {
	s := used(t, "2026-08-01 09:00")
	wantLines(t, only(s.play("2026-08-15 00:00", "2026-10-02 12:00"), " hill"),
		"09-01 06:30 Ana fall-use-starts hill", "09-11 06:30 Ana fall-use-ask hill",
		"09-21 06:30 Ana fall-use-ask hill", "10-01 06:30 Ana fall-use-ask hill")
}

func TestAFallUseThatIsEmptyIsNotAskedAbout(t *testing.T) {
	s := used(t, "2026-08-01 09:00")
	s.fact("2026-09-05 09:00", diary.Fact{Kind: diary.Off, Paddock: "hill"})
	if got := only(s.play("2026-09-05 09:00", "2026-10-02 12:00"), "fall-use-ask"); len(got) > 0 {
		t.Errorf("asked about an empty paddock: %v", got)
	}
}

func TestTheDaysOfAFallUseBeginWhenTheAnimalsComeIn(t *testing.T) {
	out := func(on string) string {
		s := used(t, on)
		s.fact("2026-09-02 08:00", diary.Fact{Kind: diary.Reading, Paddock: "hill", Heights: []float64{14, 14, 14, 14, 14, 14, 14, 14, 14, 14}})
		got := only(s.play("2026-09-13 00:00", "2026-10-14 12:00"), "Ana fall-use-out hill")
		if len(got) == 0 {
			t.Fatalf("in since %s, and its days never run out", on)
		}
		return got[0][:5]
	}
	before, later := out("2026-09-01 09:00"), out("2026-09-12 09:00")
	if before >= later {
		t.Errorf("in on Sep 1 its days run out on %s, in on Sep 12 on %s", before, later)
	}
}

// readHill has ten plants of Hill read at one height.
func (s *stage) readHill(at string, inches float64) {
	s.fact(at, diary.Fact{Kind: diary.Reading, Paddock: "hill", Heights: slices.Repeat([]float64{inches}, 10)})
}

func TestAFallUseIsNotToldToStayAndToComeOffInOneMinute(t *testing.T) {
	stay, off := 0, 0
	for inches := 6.0; inches <= 20; inches += 0.25 {
		s := used(t, "2026-08-01 09:00")
		s.readHill("2026-09-12 08:00", inches)
		in := s.input(s.at("2026-09-12 08:01"))
		if in.Views[1].Verdict.Say == season.Go {
			stay++
		} else {
			off++
		}
		for _, n := range dueOf(in) {
			if n.Kind == FallUseOut && n.To == "Ana" {
				t.Errorf("%v in, which Ana read: the answer says %s, and a minute later she is told to take them off", inches, in.Views[1].Verdict.Say)
			}
		}
	}
	if stay == 0 || off == 0 {
		t.Errorf("of all heights %d stay and %d come off", stay, off)
	}
}

func TestAFallUseThatHasRunOutIsSaidTwiceAWeekUntilTheyAreOff(t *testing.T) {
	s := used(t, "2026-08-01 09:00")
	s.readHill("2026-09-12 08:00", 7)
	var days []string
	for _, l := range only(s.play("2026-09-12 09:00", "2026-09-25 12:00"), "Ana fall-use", " hill") {
		days = append(days, l[:5])
	}
	if want := []string{"09-13", "09-14", "09-17", "09-21", "09-24"}; !slices.Equal(days, want) {
		t.Errorf("told on %v, want the day after, then Mondays and Thursdays, %v", days, want)
	}
	s.fact("2026-09-25 13:00", diary.Fact{Kind: diary.Off, Paddock: "hill"})
	if got := only(s.play("2026-09-25 14:00", "2026-10-05 12:00"), "fall-use-out"); len(got) > 0 {
		t.Errorf("they are off, and still: %v", got)
	}
}

func TestUnderAHoldAFallUseIsNotAskedAbout(t *testing.T) {
	s := used(t, "2026-08-01 09:00")
	s.farm.Paddocks[1].Hazards = s.farm.Paddocks[2].Hazards
	s.froze("2026-09-29 08:00", "2026-09-29", diary.FromThermometer, 35)
	if got := only(s.play("2026-09-30 00:00", "2026-10-05 12:00"), "fall-use"); len(got) > 0 {
		t.Errorf("sent to walk a paddock under a hold: %v", got)
	}
}

func TestAFrostDateThatIsPastIsNotKept(t *testing.T) {
	s := used(t, "2026-08-01 09:00")
	for _, n := range dueOf(s.input(s.at("2026-10-21 09:00"))) {
		if n.Kind == FallUseAsk && !OnPaddock(n.Facts).Frost.IsZero() {
			t.Errorf("on Oct 21 it says to keep the height for the frost of %s", OnPaddock(n.Facts).Frost)
		}
	}
}

func TestTheMondayMailSpeaksOfFeedWhileItCanHelp(t *testing.T) {
	for _, tc := range []struct {
		monday string
		want   bool
	}{{"2026-06-01", false}, {"2026-07-06", true}, {"2026-10-05", true}, {"2026-11-02", false}, {"2026-12-07", false}} {
		s := newStage(t)
		in := s.input(s.at(tc.monday + " 09:00"))
		year := 2026
		if tc.monday > "2026-10-25" {
			year = 2027 // the next fall is reckoned by then
		}
		in.Feed = func() *Feed {
			return &Feed{From: civil.Date{Year: year, Month: 6, Day: 26}, To: civil.Date{Year: year, Month: 10, Day: 25}, ShortDays: 9}
		}
		due := dueOf(in)
		i := slices.IndexFunc(due, func(n Notice) bool { return n.Kind == MondayMail })
		if i < 0 {
			t.Fatalf("no mail on %s", tc.monday)
		}
		if got := due[i].Facts.(*FarmFacts).Feed != nil; got != tc.want {
			t.Errorf("on %s the mail speaks of feed: %v", tc.monday, got)
		}
	}
}

func TestGroundThatWentBackNeedsNothing(t *testing.T) {
	s := newStage(t)
	s.farm.Paddocks[2].OutBy = season.MonthDay{Month: 11, Day: 15}
	in := s.input(s.at("2026-12-21 09:00"))
	if got := Line(&in.Views[2], in.Views[2].Today).Wants; got != "nothing" {
		t.Errorf("five weeks after it was given back it wants %q", got)
	}
}

// A fall use that has run out is said on the day, from the next one on to who read it
// and has it from the answer, and again on Mondays and Thursdays until they are off.
func TestAFallUseThatHasRunOutIsSaidUntilTheyAreOff(t *testing.T) {
	s := used(t, "2026-09-01 09:00")
	s.fact("2026-09-05 08:00", diary.Fact{Kind: diary.Reading, By: "Ana", Paddock: "hill", Heights: []float64{9, 9, 9, 9, 9, 9, 9, 9, 9, 9}})
	s.fact("2026-09-14 06:00", diary.Fact{Kind: diary.Off, Paddock: "hill", Herd: "cows"})
	wantLines(t, only(s.play("2026-09-05 09:00", "2026-09-20 12:00"), "fall-use-out"),
		"09-06 06:30 Ana fall-use-out hill", "09-07 06:30 Ana fall-use-out hill", "09-10 06:30 Ana fall-use-out hill")
}
