package ladder

import (
	"testing"

	"stubbled/scheduler/diary"
)

func TestAMoveReportedTwiceDoesNotSpeakAgain(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-01 09:00", diary.Fact{Kind: diary.On, Paddock: "hill", Herd: "cows"})
	s.play("2026-08-15 00:00", "2026-08-22 07:00")
	s.fact("2026-08-22 08:00", diary.Fact{Kind: diary.On, Paddock: "hill", Herd: "cows", By: "Luis"})
	if got := only(s.play("2026-08-22 08:00", "2026-08-23 12:00"), " hill"); len(got) > 0 {
		t.Errorf("Luis said again what Ana had said, and it says %v", got)
	}
}

func TestAHerdSeenElsewhereWithoutOffDoesNotSpeakAgain(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-05 09:00", diary.Fact{Kind: diary.On, Paddock: "hill", Herd: "cows"})
	s.play("2026-08-15 00:00", "2026-09-03 07:00")
	s.fact("2026-09-03 08:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	if got := only(s.play("2026-09-03 08:00", "2026-09-03 20:00"), " hill"); len(got) > 0 {
		t.Errorf("nobody said off, and it says again %v", got)
	}
	if got := only(s.play("2026-09-04 06:00", "2026-09-04 07:00"), "Ana overdue hill"); len(got) != 1 {
		t.Errorf("the next morning it says %v", got)
	}
}

func TestASecondHerdThatLeavesAgainDoesNotSpeakAgain(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-09-04 07:00")
	s.fact("2026-09-04 08:00", diary.Fact{Kind: diary.On, Paddock: "creek", Herd: "heifers"})
	s.play("2026-09-04 08:00", "2026-09-05 07:00")
	s.fact("2026-09-05 08:00", diary.Fact{Kind: diary.Off, Paddock: "creek", Herd: "heifers"})
	if got := only(s.play("2026-09-05 08:00", "2026-09-05 20:00"), " creek"); len(got) > 0 {
		t.Errorf("the heifers are out, and it says again %v", got)
	}
}

func TestAnOffTakenBackOnTheDayOfCutoffBringsTheRungBack(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-31 18:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	off := s.nextID
	s.play("2026-08-31 18:00", "2026-09-01 08:00") // all are told to keep it shut
	s.fact("2026-09-01 09:00", diary.Fact{Kind: diary.Void, Voids: off})
	got := s.play("2026-09-01 09:00", "2026-09-01 09:30")
	wantLines(t, only(got, "shut-today creek"),
		"09-01 09:00 Ana shut-today creek", "09-01 09:00 Ana shut-today creek mail", "09-01 09:00 Luis shut-today creek")
	wantLines(t, only(got, "taken-back"), "09-01 09:00 Luis taken-back creek")
}

func TestABrownTakenBackIsToldToWhoeverHeardThatRestWasOver(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	s.play("2026-08-28 09:00", "2026-10-20 08:00")
	s.fact("2026-10-20 09:00", diary.Fact{Kind: diary.Brown, Paddock: "creek", By: "Luis"})
	brown := s.nextID
	wantLines(t, only(s.play("2026-10-20 09:00", "2026-10-20 12:00"), "rest-over"), "10-20 09:00 Ana rest-over creek")
	s.fact("2026-10-20 13:00", diary.Fact{Kind: diary.Void, Voids: brown, By: "Luis"})
	wantLines(t, only(s.play("2026-10-20 13:00", "2026-10-20 15:00"), "taken-back"), "10-20 13:00 Ana taken-back creek")
	s.fact("2026-10-25 09:00", diary.Fact{Kind: diary.Brown, Paddock: "creek", By: "Luis"})
	wantLines(t, only(s.play("2026-10-25 09:00", "2026-10-25 12:00"), "rest-over"), "10-25 09:00 Ana rest-over creek")
}

func TestAFrostTakenBackIsToldToExactlyThoseWhoHeardOfIt(t *testing.T) {
	s := newStage(t)
	s.fact("2026-10-07 07:00", diary.Fact{Kind: diary.Frost, By: "Ana"})
	frost := s.nextID
	s.play("2026-10-07 07:00", "2026-10-07 12:00") // Ruth hears of the frost, Luis and Ana of the hold on Lane
	s.fact("2026-10-07 13:00", diary.Fact{Kind: diary.Void, Voids: frost})
	wantLines(t, only(s.play("2026-10-07 13:00", "2026-10-07 15:00"), "taken-back"),
		"10-07 13:00 Luis taken-back ", "10-07 13:00 Ruth taken-back ")
	for _, n := range dueOf(s.input(s.at("2026-10-07 14:00"))) {
		if f, ok := n.Facts.(*TakenBackFacts); ok && (len(f.Shuts) != 1 || f.Shuts[0].Paddock != "lane") {
			t.Errorf("%s is not told that Lane stays shut: %+v", n.To, f.Shuts)
		}
	}
}

