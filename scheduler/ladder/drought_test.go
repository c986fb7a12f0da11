package ladder

import (
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season/shut"
)

// 2026-07-07 is a Tuesday.
func TestADroughtOverSorghumKinWithCattleInIsToldAtOnceThreeMorningsThenMondays(t *testing.T) {
	s := newStage(t)
	s.fact("2026-07-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	s.play("2026-07-01 09:00", "2026-07-07 10:00")
	s.fact("2026-07-07 10:30", diary.Fact{Kind: diary.Dry})
	got := only(s.play("2026-07-07 10:30", "2026-07-22 12:00"), "Ana wait-animals lane")
	wantLines(t, got, "07-07 10:30 Ana wait-animals lane", "07-08 06:30 Ana wait-animals lane", "07-09 06:30 Ana wait-animals lane",
		"07-10 06:30 Ana wait-animals lane", "07-13 06:30 Ana wait-animals lane", "07-20 06:30 Ana wait-animals lane")
	s.fact("2026-07-22 13:00", diary.Fact{Kind: diary.Off, Paddock: "lane"})
	wantLines(t, only(s.play("2026-07-22 13:00", "2026-07-28 12:00"), "wait-animals lane"))
}

func TestADroughtThatAManagerCheckedTheGroundInIsNotTold(t *testing.T) {
	s := newStage(t)
	s.fact("2026-07-01 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	s.play("2026-07-01 09:00", "2026-07-07 10:00")
	s.fact("2026-07-07 10:30", diary.Fact{Kind: diary.Dry})
	s.fact("2026-07-07 10:31", diary.Fact{Kind: diary.Clear, Paddock: "lane"})
	wantLines(t, only(s.play("2026-07-07 10:31", "2026-07-13 12:00"), "Ana wait-animals lane"))
	wantLines(t, only(s.play("2026-07-14 00:00", "2026-07-14 12:00"), "Ana wait-animals lane"), "07-14 06:30 Ana wait-animals lane")
	if shut.Drought.Holds() {
		t.Error("a drought is no hold")
	}
}
