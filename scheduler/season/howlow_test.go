package season

import (
	"fmt"
	"testing"
)

// How low a paddock may be grazed is the inverse of its forecast: read at that height on
// that day it makes its height in as many falls as its rule wants, half an inch lower it
// does not; and never under what spares the growing point.
func TestHowLowIsTheInverseOfTheForecast(t *testing.T) {
	told := 0
	for _, station := range []bool{false, true} {
		for month, days := range map[string][]int{"06": {10, 20, 30}, "07": {1, 10, 20, 30}, "08": {1, 8, 15, 20, 25, 30}, "09": {1, 5}} {
			for _, day := range days {
				on := fmt.Sprintf("2026-%s-%02d", month, day)
				p := newPlay(t)
				if station {
					p.onStation(fall{2018, "10-03"}, fall{2019, "10-20"}, fall{2020, "10-11"}, fall{2021, "10-28"}, fall{2022, "10-14"}, fall{2023, "10-08"}, fall{2024, "10-17"}, fall{2025, "10-22"})
				}
				v := p.view(on, "creek")
				low := p.sight(on).Land().HowLow(&v)
				chance := func(height float64) float64 {
					read := newPlay(t)
					read.farm.Plan = p.farm.Plan
					read.reads(on, "creek", height)
					return read.view(on, "creek").Ahead.Chance
				}
				switch {
				case !low.Found:
					if on < "2026-08-25" {
						t.Errorf("%s: no height", on)
					}
					if chance(18) >= 0.8 {
						t.Errorf("%s: none was found, and 18 in makes it", on)
					}
					continue
				case low.Value < 6:
					t.Errorf("%s: %g in, under the 6 that spare the growing point", on, low.Value)
				case chance(low.Value) < 0.8:
					t.Errorf("%s: at %g in the chance is %g", on, low.Value, chance(low.Value))
				case low.Value > 6 && chance(low.Exact-0.01) >= 0.8:
					t.Errorf("%s: a hair under %g in the chance is %g", on, low.Exact, chance(low.Exact-0.01))
				}
				told++
			}
		}
	}
	if told < 20 {
		t.Errorf("only %d days were told", told)
	}
}

// The later, the higher; in a drought, on cool-season ground and once it froze there is
// none.
func TestHowLowWhereNothingGrows(t *testing.T) {
	p := newPlay(t)
	last := 0.0
	for _, on := range []string{"2026-07-01", "2026-08-01", "2026-08-20", "2026-08-30"} {
		v := p.view(on, "creek")
		low := p.sight(on).Land().HowLow(&v)
		if !low.Found || low.Value < last {
			t.Errorf("%s: %+v, %g in before", on, low, last)
		}
		last = low.Value
	}
	lane := p.view("2026-08-20", "lane")
	if low := p.sight("2026-08-20").Land().HowLow(&lane); low.Found {
		t.Errorf("cool-season ground has no height at frost: %+v", low)
	}
	p.tells("2026-08-10", "dry", "")
	dry := p.view("2026-08-20", "creek")
	if low := p.sight("2026-08-20").Land().HowLow(&dry); low.Found {
		t.Errorf("in a drought: %+v", low)
	}
}