func TestANodToNothingDoesNotStopTheRepeat(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-30 08:00")
	s.fact("2026-08-30 08:05", diary.Fact{Kind: diary.Ack, By: "Ruth"})
	if got := only(s.play("2026-08-30 08:05", "2026-08-30 20:00"), "creek again"); len(got) != 2 {
		t.Errorf("repeated to %v", got)
	}
}

func TestAnAnswerStopsTheRepeatAlsoForWhoeverWasToldLater(t *testing.T) {
	s := newStage(t)
	s.people[1].QuietHours = QuietHours{20 * 60, 8 * 60} // Luis hears at 08:00
	s.play("2026-08-15 00:00", "2026-08-30 07:00")
	s.fact("2026-08-30 07:10", diary.Fact{Kind: diary.Ack, Paddock: "creek"})
	got := only(s.play("2026-08-30 07:10", "2026-08-30 20:00"), " creek")
	wantLines(t, got, "08-30 08:00 Luis move-plan creek")
}

func TestARungThatGoesByMailAloneIsRepeatedToo(t *testing.T) {
	s := newStage(t)
	s.people[1].Phone, s.people[1].Email = "", "luis@example.org"
	got := only(s.play("2026-08-30 00:00", "2026-08-30 20:00"), "Luis", " creek")
	wantLines(t, got, "08-30 06:30 Luis move-plan creek mail", "08-30 10:30 Luis move-plan creek again mail")
}

func TestLaterDuringTheMorningsComesBackTheSameDay(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-09-03 07:00")
	s.fact("2026-09-03 08:00", diary.Fact{Kind: diary.Later, Paddock: "creek", Wait: 2 * hour})
	got := only(s.play("2026-09-03 08:00", "2026-09-03 20:00"), " creek")
	wantLines(t, got, "09-03 10:00 Ana overdue creek")
}

func TestLaterAfterTheFirstMorningTellsTheNextWhoHasNotHeard(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-09-02 07:00") // Ruth was added on Sep 2
	s.fact("2026-09-02 08:00", diary.Fact{Kind: diary.Later, Paddock: "creek"})
	got := only(s.play("2026-09-02 08:00", "2026-09-02 20:00"), " creek")
	wantLines(t, got, "09-02 08:00 Cole overdue creek")
	if next := only(s.play("2026-09-03 06:00", "2026-09-03 07:00"), "Cole overdue creek"); len(next) != 1 {
		t.Errorf("the next morning Cole hears %v", next)
	}
}

func TestAMovedCutoffIsToldToWhoeverHeardOfItInThePlanOfTheFall(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-01 00:00", "2026-08-03 12:00") // the fall ahead, Aug 2
	s.farm.Paddocks[0].Rule.RestDays = 35          // now Sep 11
	wantLines(t, only(s.play("2026-08-04 09:00", "2026-08-04 10:00"), "cutoff-moved"),
		"08-04 09:00 Ana cutoff-moved creek", "08-04 09:00 Ruth cutoff-moved creek")
}

func TestACutoffMovedIntoThePastOfAnEmptyPaddockIsTold(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-25 12:00") // keep Hill shut from Sep 1
	s.farm.Paddocks[1].Rule.RestDays = 60          // Aug 17
	wantLines(t, only(s.play("2026-08-26 09:00", "2026-08-26 10:00"), " hill"),
		"08-26 09:00 Ana cutoff-moved hill", "08-26 09:00 Ruth cutoff-moved hill")
}

func TestANativePaddockThatGoesBackEarlyCountsToThatDay(t *testing.T) {
	s := newStage(t)
	s.farm.Paddocks[0].OutBy.Month, s.farm.Paddocks[0].OutBy.Day = 8, 20 // the frost less 45 days is Sep 1
	wantLines(t, only(s.play("2026-08-05 00:00", "2026-08-21 12:00"), "Ana", " creek"),
		"08-10 06:30 Ana heads-up creek", "08-15 06:30 Ana last-look creek", "08-18 06:30 Ana move-plan creek",
		"08-18 10:30 Ana move-plan creek again", "08-20 06:30 Ana shut-today creek", "08-20 06:30 Ana shut-today creek mail",
		"08-20 10:30 Ana shut-today creek again", "08-21 06:30 Ana overdue creek")
}

func TestOfTwoHerdsBothMustBeOff(t *testing.T) {
	s := newStage(t)
	heifers := s.farm.Herds[0]
	heifers.ID = "heifers"
	s.farm.Herds = append(s.farm.Herds, heifers)
	s.play("2026-08-15 00:00", "2026-09-02 12:00")
	s.fact("2026-09-02 13:00", diary.Fact{Kind: diary.Off, Paddock: "creek", Herd: "cows"})
	if got := only(s.play("2026-09-03 06:00", "2026-09-03 07:00"), "Ana overdue creek"); len(got) != 1 {
		t.Errorf("the heifers are still in, and it says %v", got)
	}
	s.fact("2026-09-03 13:00", diary.Fact{Kind: diary.Off, Paddock: "creek", Herd: "heifers"})
	if got := only(s.play("2026-09-03 13:00", "2026-09-09 12:00"), "overdue creek"); len(got) > 0 {
		t.Errorf("both are off, and it says %v", got)
	}
}
