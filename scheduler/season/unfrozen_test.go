package season

import (
	"slices"
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// sown puts lane under a plant of its own: safe from 18 in for johnsongrass and
// sudangrass, from 24 for sorghum and the crosses (Univ. of Illinois; Nebraska).
func sown(t *testing.T, name string) *play {
	p := newPlay(t)
	lane := p.paddock("lane")
	lane.Grass, lane.Hazards = species(t, name), nil
	return p
}

// mares are six horses beside the 38 cows.
func (p *play) mares() {
	horse, _ := herd.Kinds.Find("horses")
	p.farm.Herds = append(p.farm.Herds, herd.Herd{ID: "mares", Head: 6, Kind: horse, WeightLb: 1100, Paddock: "creek"})
}

// readsFor is a height of 30 in on lane that was read for a herd.
func (p *play) readsFor(on, herd string) {
	p.write(diary.Fact{Day: day(on), Kind: diary.Reading, Paddock: "lane", Herd: herd, Heights: plants(20, 30)})
}

func (p *play) drySince(on string) { p.tells(on, diary.Dry, "") }

func TestSorghumKinIsDeadlyWithoutAnyFrostWhileShortOrStressed(t *testing.T) {
	for _, tc := range []struct {
		name   string
		grass  string
		write  func(*play)
		say    Say
		action Action
		reason Reason
	}{
		{"sorghum-sudangrass at 10 in waits", "sorghum-sudangrass", func(p *play) { p.reads("2026-07-20", "lane", 10, 9, 11) }, Wait, KeepShut, KinShort},
		{"at 23 in still", "sorghum-sudangrass", func(p *play) { p.reads("2026-07-20", "lane", 23) }, Wait, KeepShut, KinShort},
		{"tall johnsongrass in a wet July goes", "johnsongrass", func(p *play) { p.reads("2026-07-20", "lane", plants(20, 26)...) }, Go, TurnIn, ReadyToGraze},
		{"a reading of eleven days shows nothing: read again", "johnsongrass", func(p *play) { p.reads("2026-07-09", "lane", 10) }, Wait, ReadIt, OldReading},
		{"nobody read it: it is asked for", "johnsongrass", func(*play) {}, "", ReadIt, NeverRead},
		{"turned in on a safe height they may graze on down", "johnsongrass", func(p *play) {
			p.reads("2026-07-12", "lane", plants(20, 26)...)
			p.moves("2026-07-13", diary.On, "lane", "cows")
			p.reads("2026-07-19", "lane", plants(20, 12)...)
		}, Go, Stay, GrazedEnough},
		{"to 8 in", "johnsongrass", func(p *play) {
			p.reads("2026-07-12", "lane", plants(20, 26)...)
			p.moves("2026-07-13", diary.On, "lane", "cows")
			p.reads("2026-07-19", "lane", plants(20, 7)...)
		}, Wait, TakeOff, UnderLeave},
		{"for ten days", "johnsongrass", func(p *play) {
			p.reads("2026-07-10", "lane", plants(20, 60)...)
			p.moves("2026-07-10", diary.On, "lane", "cows")
			p.reads("2026-07-20", "lane", plants(20, 30)...)
		}, Go, Stay, GrazedEnough},
		{"not eleven: new shoots have come", "johnsongrass", func(p *play) {
			p.reads("2026-07-09", "lane", plants(20, 60)...)
			p.moves("2026-07-09", diary.On, "lane", "cows")
			p.reads("2026-07-20", "lane", plants(20, 30)...)
		}, Wait, TakeOff, KinLong},
		{"turned in on a height of five days before they come off", "johnsongrass", func(p *play) {
			p.reads("2026-07-14", "lane", plants(20, 26)...)
			p.moves("2026-07-19", diary.On, "lane", "cows")
		}, Wait, TakeOff, KinShort},
		{"turned in without a height they come off", "johnsongrass", func(p *play) { p.moves("2026-07-19", diary.On, "lane", "cows") }, Wait, TakeOff, KinShort},
		{"on 9 in of johnsongrass they come off", "johnsongrass", func(p *play) {
			p.moves("2026-07-19", diary.On, "lane", "cows")
			p.reads("2026-07-20", "lane", 9)
		}, Wait, TakeOff, KinShort},
		{"where the farm file put them there they come off a short one", "johnsongrass", func(p *play) {
			p.farm.Herds[0].Paddock = "lane"
			p.reads("2026-07-20", "lane", 9)
		}, Wait, TakeOff, KinShort},
		{"and stay on a tall one", "johnsongrass", func(p *play) {
			p.farm.Herds[0].Paddock = "lane"
			p.reads("2026-07-20", "lane", plants(20, 26)...)
		}, Go, Stay, GrazedEnough},
		{"in a drought no height is safe", "johnsongrass", func(p *play) {
			p.drySince("2026-07-01")
			p.reads("2026-07-20", "lane", plants(20, 40)...)
		}, Wait, KeepShut, Parched},
		{"nor two weeks after it", "johnsongrass", func(p *play) {
			p.drySince("2026-06-01")
			p.tells("2026-07-06", diary.DryOver, "")
			p.reads("2026-07-20", "lane", plants(20, 40)...)
		}, Wait, KeepShut, Parched},
		{"fifteen days after it is", "johnsongrass", func(p *play) {
			p.drySince("2026-06-01")
			p.tells("2026-07-05", diary.DryOver, "")
			p.reads("2026-07-20", "lane", plants(20, 40)...)
		}, Go, TurnIn, ReadyToGraze},
		{"in other grass a drought shuts it too", "tall fescue", func(p *play) {
			p.paddock("lane").Hazards = []grass.Hazard{hazard(p.t, "johnsongrass")}
			p.drySince("2026-07-01")
			p.reads("2026-07-20", "lane", plants(20, 12)...)
		}, Wait, KeepShut, Parched},
		{"cattle in it come off", "tall fescue", func(p *play) {
			p.paddock("lane").Hazards = []grass.Hazard{hazard(p.t, "johnsongrass")}
			p.drySince("2026-07-01")
			p.moves("2026-07-15", diary.On, "lane", "cows")
		}, Wait, TakeOff, Parched},
		{"ordinary grass is not shut by a drought", "tall fescue", func(p *play) {
			p.drySince("2026-07-01")
			p.reads("2026-07-20", "lane", plants(20, 12)...)
		}, Go, TurnIn, ReadyToGraze},
		{"a manager who checked it opens it for a week", "johnsongrass", func(p *play) {
			p.drySince("2026-07-01")
			p.tells("2026-07-14", diary.Clear, "lane")
			p.reads("2026-07-20", "lane", plants(20, 40)...)
		}, Go, TurnIn, ReadyToGraze},
		{"and no longer", "johnsongrass", func(p *play) {
			p.drySince("2026-07-01")
			p.tells("2026-07-13", diary.Clear, "lane")
			p.reads("2026-07-20", "lane", plants(20, 40)...)
		}, Wait, KeepShut, Parched},
		{"a check does not make short plants safe", "johnsongrass", func(p *play) {
			p.tells("2026-07-19", diary.Clear, "lane")
			p.reads("2026-07-20", "lane", 10)
		}, Wait, KeepShut, KinShort},
		{"horses wait at any height", "johnsongrass", func(p *play) {
			p.farm.Herds[0].Kind, _ = herd.Kinds.Find("horses")
			p.reads("2026-07-20", "lane", plants(20, 40)...)
		}, Wait, KeepShut, NoHorses},
		{"horses that are in come off", "johnsongrass", func(p *play) {
			p.farm.Herds[0].Kind, _ = herd.Kinds.Find("horses")
			p.reads("2026-07-19", "lane", plants(20, 40)...)
			p.moves("2026-07-19", diary.On, "lane", "cows")
		}, Wait, TakeOff, NoHorses},
		{"horses that the text names wait where the cows would go", "johnsongrass", func(p *play) {
			p.mares()
			p.readsFor("2026-07-20", "mares")
		}, Wait, KeepShut, NoHorses},
		{"in other grass too", "tall fescue", func(p *play) {
			p.paddock("lane").Hazards = []grass.Hazard{hazard(p.t, "johnsongrass")}
			p.mares()
			p.readsFor("2026-07-20", "mares")
		}, Wait, KeepShut, NoHorses},
		{"where nobody names them the cows go", "johnsongrass", func(p *play) {
			p.mares()
			p.reads("2026-07-20", "lane", plants(20, 30)...)
		}, Go, TurnIn, ReadyToGraze},
		{"read for the cows the cows go", "johnsongrass", func(p *play) {
			p.mares()
			p.readsFor("2026-07-20", "cows")
		}, Go, TurnIn, ReadyToGraze},
		{"what was read for the horses yesterday shuts nobody out today", "johnsongrass", func(p *play) {
			p.mares()
			p.readsFor("2026-07-19", "mares")
		}, Go, TurnIn, ReadyToGraze},
		{"since a day that nobody knows they are in from the first height that was safe", "johnsongrass", func(p *play) {
			p.farm.Herds[0].Paddock = "lane"
			p.reads("2026-07-09", "lane", plants(20, 60)...)
			p.reads("2026-07-20", "lane", plants(20, 30)...)
		}, Wait, TakeOff, KinLong},
		{"turned in after hay they come off: what was read before says nothing of the new shoots", "johnsongrass", func(p *play) {
			p.reads("2026-07-17", "lane", plants(20, 60)...)
			p.tells("2026-07-18", diary.Hayed, "lane")
			p.moves("2026-07-19", diary.On, "lane", "cows")
		}, Wait, TakeOff, KinShort},
		{"read tall since the hay they stay", "johnsongrass", func(p *play) {
			p.tells("2026-07-01", diary.Hayed, "lane")
			p.reads("2026-07-18", "lane", plants(20, 60)...)
			p.moves("2026-07-19", diary.On, "lane", "cows")
			p.reads("2026-07-20", "lane", plants(20, 50)...)
		}, Go, Stay, GrazedEnough},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := sown(t, tc.grass)
			tc.write(p)
			v := p.view("2026-07-20", "lane").Verdict
			if v.Say != tc.say || v.Action != tc.action || v.Reason != tc.reason {
				t.Errorf("%q %s (%s), want %q %s (%s)", v.Say, v.Action, v.Reason, tc.say, tc.action, tc.reason)
			}
			if tc.reason == KinShort && (v.Floor != shutFrom(tc.grass) || len(v.Plants) != 1) {
				t.Errorf("names %v under %g in", v.Plants, v.Floor)
			}
		})
	}
	t.Run("once it is dead and its hold over nothing shoots", func(t *testing.T) {
		p := sown(t, "johnsongrass")
		p.freeze("2026-11-01", 25)
		p.moves("2026-11-18", diary.On, "lane", "cows")
		p.reads("2026-11-20", "lane", plants(20, 14)...)
		if v := p.view("2026-11-20", "lane").Verdict; v.Say != Go {
			t.Errorf("%s (%s): frozen dead 19 days ago", v.Say, v.Reason)
		}
	})
	t.Run("in since a day that nobody knows they are out ten days after the first height that was safe", func(t *testing.T) {
		p := sown(t, "johnsongrass")
		p.farm.Herds[0].Paddock = "lane"
		p.reads("2026-07-15", "lane", plants(20, 60)...)
		p.reads("2026-07-20", "lane", plants(20, 50)...)
		if v := p.view("2026-07-20", "lane").Verdict; v.Say != Go || v.OutBy != day("2026-07-25") {
			t.Errorf("%s, out by %s", v.Say, v.OutBy)
		}
	})
	t.Run("turned in today they are out in ten days", func(t *testing.T) {
		p := sown(t, "johnsongrass")
		p.reads("2026-07-20", "lane", plants(20, 60)...)
		if v := p.view("2026-07-20", "lane").Verdict; v.Say != Go || v.OutBy != day("2026-07-30") {
			t.Errorf("%s, out by %s", v.Say, v.OutBy)
		}
	})
}

