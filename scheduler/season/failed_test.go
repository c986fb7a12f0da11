package season

import (
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// Creek leaves 8 in and wants 18: its rest fails under 8 + 10 / 4 = 10.5 in, or
// under 30 days (assumption).
func TestARestThatCameToTooLittleIsLeftForSpring(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		waits bool
	}{
		{"nineteen days of rest", func(p *play) {
			p.moves("2026-08-01", diary.On, "creek", "cows")
			p.moves("2026-10-15", diary.Off, "creek", "cows")
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-05", "creek", plants(20, 16)...)
		}, true},
		{"thirty days of it", func(p *play) {
			p.moves("2026-08-01", diary.On, "creek", "cows")
			p.moves("2026-10-04", diary.Off, "creek", "cows")
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-05", "creek", plants(20, 16)...)
		}, false},
		{"cattle that never left", func(p *play) {
			p.moves("2026-08-01", diary.On, "creek", "cows")
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-05", "creek", plants(20, 16)...)
		}, true},
		{"under a quarter of the growth that was wanted", func(p *play) {
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-05", "creek", plants(20, 10.4)...)
		}, true},
		{"a quarter of it", func(p *play) {
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-05", "creek", plants(20, 10.5)...)
		}, false},
		{"an unknown height fails nothing", func(p *play) {
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-20", "creek", plants(20, 12)...)
		}, false},
		{"a full rest and a killing freeze are ordinary ground", func(p *play) {
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-05", "creek", plants(20, 18)...)
		}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			v := p.view("2026-11-21", "creek")
			if waits := v.Verdict.Reason == RestFailed; waits != tc.waits || v.Phase != Dormant {
				t.Errorf("%s: %s (%s), %s", v.Phase, v.Verdict.Say, v.Verdict.Reason, v.Finished.Failed)
			}
		})
	}
}

func TestGroundWithoutARestToFailIsJudgedByItsHeightAlone(t *testing.T) {
	shut, early := day("2026-09-01"), day("2026-08-28")
	for _, tc := range []struct {
		name  string
		f     Finished
		used  bool
		fails bool
	}{
		{"frost beat the cutoff, with cattle in", Finished{Cutoff: shut, RestEnd: early, Grazed: true, End: 12}, false, false},
		{"the same, and short", Finished{Cutoff: shut, RestEnd: early, Grazed: true, End: 9}, false, true},
		{"grazed on purpose, and tall", Finished{Cutoff: shut, RestEnd: shut.AddDays(60), Grazed: true, End: 18}, true, false},
		{"grazed by accident, and tall", Finished{Cutoff: shut, RestEnd: shut.AddDays(60), Grazed: true, End: 18}, false, true},
	} {
		if got := tc.f.failed(tallRule, true, tc.used) != ""; got != tc.fails {
			t.Errorf("%s: failed %v", tc.name, got)
		}
	}
}

func TestAfterAFailedRestSpringBeginsLaterAndTheFallIsNotUsed(t *testing.T) {
	p := newPlay(t)
	p.farm.Paddocks[1].Acres = 20
	p.freeze("2026-11-03", 27)
	p.reads("2026-11-05", "creek", plants(20, 9)...)
	p.reads("2026-11-05", "hill", plants(20, 18)...)
	p.reads("2027-05-10", "creek", plants(20, 16)...)
	p.reads("2027-05-10", "hill", plants(20, 16)...)
	if v := p.view("2027-05-10", "hill").Verdict; v.Say != Go {
		t.Errorf("hill: %s (%s) at 16 in, and 14 are enough after a good rest", v.Say, v.Reason)
	}
	if v := p.view("2027-05-10", "creek").Verdict; v.Reason != NotReady || v.Floor != 18 {
		t.Errorf("creek: %s (%s) at 16 in, from %g: 14 + 4 are wanted", v.Say, v.Reason, v.Floor)
	}
	p.reads("2027-05-16", "creek", plants(20, 18)...)
	if v := p.view("2027-05-16", "creek").Verdict; v.Say != Go {
		t.Errorf("creek: %s (%s) at 18 in", v.Say, v.Reason)
	}
	for _, offer := range Uses(p.sight("2027-05-16")) {
		if offer.ID == "creek" {
			t.Error("creek is offered for fall use the fall after its rest failed")
		}
	}
	p.moves("2027-05-17", diary.On, "creek", "cows")
	p.moves("2027-05-20", diary.Off, "creek", "cows")
	p.reads("2027-06-20", "creek", plants(20, 15)...)
	if v := p.view("2027-06-20", "creek").Verdict; v.Say != Go {
		t.Errorf("creek: %s (%s): after its first grazing it begins like any other", v.Say, v.Reason)
	}
}

