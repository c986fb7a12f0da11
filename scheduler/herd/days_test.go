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
		name    string
		g       Grass
		demand  float64
		outcome Counting
		days    float64
	}{
		{"4,950 lb at 990 lb a day", creek, 990, Counted, 5},
		// 22 x 75 x 0.1 x 0.5 = 82.5 lb a day come back: 4,950 / 907.5.
		{"a tenth of an inch a day, half of it credited", with(func(g *Grass) { g.Regrowth = 0.1 }), 990, Counted, 4950 / 907.5},
		{"regrowth above the demand is 14 and more, no infinity", with(func(g *Grass) { g.Regrowth = 2 }), 990, Plenty, 14},
		{"regrowth exactly the demand", with(func(g *Grass) { g.Regrowth = 1.2 }), 990, Plenty, 14},
		{"one cow on a big paddock", creek, 26, Plenty, 14},
		{"exactly 14 days", creek, 4950.0 / 14, Counted, 14},
		{"at the floor", with(func(g *Grass) { g.Height = 8 }), 990, Bare, 0},
		{"under the floor", with(func(g *Grass) { g.Height = 5 }), 990, Bare, 0},
		{"no floor grazes to the ground", with(func(g *Grass) { g.Floor = 0 }), 990, Plenty, 14},
		{"a herd of 0", creek, 0, NoDemand, 0},
		{"a demand that is no number", creek, math.NaN(), NoDemand, 0},
		{"no acres", with(func(g *Grass) { g.Acres = 0 }), 990, NoGround, 0},
		{"utilization 0", with(func(g *Grass) { g.Eaten = 0 }), 990, NoGround, 0},
		{"no height", with(func(g *Grass) { g.Height = 0 }), 990, NoHeight, 0},
		{"a height that is no number", with(func(g *Grass) { g.Height = math.NaN() }), 990, NoHeight, 0},
		{"grass that shrinks counts as not growing", with(func(g *Grass) { g.Regrowth = -3 }), 990, Counted, 5},
		{"regrowth that is no number counts as none", with(func(g *Grass) { g.Regrowth = math.NaN() }), 990, Counted, 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := c.g.Days(c.demand)
			if d.Outcome != c.outcome || math.Abs(d.Days-c.days) > 1e-9 {
				t.Errorf("got %+v, want %d and %g days", d, c.outcome, c.days)
			}
			if d.Known() != (c.outcome <= Bare) {
				t.Errorf("known %v", d.Known())
			}
		})
	}
	if got := (Days{Counted, 4.9999999999}).Whole(); got != 5 {
		t.Errorf("a rounding error short of 5 days is %d whole days", got)
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
		switch d.Outcome {
		case Counted:
			if math.Abs(left-g.Floor) > 1e-6 {
				t.Fatalf("after %+v %g in are left, floor %g", d, left, g.Floor)
			}
		case Plenty:
			if left < g.Floor-1e-9 {
				t.Fatalf("after %+v %g in are left, floor %g", d, left, g.Floor)
			}
		case Bare:
			if g.Height > g.Floor {
				t.Fatalf("%+v at %g in over %g", d, g.Height, g.Floor)
			}
		default:
			t.Fatalf("%+v", d)
		}
	})
}

func FuzzDays(f *testing.F) {
	f.Add(22.0, 75.0, 11.0, 8.0, 0.1, 990.0)
	f.Add(1e308, 1e308, 120.0, -1e308, 1e308, 1e-308)
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, math.Inf(-1), 1.0)
	f.Fuzz(func(t *testing.T, acres, eaten, height, floor, regrowth, demand float64) {
		d := Grass{acres, eaten, height, floor, regrowth}.Days(demand)
		if !(d.Days >= 0 && d.Days <= MostDays) || d.Outcome == 0 || d.Whole() < 0 {
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