func TestNoHerdIsSentToSorghumKinThatNobodyReadTallWithinDays(t *testing.T) {
	for _, tc := range []struct {
		name, grass string
		write       func(*play)
		perilous    bool
	}{
		{"never read", "johnsongrass", func(*play) {}, true},
		{"read short", "johnsongrass", func(p *play) { p.reads("2026-07-19", "lane", plants(20, 12)...) }, true},
		{"read tall", "johnsongrass", func(p *play) { p.reads("2026-07-17", "lane", plants(20, 60)...) }, false},
		{"read tall a week ago", "johnsongrass", func(p *play) { p.reads("2026-07-13", "lane", plants(20, 60)...) }, true},
		{"read tall and then cut", "johnsongrass", func(p *play) {
			p.reads("2026-07-17", "lane", plants(20, 60)...)
			p.tells("2026-07-18", diary.Hayed, "lane")
		}, true},
		{"cut and then read tall", "johnsongrass", func(p *play) {
			p.tells("2026-06-18", diary.Hayed, "lane")
			p.reads("2026-07-17", "lane", plants(20, 60)...)
		}, false},
		{"ordinary grass that nobody read", "tall fescue", func(*play) {}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := sown(t, tc.grass)
			tc.write(p)
			if v := p.view("2026-07-20", "lane"); v.Perilous() != tc.perilous {
				t.Errorf("perilous: %v, want %v", v.Perilous(), tc.perilous)
			}
		})
	}
}

