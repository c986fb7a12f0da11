package ladder

import (
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

func TestWhereOneSaysFrostAndAnotherNoFrostBothHearThatTheStricterCounts(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*stage)
		want  []string
	}{
		{"of one night", func(s *stage) {
			s.fact("2026-09-12 07:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
			s.fact("2026-09-12 08:00", diary.Fact{Kind: diary.NoFrost, By: "Ana"})
		}, []string{"09-12 08:00 Ana frost-disputed ", "09-12 08:00 Luis frost-disputed "}},
		{"though no frost came first, and the frost was last night's", func(s *stage) {
			s.fact("2026-09-12 07:00", diary.Fact{Kind: diary.NoFrost, By: "Ruth"})
			s.fact("2026-09-12 09:00", diary.Fact{Kind: diary.Frost, By: "Luis", Day: civil.Date{Year: 2026, Month: 9, Day: 11}})
		}, []string{"09-12 09:00 Ana frost-disputed ", "09-12 09:00 Luis frost-disputed ", "09-12 09:00 Ruth frost-disputed "}},
		{"of another night nobody is contradicted", func(s *stage) {
			s.fact("2026-09-12 07:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
			s.fact("2026-09-13 08:00", diary.Fact{Kind: diary.NoFrost, By: "Ana"})
		}, nil},
		{"nor where one person puts it right", func(s *stage) {
			s.fact("2026-09-12 07:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
			s.fact("2026-09-12 08:00", diary.Fact{Kind: diary.NoFrost, By: "Luis"})
		}, nil},
		{"nor by what is said of other ground", func(s *stage) {
			s.fact("2026-09-12 07:00", diary.Fact{Kind: diary.Frost, By: "Luis", Paddock: "lane"})
			s.fact("2026-09-12 08:00", diary.Fact{Kind: diary.NoFrost, By: "Ana", Paddock: "creek"})
		}, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := newStage(t)
			tc.write(s)
			wantLines(t, only(s.play("2026-09-12 06:00", "2026-09-13 12:00"), "frost-disputed"), tc.want...)
		})
	}
}

// Who heard that the stricter word counts hears that it was taken back.
func TestAFrostThatWasDisputedAndTakenBackIsToldToWhoeverHeardOfTheDispute(t *testing.T) {
	s := newStage(t)
	s.fact("2026-07-12 07:00", diary.Fact{Kind: diary.NoFrost, By: "Ruth"})
	s.fact("2026-07-12 08:00", diary.Fact{Kind: diary.Frost, By: "Luis"})
	frost := s.nextID
	wantLines(t, only(s.play("2026-07-12 06:00", "2026-07-12 09:30"), "Ruth frost-disputed"), "07-12 08:00 Ruth frost-disputed ")
	s.fact("2026-07-12 10:00", diary.Fact{Kind: diary.Void, Voids: frost, By: "Luis"})
	wantLines(t, only(s.play("2026-07-12 10:00", "2026-07-13 12:00"), "Ruth taken-back"), "07-12 10:00 Ruth taken-back ")
}
