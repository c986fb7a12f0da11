package season

import (
	"slices"
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// TestTheLastPassByHand: 12 days to the cutoff, both paddocks at 14 in and
// growing 0.435 in a day. An inch is 1,250 lb on the creek and 625 on the hill,
// the herd takes 1,284.4 lb a day, half the regrowth credited.
//
// Creek first: 6 x 1250 / (1284.4 - 271.8) = 7.4, 7 days; the hill then has 17.04
// in, 9.04 x 625 / (1284.4 - 135.9) = 4.9, 4 days: a day short of 12. Hill first:
// 6 x 625 / 1148.5 = 3.3, 3 days; the creek then has 15.30 in, 7.30 x 1250 /
// 1012.6 = 9.0, 9 days: every day to the cutoff.
func TestTheLastPassByHand(t *testing.T) {
	p := newPlay(t)
	p.moves("2026-08-18", diary.On, "creek", "cows")
	p.reads("2026-08-20", "creek", plants(20, 14)...)
	p.reads("2026-08-20", "hill", plants(20, 14)...)
	pass, bunches := LastPass(p.sight("2026-08-20"))
	if len(bunches) != 1 || bunches[0].At != "creek" || len(pass.Stops) != 2 || !pass.Exact {
		t.Fatalf("%+v of %+v", pass, bunches)
	}
	hill, creek := pass.Stops[0], pass.Stops[1]
	if hill.Paddock != "hill" || hill.Days != 3 || hill.Out != day("2026-08-23") {
		t.Errorf("first stop %+v, want the hill for 3 days", hill)
	}
	if creek.Paddock != "creek" || creek.Days != 9 || creek.Out != day("2026-09-01") {
		t.Errorf("second stop %+v, want the creek for 9 days, to the cutoff", creek)
	}
	if len(pass.Wants) != 0 || len(pass.Skipped) != 0 {
		t.Errorf("wants %v, skips %v", pass.Wants, pass.Skipped)
	}
}

func TestWhoTakesPartInTheLastPass(t *testing.T) {
	stops := func(p *play, today string) []string {
		pass, _ := LastPass(p.sight(today))
		var names []string
		for _, s := range pass.Stops {
			names = append(names, s.Paddock)
		}
		slices.Sort(names)
		return names
	}
	for _, tc := range []struct {
		name  string
		write func(*play)
		today string
		want  []string
	}{
		{"both natives, and never the fescue", func(*play) {}, "2026-08-15", []string{"creek", "hill"}},
		{"not one grazed on purpose through its rest", func(p *play) { p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "hill"}} }, "2026-08-15", []string{"creek"}},
		{"not one on hold", func(p *play) {
			p.paddock("hill").Hazards = []grass.Hazard{hazard(p.t, "wild cherry")}
			p.freeze("2026-08-14", 36)
		}, "2026-08-15", []string{"creek"}},
		{"not one that is down to its height", func(p *play) { p.reads("2026-08-15", "hill", plants(20, 8)...) }, "2026-08-15", []string{"creek"}},
		{"none once they are shut", func(*play) {}, "2026-09-01", nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			if got := stops(p, tc.today); !slices.Equal(got, tc.want) {
				t.Errorf("stops %v, want %v", got, tc.want)
			}
		})
	}
}

// What was read ten days ago has grown since, where nothing stood on it.
func TestTheLastPassStartsFromTodaysHeight(t *testing.T) {
	p := newPlay(t)
	p.reads("2026-08-10", "creek", plants(20, 10)...)
	height := func(today string) float64 {
		v := p.view(today, "creek")
		l := p.look(today)
		return l.heightNow(&v, l.learn(v.Paddock, 2026).growth)
	}
	near(t, "ten days on", height("2026-08-20"), 10+10*10.0/23, 0.01)
	p.tells("2026-08-20", diary.Dry, "")
	near(t, "in a drought", height("2026-08-20"), 10, 0)
	near(t, "a reading of last month is a guess", height("2026-09-10"), 14, 0)
}

func TestTheDriestThinnestAndColdestGoFirst(t *testing.T) {
	pad := func(soil grass.Soil, stand grass.Stand, offset int) *Paddock {
		return &Paddock{Soil: soil, Stand: stand, FrostOffset: offset}
	}
	order := []*Paddock{
		pad(grass.Dry, grass.Thin, -10), pad(grass.Dry, grass.Thin, 0), pad(grass.Dry, grass.Medium, -10), pad(grass.Dry, grass.Dense, -90),
		pad("", grass.Thin, 0), pad(grass.Average, "", -5), pad(grass.Average, grass.Medium, 0), pad(grass.Average, grass.Medium, 90),
		pad(grass.Moist, grass.Thin, -90), pad(grass.Moist, grass.Dense, 0),
	}
	for i := 1; i < len(order); i++ {
		if need(order[i-1]) >= need(order[i]) {
			t.Errorf("%+v does not come before %+v", order[i-1], order[i])
		}
	}
}

func TestHerdsThatStandTogetherMoveAsOne(t *testing.T) {
	p := newPlay(t)
	p.farm.Herds = append(p.farm.Herds, cows("bulls", "creek"), cows("stray", ""))
	p.moves("2026-08-01", diary.On, "creek", "cows")
	bunches := p.look("2026-08-20").bunches()
	if len(bunches) != 2 || !slices.Equal(bunches[0].Herds, []string{"cows", "bulls"}) || bunches[1].At != "" {
		t.Fatalf("%+v", bunches)
	}
	near(t, "what they eat together", bunches[0].Demand, 2*1284.4, 1e-6)
	// Gone from the creek, and nobody said where to.
	p.moves("2026-08-10", diary.Off, "creek", "cows")
	if bunches = p.look("2026-08-20").bunches(); len(bunches) != 3 {
		t.Errorf("%+v", bunches)
	}
}
