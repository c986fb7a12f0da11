package ladder

import (
	"testing"

	"stubbled/scheduler/diary"
)

// The stage's frost is by hand, Oct 16 with a spread of 20 days: 1.3 spreads and ten
// days before it lies Sep 10, and a fortnight before that Aug 27.
func TestCattleWhereTheFirstFrostWillPoisonAreSpokenOfTwoWeeksBeforeIt(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*stage)
		want  []string
	}{
		{"to the manager, once", func(s *stage) { s.farm.Herds[0].Paddock = "lane" }, []string{"08-27 06:30 Ana hazard-ahead lane"}},
		{"turned in since, on the morning after", func(s *stage) {
			s.fact("2026-09-02 10:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
		}, []string{"09-03 06:30 Ana hazard-ahead lane"}},
		{"not where they left before", func(s *stage) {
			s.farm.Herds[0].Paddock = "lane"
			s.fact("2026-08-25 10:00", diary.Fact{Kind: diary.Off, Paddock: "lane"})
		}, nil},
		{"not of empty ground", func(*stage) {}, nil},
		{"not of ground without such plants", func(s *stage) { s.farm.Herds[0].Paddock, s.farm.Paddocks[2].Hazards = "lane", nil }, nil},
		{"not where something shuts it already", func(s *stage) {
			s.farm.Herds[0].Paddock = "lane"
			s.fact("2026-08-26 10:00", diary.Fact{Kind: diary.Frost})
		}, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := newStage(t)
			tc.write(s)
			wantLines(t, only(s.play("2026-08-15 00:00", "2026-09-09 12:00"), "hazard-ahead"), tc.want...)
		})
	}
}
