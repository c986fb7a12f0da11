package herd

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// By hand: 20 acres, default 60 lb per acre-inch. Two grazings ate 9,600 lb from
// 5 in and 7,200 lb from 4 in: with 10 in of the default (12,000 lb, 200
// acre-inches) the sum is 28,800 lb over 380 acre-inches.
func TestLearnEatenByHand(t *testing.T) {
	l := LearnEaten(20, 60, []Grazing{
		{On: 13, Off: 8.5, PlantsOn: 20, PlantsOff: 12, Days: 8, DemandLb: 9600, Regrown: 0.5},
		{On: 12, Off: 8, PlantsOn: 20, PlantsOff: 20, Days: 6, DemandLb: 7200},
	})
	near(t, "lb eaten per acre-inch", l.Eaten, 28800.0/380, 1e-9)
	if l.Grazings != 2 {
		t.Errorf("%d grazings taught", l.Grazings)
	}
}

func TestWhichGrazingsTeach(t *testing.T) {
	ok := Grazing{On: 13, Off: 8, PlantsOn: 20, PlantsOff: 12, Days: 8, DemandLb: 9600}
	for _, c := range []struct {
		name string
		f    func(*Grazing)
		want int
	}{
		{"as it should be", func(*Grazing) {}, 1},
		{"no height off", func(g *Grazing) { g.Off = 0 }, 0},
		{"a height that is no number", func(g *Grazing) { g.On = math.NaN() }, 0},
		{"a herd of 0", func(g *Grazing) { g.DemandLb = 0 }, 0},
		{"two days", func(g *Grazing) { g.Days = 2 }, 0},
		{"three days", func(g *Grazing) { g.Days = 3 }, 1},
		{"nine plants on", func(g *Grazing) { g.PlantsOn = 9 }, 0},
		{"nine plants off", func(g *Grazing) { g.PlantsOff = 9 }, 0},
		{"by demand just under 3 in", func(g *Grazing) { g.DemandLb = 3599 }, 0},
		{"by demand just 3 in", func(g *Grazing) { g.DemandLb = 3600 }, 1},
		{"by demand 8 in, seen to take 1 in", func(g *Grazing) { g.Off = 12 }, 1},
		{"seen to grow under the animals", func(g *Grazing) { g.Off = 14 }, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := ok
			c.f(&g)
			l := LearnEaten(20, 60, []Grazing{g})
			if l.Grazings != c.want {
				t.Errorf("%d taught, want %d", l.Grazings, c.want)
			}
			if c.want == 0 && l.Eaten != 60 {
				t.Errorf("it taught %g", l.Eaten)
			}
		})
	}
	for _, l := range []Taught{LearnEaten(0, 60, []Grazing{ok}), LearnEaten(20, 0, []Grazing{ok}), LearnEaten(math.NaN(), 60, []Grazing{ok})} {
		if l.Grazings != 0 || math.IsNaN(l.Eaten) {
			t.Errorf("without acres or a default: %+v", l)
		}
	}
}

// seen plays grazings on invented ground of 20 acres that truly gives 60 lb per
// acre-inch, each read with an error of 1.2 in at both ends.
func seen(r *rand.Rand, n int, regrown float64) []Grazing {
	out := make([]Grazing, n)
	for i := range out {
		took := 1 + 5*r.Float64() // inches truly taken, light stays and heavy ones
		on := 10 + 4*r.Float64()
		out[i] = Grazing{
			On: on + 1.2*r.NormFloat64(), Off: on - took + regrown + 1.2*r.NormFloat64(),
			PlantsOn: 12, PlantsOff: 12, Days: 5, DemandLb: took * 20 * 60, Regrown: regrown,
		}
	}
	return out
}

// TestChoosingByDemand: grazings chosen because they were seen to take 3 in are
// those whose readings were wrong upwards, and the ground looks poorer than it
// is. Chosen by what the demand should have taken they are not.
func TestChoosingByDemand(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 10))
	byDemand, bySight := 0.0, 0.0
	const farms = 300
	for range farms {
		all := seen(r, 60, 0)
		byDemand += LearnEaten(20, 60, all).Eaten / farms
		lb, acreInches := 10*20*60.0, 10*20.0
		for _, g := range all {
			if g.On-g.Off >= 3 {
				lb, acreInches = lb+g.DemandLb, acreInches+20*(g.On-g.Off)
			}
		}
		bySight += lb / acreInches / farms
	}
	t.Logf("truth 60 lb per acre-inch, by demand %.1f, by what was seen %.1f", byDemand, bySight)
	if math.Abs(byDemand-60) > 1 {
		t.Errorf("by demand %.1f, truth 60", byDemand)
	}
	if bySight > 56 {
		t.Errorf("by what was seen %.1f: the case shows nothing", bySight)
	}
}

// Without the regrowth added back the same feed seems to come out of fewer
// inches, and the ground looks richer than it is.
func TestRegrowthIsAddedBack(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 10))
	with, without := 0.0, 0.0
	const farms = 200
	for range farms {
		all := seen(r, 60, 0.8)
		with += LearnEaten(20, 60, all).Eaten / farms
		for i := range all {
			all[i].Regrown = 0
		}
		without += LearnEaten(20, 60, all).Eaten / farms
	}
	if math.Abs(with-60) > 1 || without < 66 {
		t.Errorf("truth 60 lb per acre-inch, with %.1f, without %.1f", with, without)
	}
}

// Stays of a day or of a handful of plants are mostly error: as a mean of ratios
// with no rule and no prior, they can be anything.
func TestShortStaysAndFewPlantsAreMostlyError(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 10))
	worstWith, worstWithout := 0.0, 0.0
	for range 200 {
		var all []Grazing
		ratios := 0.0
		for range 4 {
			on, took := 12.0, 0.6 // one day, read on three plants
			g := Grazing{On: on + 2*r.NormFloat64(), Off: on - took + 2*r.NormFloat64(), PlantsOn: 3, PlantsOff: 3, Days: 1, DemandLb: took * 20 * 60}
			all = append(all, g)
			ratios += g.DemandLb / (20 * (g.On - g.Off)) / 4
		}
		worstWith = max(worstWith, math.Abs(LearnEaten(20, 60, all).Eaten-60))
		worstWithout = max(worstWithout, math.Abs(ratios-60))
	}
	if worstWith != 0 || worstWithout < 60 {
		t.Errorf("with the rules %.1f off at worst, without %.1f", worstWith, worstWithout)
	}
}

func TestLearnedStaysWithinFiveFold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gs := make([]Grazing, rapid.IntRange(0, 8).Draw(t, "grazings"))
		for i := range gs {
			gs[i] = Grazing{
				On: rapid.Float64Range(1, 120).Draw(t, "on"), Off: rapid.Float64Range(1, 120).Draw(t, "off"),
				PlantsOn: 20, PlantsOff: 20, Days: 7, DemandLb: rapid.Float64Range(0, 1e7).Draw(t, "lb"),
			}
		}
		if l := LearnEaten(20, 60, gs); !(l.Eaten >= 12 && l.Eaten <= 300) {
			t.Fatalf("%+v", l)
		}
	})
}