func TestPureIndiangrassIsNotBegunWhileItIsPoisonous(t *testing.T) {
	for name, begins := range map[string]bool{"indiangrass": false, "mixed natives": true, "big bluestem": true} {
		p := newPlay(t)
		p.paddock("creek").Grass = species(t, name)
		p.reads("2026-05-20", "creek", plants(20, 15)...)
		if v := p.view("2026-05-20", "creek").Verdict; (v.Say == Go) != begins {
			t.Errorf("%s at 15 in: %s (%s)", name, v.Say, v.Reason)
		}
	}
}

func TestADroughtEndsByWordOrByEnoughRain(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		dry   bool
		ended string
	}{
		{"it lasts until somebody says otherwise", func(*play) {}, true, ""},
		{"the manager ends it", func(p *play) { p.tells("2026-08-10", diary.DryOver, "") }, false, "2026-08-10"},
		{"an inch and a half within 14 days", func(p *play) { p.rains("2026-08-03", 0.8, "Ana"); p.rains("2026-08-16", 0.7, "Ana") }, false, "2026-08-16"},
		{"the same over 15 days does not", func(p *play) { p.rains("2026-08-03", 0.8, "Ana"); p.rains("2026-08-17", 0.7, "Ana") }, true, ""},
		{"1.4 in do not", func(p *play) { p.rains("2026-08-03", 1.4, "Ana") }, true, ""},
		{"two who tell of the same rain are one rain", func(p *play) { p.rains("2026-08-03", 0.8, "Ana"); p.rains("2026-08-03", 0.8, "Luis") }, true, ""},
		{"rain of before the drought does not", func(p *play) { p.rains("2026-07-30", 2, "Ana") }, true, ""},
		{"rain that nobody measured does not", func(p *play) { p.rains("2026-08-03", 0, "Ana") }, true, ""},
		{"what was taken back never fell", func(p *play) { p.takesBack(p.rains("2026-08-03", 2, "Ana")) }, true, ""},
		{"the manager's word after rain on record: its poison is waited out from the later day", func(p *play) {
			p.rains("2026-08-03", 1.6, "Ana")
			p.tells("2026-08-18", diary.DryOver, "")
		}, false, "2026-08-18"},
		{"a second drought is a drought", func(p *play) {
			p.tells("2026-08-10", diary.DryOver, "")
			p.tells("2026-08-15", diary.Dry, "")
		}, true, ""},
		{"rain on record", func(p *play) {
			p.air = (&frost.Record{}).With(frost.Day{Date: day("2026-08-05"), Min: frost.NoTemp, Max: frost.NoTemp, Rain: 38100})
		}, false, "2026-08-05"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			p.tells("2026-08-01", diary.Dry, "")
			tc.write(p)
			v := p.view("2026-08-20", "creek")
			ended := ""
			if !v.RainCame.IsZero() {
				ended = v.RainCame.String()
			}
			if v.Drought != tc.dry || ended != tc.ended {
				t.Errorf("drought %v, ended %q", v.Drought, ended)
			}
		})
	}
}

func (p *play) rains(on string, inches float64, by string) int64 {
	return p.write(diary.Fact{Day: day(on), Kind: diary.Rain, Amount: inches, By: by})
}
