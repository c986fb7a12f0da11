package season

import (
	"slices"
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

func TestWhatGoesWithAGo(t *testing.T) {
	kind := func(name string) herd.Kind {
		k, ok := herd.Kinds.Find(name)
		if !ok {
			t.Fatalf("no kind %q", name)
		}
		return k
	}
	for _, tc := range []struct {
		name  string
		write func(*play, *Paddock)
		want  []Risk
	}{
		{"plain tall fescue carries none", func(_ *play, lane *Paddock) { lane.Hazards = nil }, nil},
		{"johnsongrass in other grass carries its own", func(*play, *Paddock) {}, []Risk{RiskKin}},
		{"so does one that was reported", func(p *play, lane *Paddock) {
			lane.Hazards = nil
			p.write(diary.Fact{Day: day("2026-07-01"), Kind: diary.Plant, Paddock: "lane", Plant: "shattercane"})
		}, []Risk{RiskKin}},
		{"alfalfa in a mix can bloat", func(_ *play, lane *Paddock) { lane.Hazards = []grass.Hazard{hazard(t, "alfalfa")} }, []Risk{RiskBloat}},
		{"switchgrass does cattle no harm", func(_ *play, lane *Paddock) {
			lane.Hazards, lane.Grass, lane.Rule = nil, species(t, "switchgrass"), tallRule
		}, nil},
		{"switchgrass harms sheep (Univ. of Wisconsin Extension; USDA-ARS Logan 2007)", func(p *play, lane *Paddock) {
			p.farm.Herds[0].Kind = kind("ewes")
			lane.Hazards, lane.Grass, lane.Rule = nil, species(t, "alamo switchgrass"), tallRule
		}, []Risk{RiskLiver}},
		{"johnsongrass is never for horses", func(p *play, _ *Paddock) {
			p.farm.Herds = append(p.farm.Herds, herd.Herd{ID: "mares", Head: 2, Kind: kind("horses")})
		}, []Risk{RiskHorses, RiskKin}},
		{"oats in a drought are full of nitrate (Montana State; Texas A&M)", func(p *play, lane *Paddock) {
			lane.Hazards, lane.Grass = nil, species(t, "oats")
			p.tells("2026-07-01", diary.Dry, "")
		}, []Risk{RiskNitrate}},
		{"and 14 days after it", func(p *play, lane *Paddock) {
			lane.Hazards, lane.Grass = nil, species(t, "corn")
			p.tells("2026-06-01", diary.Dry, "")
			p.tells("2026-07-06", diary.DryOver, "")
		}, []Risk{RiskNitrate}},
		{"sorghum kin that a manager has checked in a drought", func(p *play, _ *Paddock) {
			p.tells("2026-07-01", diary.Dry, "")
			p.tells("2026-07-19", diary.Clear, "lane")
		}, []Risk{RiskKin, RiskNitrate}},
		{"not 15", func(p *play, lane *Paddock) {
			lane.Hazards, lane.Grass = nil, species(t, "corn")
			p.tells("2026-06-01", diary.Dry, "")
			p.tells("2026-07-05", diary.DryOver, "")
		}, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p, p.paddock("lane"))
			p.reads("2026-07-20", "lane", plants(20, 40)...)
			v := p.view("2026-07-20", "lane").Verdict
			var got []Risk
			for _, c := range v.Cautions {
				got = append(got, c.Why)
			}
			if v.Say != Go || !slices.Equal(got, tc.want) {
				t.Errorf("%s (%s) with %v, want %v", v.Say, v.Reason, got, tc.want)
			}
		})
	}
	t.Run("a wait carries none: nobody goes in", func(t *testing.T) {
		p := newPlay(t)
		p.reads("2026-07-20", "lane", plants(20, 3)...)
		if v := p.view("2026-07-20", "lane").Verdict; v.Say != Wait || len(v.Cautions) > 0 {
			t.Errorf("%s with %v", v.Say, v.Cautions)
		}
	})
}

func TestGoatsAreWarnedOfSwitchgrassThatCowsStandIn(t *testing.T) {
	p := newPlay(t)
	goats, ok := herd.Kinds.Find("goats")
	if !ok {
		t.Fatal("no goats")
	}
	p.farm.Herds = append(p.farm.Herds, herd.Herd{ID: "goats", Head: 12, Kind: goats})
	lane := p.paddock("lane")
	lane.Hazards, lane.Grass, lane.Rule = nil, species(t, "switchgrass"), tallRule
	p.moves("2026-07-10", diary.On, "lane", "cows")
	v := p.view("2026-07-20", "lane")
	of := func(herds ...string) []Caution {
		return v.CautionsFor(&View{Herds: Standing{Occupancy: Grazed, Herds: herds}})
	}
	if got := of("goats"); len(got) != 1 || got[0].Why != RiskLiver {
		t.Errorf("goats are sent there with %v", got)
	}
	if got := of("cows"); len(got) != 0 {
		t.Errorf("cows are sent there with %v", got)
	}
}