func shutFrom(name string) float64 {
	h, _ := grass.Hazards.Find(name)
	return h.Safe.Value
}

func TestAnEmergencyShutsThatPaddockUntilAManagerClearsIt(t *testing.T) {
	p := newPlay(t)
	p.reads("2026-07-20", "creek", plants(20, 16)...)
	if v := p.view("2026-07-20", "creek").Verdict; v.Say != Go {
		t.Fatalf("%s (%s)", v.Say, v.Reason)
	}
	told := p.tells("2026-07-20", diary.Emergency, "creek")
	for _, today := range []string{"2026-07-20", "2026-07-29"} {
		if v := p.view(today, "creek").Verdict; v.Say != Wait || v.Reason != Hurt {
			t.Errorf("on %s: %s (%s)", today, v.Say, v.Reason)
		}
	}
	p.reads("2026-07-20", "hill", plants(20, 16)...)
	if v := p.view("2026-07-20", "hill"); v.Verdict.Say != Go {
		t.Errorf("hill: %s (%s), and nothing happened there", v.Verdict.Say, v.Verdict.Reason)
	}
	if v := p.view("2026-07-20", "creek"); !v.Perilous() {
		t.Error("a plan may send the herd there")
	}
	cleared := p.tells("2026-07-21", diary.Clear, "creek")
	if v := p.view("2026-07-21", "creek").Verdict; v.Say != Go {
		t.Errorf("cleared: %s (%s)", v.Say, v.Reason)
	}
	p.takesBack(cleared)
	p.takesBack(told)
	if v := p.view("2026-07-21", "creek").Verdict; v.Say != Go {
		t.Errorf("taken back: %s (%s)", v.Say, v.Reason)
	}
}

