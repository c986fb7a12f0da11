package herd

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestDaysOfGrass(t *testing.T) {
	// By hand: 22 ac x 75 lb x 3 in = 4,950 lb.
	creek := Grass{Acres: 22, Eaten: 75, Height: 11, Floor: 8}
	with := func(f func(*Grass)) Grass { g := creek; f(&g); return g }
	for _, c := range []struct {
		name   string
		g      Grass
		demand float64
		want   Days
	}{
		{"4,950 lb at 990 lb a day", creek, 990, Days{Days: 5, Known: true}},
		// 22 x 75 x 0.1 x 0.5 = 82.5 lb a day come back: 4,950 / 907.5.
		{"a tenth of an inch a day, half of it credited", with(func(g *Grass) { g.Regrowth = 0.1 }), 990, Days{Days: 4950 / 907.5, Known: true}},
		{"regrowth above the demand is 14 and more, no infinity", with(func(g *Grass) { g.Regrowth = 2 }), 990, Days{14, true, true}},
		{"regrowth exactly the demand", with(func(g *Grass) { g.Regrowth = 1.2 }), 990, Days{14, true, true}},
		{"one cow on a big paddock", creek, 26, Days{14, true, true}},
		{"exactly 14 days", creek, 4950.0 / 14, Days{Days: 14, Known: true}},
		{"at the floor", with(func(g *Grass) { g.Height = 8 }), 990, Days{Known: true}},
		{"under the floor", with(func(g *Grass) { g.Height = 5 }), 990, Days{Known: true}},
		{"no floor grazes to the ground", with(func(g *Grass) { g.Floor = 0 }), 990, Days{14, true, true}},
		{"a herd of 0", creek, 0, Days{}},
		{"a demand that is no number", creek, math.NaN(), Days{}},
		{"no acres", with(func(g *Grass) { g.Acres = 0 }), 990, Days{}},
		{"utilization 0", with(func(g *Grass) { g.Eaten = 0 }), 990, Days{}},
		{"no height", with(func(g *Grass) { g.Height = 0 }), 990, Days{}},
		{"a height that is no number", with(func(g *Grass) { g.Height = math.NaN() }), 990, Days{}},
		{"grass that shrinks counts as not growing", with(func(g *Grass) { g.Regrowth = -3 }), 990, Days{Days: 5, Known: true}},
		{"regrowth that is no number counts as none", with(func(g *Grass) { g.Regrowth = math.NaN() }), 990, Days{Days: 5, Known: true}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := c.g.Days(c.demand)
			if d.Known != c.want.Known || d.More != c.want.More || math.Abs(d.Days-c.want.Days) > 1e-9 {
				t.Errorf("got %+v, want %+v", d, c.want)
			}
		})
	}
}

// The grass really lasts that long: day by day what is eaten and half of what
// grows come out at the floor.
func TestDaysOfGrassAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Grass{
			Acres: rapid.Float64Range(1, 200).Draw(t, "acres"), Eaten: rapid.Float64Range(20, 200).Draw(t, "eaten"),
			Height: rapid.Float64Range(4, 40).Draw(t, "height"), Floor: rapid.Float64Range(0, 12).Draw(t, "floor"),
			Regrowth: rapid.Float64Range(0, 0.5).Draw(t, "regrowth"),
		}
		demand := rapid.Float64Range(50, 5000).Draw(t, "demand")
		d := g.Days(demand)
		left := g.Height + Credited(g.Regrowth, d.Days) - demand*d.Days/(g.Acres*g.Eaten)
		switch {
		case !d.Known:
			t.Fatalf("%+v", d)
		case d.Days > 0 && !d.More:
			if math.Abs(left-g.Floor) > 1e-6 {
				t.Fatalf("after %+v %g in are left, floor %g", d, left, g.Floor)
			}
		case d.More:
			if left < g.Floor-1e-9 {
				t.Fatalf("after %+v %g in are left, floor %g", d, left, g.Floor)
			}
		case g.Height > g.Floor:
			t.Fatalf("%+v at %g in over %g", d, g.Height, g.Floor)
		}
	})
}

func FuzzDays(f *testing.F) {
	f.Add(22.0, 75.0, 11.0, 8.0, 0.1, 990.0)
	f.Add(1e308, 1e308, 120.0, -1e308, 1e308, 1e-308)
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, math.Inf(-1), 1.0)
	f.Fuzz(func(t *testing.T, acres, eaten, height, floor, regrowth, demand float64) {
		d := Grass{acres, eaten, height, floor, regrowth}.Days(demand)
		if !(d.Days >= 0 && d.Days <= MostDays) || d.Days > 0 && !d.Known {
			t.Fatalf("%+v", d)
		}
		l := LearnEaten(acres, eaten, []Grazing{{On: height, Off: floor, PlantsOn: 10, PlantsOff: 10, Days: 5, DemandLb: demand, Regrown: regrowth}})
		if !(l.Eaten >= 0) || math.IsInf(l.Eaten, 0) {
			t.Fatalf("%+v", l)
		}
		for _, x := range []float64{AllowedFallUse(acres, eaten), NativeShare(acres, eaten), AsFed(acres, eaten), UnitsByWeight(demand)} {
			if !(x >= 0) || math.IsInf(x, 0) {
				t.Fatalf("%g", x)
			}
		}
	})
}
