package herd

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"
)

var aug1 = day(2026, time.August, 1)

// paddock has so many days of grass for a demand of 1,000 lb and no regrowth.
func paddock(id string, days float64, shutIn, urgency int) Ahead {
	return Ahead{ID: id, Grass: Grass{Acres: 10, Eaten: 100, Height: 8 + days, Floor: 8}, Cutoff: aug1.AddDays(shutIn), Urgency: urgency}
}

func cows(at string) Bunch { return Bunch{Herds: []string{"cows"}, Demand: 1000, At: at} }

// told writes a pass in a line.
func told(p Pass) string {
	s := ""
	for _, x := range p.Stops {
		s += fmt.Sprintf("%d:%s %d d", x.Bunch, x.Paddock, x.Days)
		if x.Left > 0 {
			s += fmt.Sprintf(" (%.0f left)", x.Left)
		}
		s += "; "
	}
	for _, w := range p.Wants {
		s += fmt.Sprintf("%d wants %d d from %s; ", w.Bunch, w.Days, w.From)
	}
	if len(p.Skipped) > 0 {
		s += fmt.Sprint("skipped ", p.Skipped)
	}
	return s
}

func TestLastPass(t *testing.T) {
	for _, c := range []struct {
		name     string
		bunches  []Bunch
		paddocks []Ahead
		want     string
	}{
		{"three paddocks, dry one first, and days to spare before the cutoff",
			[]Bunch{cows("")},
			[]Ahead{paddock("creek", 5, 20, 3), paddock("hill", 4, 20, 1), paddock("north", 3, 20, 2)},
			"0:hill 4 d; 0:north 3 d; 0:creek 5 d; 0 wants 8 d from 2026-08-13; "},
		{"the one that shuts first comes first, however moist",
			[]Bunch{cows("")},
			[]Ahead{paddock("hill", 10, 20, 1), paddock("creek", 5, 5, 2), paddock("flat", 5, 20, 3)},
			"0:creek 5 d; 0:hill 10 d; 0:flat 5 d; "},
		{"more grass than days: the last one is left early, the least urgent is skipped",
			[]Bunch{cows("")},
			[]Ahead{paddock("hill", 10, 12, 1), paddock("north", 10, 12, 2), paddock("creek", 10, 12, 3)},
			"0:hill 10 d; 0:north 2 d (8 left); skipped [creek]"},
		{"where it stands is used up first",
			[]Bunch{cows("creek")},
			[]Ahead{paddock("hill", 4, 20, 1), paddock("creek", 5, 20, 3)},
			"0:creek 5 d; 0:hill 4 d; 0 wants 11 d from 2026-08-10; "},
		{"unless that would cost a day",
			[]Bunch{cows("creek")},
			[]Ahead{paddock("hill", 5, 5, 1), paddock("creek", 5, 10, 2)},
			"0:hill 5 d; 0:creek 5 d; "},
		{"two herds that stand apart never share a paddock",
			[]Bunch{cows("hill"), {Herds: []string{"heifers"}, Demand: 500, At: "creek"}},
			[]Ahead{paddock("hill", 5, 10, 1), paddock("creek", 5, 10, 2), paddock("north", 5, 10, 3)},
			"0:hill 5 d; 1:creek 10 d; 0:north 5 d; "},
		{"a paddock already shut, one bare and one without a herd's day are left out",
			[]Bunch{cows("")},
			[]Ahead{paddock("shut", 5, 0, 1), paddock("bare", 0, 9, 1), paddock("thin", 0.5, 9, 1), paddock("hill", 9, 9, 1)},
			"0:hill 9 d; skipped [thin]"},
		{"nothing to go to", []Bunch{cows("")}, nil, ""},
		{"a herd of 0 goes nowhere", []Bunch{{Herds: []string{"cows"}}}, []Ahead{paddock("hill", 5, 9, 1)}, ""},
		{"no herd", nil, []Ahead{paddock("hill", 5, 9, 1)}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := LastPass(aug1, c.bunches, c.paddocks)
			if got := told(p); got != c.want || !p.Exact {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestWaitingGrassGrows(t *testing.T) {
	slow, fast := paddock("slow", 5, 30, 1), paddock("fast", 5, 30, 2)
	fast.Regrowth, fast.Ceiling = 0.4, 48
	p := LastPass(aug1, []Bunch{cows("")}, []Ahead{slow, fast})
	// By hand: 5 days on the slow one; the fast one is then 5 + 5 x 0.4 = 7 in over
	// its floor, and 7,000 / (1,000 - 200) = 8.75 days, 8 whole ones.
	if got := told(p); got != "0:slow 5 d; 0:fast 8 d; 0 wants 17 d from 2026-08-14; " {
		t.Error(got)
	}
	fast.Ceiling = 13
	if got := told(LastPass(aug1, []Bunch{cows("")}, []Ahead{slow, fast})); got != "0:slow 5 d; 0:fast 6 d; 0 wants 19 d from 2026-08-12; " {
		t.Errorf("under a ceiling of 13 in: %s", got)
	}
}

// anyPass draws bunches and paddocks.
func anyPass(t *rapid.T, most int) ([]Bunch, []Ahead) {
	ps := make([]Ahead, rapid.IntRange(1, most).Draw(t, "paddocks"))
	for i := range ps {
		ps[i] = paddock(string(rune('a'+i)), rapid.Float64Range(0, 12).Draw(t, "days"), rapid.IntRange(0, 25).Draw(t, "shut"), rapid.IntRange(1, 4).Draw(t, "urgency"))
		ps[i].Regrowth = rapid.Float64Range(0, 0.2).Draw(t, "regrowth")
	}
	bs := make([]Bunch, rapid.IntRange(1, 2).Draw(t, "bunches"))
	for i := range bs {
		bs[i] = Bunch{Herds: []string{fmt.Sprint(i)}, Demand: rapid.Float64Range(300, 2000).Draw(t, "demand")}
	}
	if len(ps) > 1 {
		bs[0].At = ps[1].ID
	}
	return bs, ps
}

// TestLastPassKeepsEveryCutoff: nobody stands anywhere on or after its cutoff,
// no two bunches in one paddock, no bunch in two places, none without grass.
func TestLastPassKeepsEveryCutoff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bs, ps := anyPass(t, 14)
		p := LastPass(aug1, bs, ps)
		free := make([]civil.Date, len(bs))
		for i := range free {
			free[i] = aug1
		}
		var seen []string
		for _, s := range p.Stops {
			i := slices.IndexFunc(ps, func(a Ahead) bool { return a.ID == s.Paddock })
			if s.Days < 1 || s.Out != s.In.AddDays(s.Days) || s.Out.After(ps[i].Cutoff) {
				t.Fatalf("%+v, cutoff %s", s, ps[i].Cutoff)
			}
			if slices.Contains(seen, s.Paddock) || s.In != free[s.Bunch] {
				t.Fatalf("%+v after %v, bunch free %s", s, seen, free[s.Bunch])
			}
			seen = append(seen, s.Paddock)
			free[s.Bunch] = s.Out
		}
		for _, w := range p.Wants {
			if w.From != free[w.Bunch] || w.Days < 1 {
				t.Fatalf("%+v, free %s", w, free[w.Bunch])
			}
		}
	})
}

// leastWanted tries every share-out and every order the plain way.
func leastWanted(p *plan) int {
	best := 1 << 30
	var try func(days []int, used int)
	try = func(days []int, used int) {
		sum := 0
		for _, d := range days {
			sum += p.horizon - d
		}
		best = min(best, sum)
		for e, b := range p.eaters {
			for g := range p.ground {
				if used&(1<<g) == 0 {
					if n, _ := p.stay(b, g, days[e]); n > 0 {
						next := slices.Clone(days)
						next[e] += n
						try(next, used|1<<g)
					}
				}
			}
		}
	}
	try(make([]int, len(p.eaters)), 0)
	return best
}

func TestLastPassIsExactAndTheRuleOfThumbIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bs, ps := anyPass(t, 5)
		plan := newPlan(aug1, bs, ps)
		if len(plan.ground) == 0 {
			return
		}
		wanted := func(p Pass) (sum int) {
			for _, w := range p.Wants {
				sum += w.Days
			}
			return sum
		}
		exact, thumb, least := wanted(plan.exact()), wanted(plan.byCutoff()), leastWanted(plan)
		if exact != least || thumb < least {
			t.Fatalf("exact wants %d days, the rule of thumb %d, the least is %d", exact, thumb, least)
		}
	})
}

func TestManyPaddocksGoByCutoff(t *testing.T) {
	var ps []Ahead
	for i := range 12 {
		ps = append(ps, paddock(fmt.Sprintf("p%02d", i), 3, 40-2*i, i))
	}
	p := LastPass(aug1, []Bunch{cows("p05")}, ps)
	if p.Exact || len(p.Stops) != 12 || p.Stops[0].Paddock != "p05" || p.Stops[1].Paddock != "p11" || p.Wants[0].Days != 4 {
		t.Errorf("%v: %s", p.Exact, told(p))
	}
}
