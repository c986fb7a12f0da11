package season

import (
	"testing"

	"stubbled/scheduler/diary"
)

// asks writes down that somebody was asked whether a fact of a kind is so.
func (p *play) asks(on string, kind diary.Kind, paddock, plant string) int64 {
	return p.write(diary.Fact{Day: day(on), Kind: kind.Asked(), Paddock: paddock, Plant: plant, By: "Luis"})
}

// A letter that would shut ground holds back GO there from the moment that it is
// offered, and on no other ground.
func TestWhatSomebodyWasAskedHoldsBackGOWhereItsLetterWould(t *testing.T) {
	for _, tc := range []struct {
		name, today string
		asks        func(p *play)
		lane, hill  Say
	}{
		{"frost, wherever it was asked of", "2026-07-05", func(p *play) { p.asks("2026-07-05", diary.Frost, "", "") }, Wait, Go},
		{"frost in winter, on plants that are dead", "2026-03-05", func(p *play) {
			p.freeze("2025-10-26", 26)
			p.tells("2025-11-01", diary.Brown, "")
			p.asks("2026-03-05", diary.Frost, "", "")
		}, Go, Wait},
		{"new shoots on the lane", "2026-07-05", func(p *play) { p.asks("2026-07-05", diary.Regrowth, "lane", "") }, Wait, Go},
		{"new shoots somewhere", "2026-07-05", func(p *play) { p.asks("2026-07-05", diary.Regrowth, "", "") }, Wait, Go},
		{"cherry on the hill", "2026-07-05", func(p *play) { p.asks("2026-07-05", diary.Danger, "hill", "") }, Go, Wait},
		{"an animal in trouble on the hill", "2026-07-05", func(p *play) { p.asks("2026-07-05", diary.Emergency, "hill", "") }, Go, Wait},
		{"a drought", "2026-07-05", func(p *play) { p.asks("2026-07-05", diary.Dry, "", "") }, Wait, Go},
		{"a plant that no frost of the last days turned", "2026-07-05", func(p *play) { p.asks("2026-07-05", diary.Plant, "hill", "johnsongrass") }, Go, Go},
		{"a plant that a frost of the last days would have turned", "2026-06-05", func(p *play) {
			p.freeze("2026-06-01", 31)
			p.tells("2026-06-02", diary.Clear, "lane")
			p.asks("2026-06-05", diary.Plant, "hill", "johnsongrass")
		}, Go, Wait},
		{"frost, asked a week ago", "2026-07-12", func(p *play) { p.asks("2026-07-05", diary.Frost, "", "") }, Wait, Go},
		{"frost, asked longer ago than a word of the nights is good", "2026-07-13", func(p *play) { p.asks("2026-07-05", diary.Frost, "", "") }, Go, Go},
		{"frost, and the manager has checked the ground since", "2026-07-06", func(p *play) {
			p.asks("2026-07-05", diary.Frost, "", "")
			p.tells("2026-07-06", diary.Clear, "lane")
		}, Go, Go},
		{"frost, and it was answered", "2026-07-05", func(p *play) { p.takesBack(p.asks("2026-07-05", diary.Frost, "", "")) }, Go, Go},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.asks(p)
			p.reads(tc.today, "lane", plants(20, 12)...)
			p.reads(tc.today, "hill", plants(20, 16)...)
			for paddock, want := range map[string]Say{"lane": tc.lane, "hill": tc.hill} {
				if paddock == "hill" && tc.today < "2026-04-01" {
					continue
				}
				v := p.view(tc.today, paddock)
				if v.Verdict.Say != want || (want == Wait) != v.Perilous() {
					t.Errorf("%s: %s (%s), no place to send a herd: %v; want %s", paddock, v.Verdict.Say, v.Verdict.Reason, v.Perilous(), want)
				}
				if want == Wait && (!v.Verdict.Reason.Asked() || v.Verdict.Who != "Luis" || v.Verdict.Action != KeepShut) {
					t.Errorf("%s: %+v, want it to name who was asked", paddock, v.Verdict)
				}
			}
		})
	}
}

// A record of the night is the answer where one is kept.
func TestARecordOfTheNightAnswersWhetherItFroze(t *testing.T) {
	p := watched(t)
	p.asks("2026-07-05", diary.Frost, "", "")
	p.reads("2026-07-05", "lane", plants(20, 12)...)
	if v := p.view("2026-07-05", "lane"); v.Verdict.Say != Wait {
		t.Errorf("the day that it was asked: %s, want WAIT", v.Verdict.Say)
	}
	if v := p.view("2026-07-06", "lane"); v.Verdict.Say != Go {
		t.Errorf("the day after, with its night on record: %s (%s), want GO", v.Verdict.Say, v.Verdict.Reason)
	}
}
