package herd

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// randomFall is an invented farm: natives that shut on a few days, cool-season
// ground that does not, grass for less or more than the herds want.
func randomFall(r *rand.Rand, paddocks int, barred bool) Fall {
	cow, _ := Kinds.Find("cow with calf")
	f := Fall{From: day(2026, time.July, 10), To: day(2026, time.July, 10).AddDays(40 + r.IntN(70))}
	days := f.To.DaysSince(f.From) + 1
	for h := range 1 + r.IntN(3) {
		herd := Herd{ID: fmt.Sprint("herd", h), Head: 5 + r.IntN(40), Kind: cow, Calving: time.March}
		if r.IntN(3) > 0 {
			herd.Paddock = fmt.Sprint("p", r.IntN(paddocks))
		}
		f.Herds = append(f.Herds, herd)
	}
	plenty := []float64{0.3, 0.7, 1, 2}[r.IntN(4)]
	for j := range paddocks {
		g := Ground{ID: fmt.Sprint("p", j), Native: r.IntN(5) < 3, Standing: plenty * float64(r.IntN(60_000)) / float64(paddocks), Need: r.IntN(3)}
		g.Cool = !g.Native
		if g.Native {
			g.Until = f.From.AddDays(10 + 7*r.IntN(1+days/9))
		}
		grows := plenty * float64(r.IntN(3000)) / float64(paddocks)
		for range days {
			g.Grows = append(g.Grows, grows)
		}
		if barred && r.IntN(4) == 0 {
			g.Barred = []string{f.Herds[r.IntN(len(f.Herds))].ID}
		}
		f.Ground = append(f.Ground, g)
	}
	return f
}

// optimum is the most that a fall's herds can eat, lb, by GLPK: x is what herd i
// eats off ground j on day t, s what stands there in the morning.
func optimum(t *testing.T, f Fall) float64 {
	t.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("glpk-utils: not installed: %v", err)
		}
		t.Skip("skipped: Debian's glpk-utils is not installed, and it is what the plans are measured by")
	}
	days := f.To.DaysSince(f.From) + 1
	var aim, rows bytes.Buffer
	for d := range days {
		on := f.From.AddDays(d)
		for i, h := range f.Herds {
			row := ""
			for j, g := range f.Ground {
				open := g.Until.IsZero() || on.Before(g.Until)
				if open && (len(g.Barred) == 0 || g.Barred[0] != h.ID) {
					row += fmt.Sprintf(" + x_%d_%d_%d\n", i, j, d)
				}
			}
			if row != "" {
				fmt.Fprintf(&aim, "%s", row)
				fmt.Fprintf(&rows, "%s <= %.6f\n", row, h.Demand(on))
			}
		}
	}
	for j, g := range f.Ground {
		for d := range days {
			if on := f.From.AddDays(d); !g.Until.IsZero() && !on.Before(g.Until) {
				break
			}
			eaten, all := "", ""
			for i, h := range f.Herds {
				if len(g.Barred) == 0 || g.Barred[0] != h.ID {
					eaten += fmt.Sprintf(" - x_%d_%d_%d\n", i, j, d)
					all += fmt.Sprintf(" + x_%d_%d_%d\n", i, j, d)
				}
			}
			if d == 0 {
				fmt.Fprintf(&rows, " s_%d_0 = %.6f\n", j, g.Standing)
			}
			fmt.Fprintf(&rows, "%s - s_%d_%d <= 0\n", all, j, d)
			fmt.Fprintf(&rows, " s_%d_%d%s - s_%d_%d = %.6f\n", j, d, eaten, j, d+1, -g.Grows[d])
		}
	}
	dir := t.TempDir()
	model, out := filepath.Join(dir, "fall.lp"), filepath.Join(dir, "out.txt")
	text := "Maximize\n eaten:\n" + aim.String() + "Subject To\n" + rows.String() + "End\n"
	if err := os.WriteFile(model, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command("glpsol", "--lp", model, "-o", out).CombinedOutput(); err != nil {
		t.Fatalf("glpsol: %v\n%s", err, said)
	}
	said, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`Objective:\s+eaten = (\S+) \(MAXimum\)`).FindSubmatch(said)
	if m == nil || !bytes.Contains(said, []byte("OPTIMAL")) {
		t.Fatalf("glpsol found no optimum:\n%.500s", said)
	}
	best, err := strconv.ParseFloat(string(m[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return best
}

// No plan lacks less, by an independent solver: GLPK (GNU), on each farm's linear
// programme, with herds that may not stand everywhere on every other of them.
func TestNoPlanFeedsMore(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	farms, short, worst, stays := 150, 0, 0.0, 0
	for n := range farms {
		paddocks := 2 + r.IntN(11)
		if n%10 == 9 {
			paddocks = 20 + r.IntN(20)
		}
		f := randomFall(r, paddocks, n%2 == 1)
		var demand, supply float64
		for _, h := range f.follow().Herds {
			demand, supply, stays = demand+h.Demand, supply+h.Supply, stays+len(h.stops())
		}
		best := optimum(t, f)
		gap := (best - supply) / demand
		if worst = max(worst, gap); math.Abs(gap) > 1e-5 {
			t.Errorf("farm %d of %d paddocks: found %.0f lb of %.0f, and %.0f can be had", n, paddocks, supply, demand, best)
		}
		if best < demand*0.999 {
			short++
		}
	}
	t.Logf("%d of %d farms are short; at worst %.5f %% of the demand is missed; %.1f stays a farm",
		short, farms, worst*100, float64(stays)/float64(farms))
	if short < farms/6 || short > farms-farms/6 {
		t.Errorf("%d of %d farms are short: they show too little", short, farms)
	}
}

// lacking is what all herds of a plan lack.
func lacking(f Feed) (lb float64) {
	for _, h := range f.Herds {
		lb += h.Demand - h.Supply
	}
	return lb
}

// What holds of every farm: where the herds stand, the order in which its paddocks
// are listed, changes nothing; more ground and fewer head never makes it worse.
func TestWhatMakesNoPlanWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "farm"), 1))
		f := randomFall(r, 1+r.IntN(14), r.IntN(2) == 0)
		plan := f.follow()
		lack := lacking(plan)
		worse := func(what string, g Fall, most float64) {
			if got := lacking(g.follow()); got > most+1e-3 {
				t.Fatalf("%s: %.3f lb lacking, and %.3f before", what, got, most)
			}
		}
		one, any := r.IntN(len(f.Herds)), r.IntN(len(f.Ground))
		for _, at := range []string{"", f.Ground[any].ID} {
			g := f.clone()
			g.Herds[one].Paddock = at
			worse("the herd stands elsewhere", g, lack)
			worse("the herd stands where it stood", f, lacking(g.follow()))
		}
		g := f.clone()
		g.Herds[one].Head -= r.IntN(g.Herds[one].Head + 1)
		worse("fewer head", g, lack)
		g = f.clone()
		g.Ground[any].Standing += 5000
		worse("more grass", g, lack)
		g = f.clone()
		g.Ground = append(g.Ground, Ground{ID: "more", Standing: 5000, Until: f.From.AddDays(r.IntN(60))})
		worse("more ground", g, lack)
		g = f.clone()
		r.Shuffle(len(g.Ground), func(a, b int) { g.Ground[a], g.Ground[b] = g.Ground[b], g.Ground[a] })
		if got, want := told(g.follow()), told(plan); got != want {
			t.Fatalf("listed in another order:\n%s\n%s", got, want)
		}
	})
}