func TestAnEmergencyWithoutAPlaceShutsWhereAnimalsStandUntilItIsToldWhere(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		shut  []string
	}{
		{"each of two that are grazed", func(p *play) { p.tells("2026-07-20", diary.Emergency, "") }, []string{"creek", "hill"}},
		{"the one of which its herd was moved that morning too", func(p *play) {
			p.moves("2026-07-20", diary.Off, "creek", "cows")
			p.moves("2026-07-20", diary.On, "lane", "cows")
			p.tells("2026-07-20", diary.Emergency, "")
		}, []string{"creek", "hill", "lane"}},
		{"one that a herd left the day before is open", func(p *play) {
			p.moves("2026-07-18", diary.Off, "creek", "cows")
			p.moves("2026-07-18", diary.On, "lane", "cows")
			p.tells("2026-07-20", diary.Emergency, "")
		}, []string{"hill", "lane"}},
		{"ground that nobody knows of: its herd was seen elsewhere", func(p *play) {
			p.moves("2026-07-19", diary.On, "lane", "cows")
			p.tells("2026-07-20", diary.Emergency, "")
		}, []string{"creek", "hill", "lane"}},
		{"where a herd went since it is open", func(p *play) {
			p.tells("2026-07-20", diary.Emergency, "")
			p.moves("2026-07-20", diary.On, "lane", "cows")
		}, []string{"creek", "hill"}},
		{"told where, that one alone", func(p *play) {
			p.tells("2026-07-20", diary.Emergency, "")
			p.tells("2026-07-20", diary.Emergency, "hill")
		}, []string{"hill"}},
		{"another one told before says nothing of it", func(p *play) {
			p.tells("2026-07-20", diary.Emergency, "lane")
			p.tells("2026-07-20", diary.Emergency, "")
		}, []string{"creek", "hill", "lane"}},
		{"cleared, the others stay shut", func(p *play) {
			p.tells("2026-07-20", diary.Emergency, "")
			p.tells("2026-07-20", diary.Clear, "creek")
		}, []string{"hill"}},
		{"taken back, none", func(p *play) { p.takesBack(p.tells("2026-07-20", diary.Emergency, "")) }, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			p.farm.Herds = append(p.farm.Herds, cows("heifers", "hill"))
			p.farm.Herds[0].Paddock = "creek"
			tc.write(p)
			var shut []string
			for _, v := range Look(p.sight("2026-07-21")) {
				if v.Verdict.Reason == Hurt {
					shut = append(shut, v.Paddock.ID)
				}
			}
			if !slices.Equal(shut, tc.shut) {
				t.Errorf("shut are %v, want %v", shut, tc.shut)
			}
		})
	}
}
