package grass

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func TestPrior(t *testing.T) {
	tall, _ := Grasses.Find("eastern gamagrass")
	low, _ := Grasses.Find("sideoats grama")
	fescue, _ := Grasses.Find("tall fescue")
	for _, c := range []struct {
		name string
		sp   Species
		s    float64
		soil Soil
		want float64 // G0
	}{
		{"8 to 18 in over 900 degree-days", tall, 900, Average, 10.0 / 900},
		{"the same on dry ground", tall, 900, Dry, 8.0 / 900},
		{"the same on moist ground", tall, 900, Moist, 11.5 / 900},
		{"sideoats 4 to 8 in", low, 800, Average, 4.0 / 800},
		{"days instead of heat", tall, 23, Average, 10.0 / 23},
		{"ground that is no native has no pair", fescue, 900, Average, 0},
		{"no heat in the last 45 days", tall, 0, Average, 0},
		{"heat below nothing", tall, -5, Average, 0},
		{"heat that is no number", tall, math.NaN(), Average, 0},
		{"heat without end", tall, math.Inf(1), Average, 0},
		{"no species", Species{}, 900, Average, 0},
		{"a soil nobody knows is average", tall, 900, "gravel", 10.0 / 900},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := Prior(c.sp, c.s, c.soil)
			if math.Abs(g.G0-c.want) > 1e-15 {
				t.Errorf("g0 %g, want %g", g.G0, c.want)
			}
			if g.Known() != (c.want > 0) {
				t.Errorf("known %v", g.Known())
			}
		})
	}
	if got := HeightError(8); math.Abs(got-1.5*8/18) > 1e-12 {
		t.Errorf("height error for 8 in is %g", got)
	}
	if HeightError(0) != 1.5 || HeightError(math.NaN()) != 1.5 {
		t.Error("without a target the height error is that of 18 in")
	}
}

// One season by hand: expected 10 in, grew 7. r = -0.3; the noise of its
// difference is 2 x 1.5^2 / 10^2 = 0.045, with the year's 0.04 its variance is
// 0.085; the prior's is 0.0484. The mean is -0.3 x 0.0484 / 0.1334 = -0.10885
// and the variance 0.0484 x 0.085 / 0.1334 = 0.030840, sd 0.17561.
func TestLearnOneSeasonByHand(t *testing.T) {
	g := tallPaddock()
	e := g.Learn([]Finished{{Year: 2025, Start: 8, End: 15, S: 900}})
	if math.Abs(e.Mean+0.108846) > 1e-5 || math.Abs(e.SD-0.175613) > 1e-5 || e.Seasons != 1 {
		t.Errorf("got %+v, want mean -0.10885, sd 0.17561 of 1 season", e)
	}
}

func TestWhatTeaches(t *testing.T) {
	g := tallPaddock()
	ok := Finished{Year: 2024, Start: 8, End: 17, S: 900}
	for _, c := range []struct {
		name string
		f    Finished
		why  Reason
	}{
		{"a season with no height at the end", Finished{Year: 2025, Start: 8, S: 900}, NoHeight},
		{"a season with no height at the start", Finished{Year: 2025, End: 17, S: 900}, NoHeight},
		{"a height of 300 in", Finished{Year: 2025, Start: 8, End: 300, S: 900}, NoHeight},
		{"a height that is no number", Finished{Year: 2025, Start: math.NaN(), End: 12, S: 900}, NoHeight},
		{"no heat known", Finished{Year: 2025, Start: 8, End: 17}, NoHeat},
		{"heat that is no number", Finished{Year: 2025, Start: 8, End: 17, S: math.NaN()}, NoHeat},
		{"frost the day after the start", Finished{Year: 2025, Start: 8, End: 8, S: 1}, NoHeat},
		{"hail took 6 in", Finished{Year: 2025, Start: 12, End: 6, S: 900}, Shrank},
		{"the leaves stopped growing at the top", Finished{Year: 2025, Start: 30, End: 36, S: 900}, AtTop},
	} {
		t.Run(c.name, func(t *testing.T) {
			with, without := g.Learn([]Finished{ok, c.f}), g.Learn([]Finished{ok})
			if with.Mean != without.Mean || with.SD != without.SD || with.Seasons != 1 {
				t.Errorf("it taught: %+v, without it %+v", with, without)
			}
			if len(with.Left) != 1 || with.Left[0] != (Untaught{2025, c.why}) {
				t.Errorf("left %v, want 2025: %s", with.Left, c.why)
			}
		})
	}
	t.Run("a loss within the error of two readings counts as it stands", func(t *testing.T) {
		if e := g.Learn([]Finished{{Start: 8, End: 7, S: 900}}); e.Seasons != 1 || e.Mean >= 0 {
			t.Errorf("got %+v", e)
		}
	})
}

// Hail, elk, a neighbour's cattle: learned from as if it were growth, one such
// season takes a quarter off every forecast of the paddock.
func TestHailDoesNotCondemnThePaddock(t *testing.T) {
	g := tallPaddock()
	hail := Finished{Year: 2025, Start: 12, End: 5, S: 900}
	r, w := g.evidence(hail)
	naive := r * w / (1/(PaddockSpread*PaddockSpread) + w)
	if naive > -0.25 {
		t.Fatalf("learned as growth it only costs %.2f: the case shows nothing", naive)
	}
	if e := g.Learn([]Finished{hail}); e.Mean != 0 || e.Seasons != 0 {
		t.Errorf("hail taught %+v", e)
	}
}

// A paddock that grows double ends each fall at the greatest leaf height. Taken
// at face value those seasons say it grows little.
func TestSeasonsAtTheCeilingSayAtLeast(t *testing.T) {
	g := tallPaddock()
	g.Ceiling = 20
	capped := []Finished{{Year: 2022, Start: 14, End: 20, S: 900}, {Year: 2023, Start: 15, End: 20, S: 900}, {Year: 2024, Start: 14, End: 20, S: 900}}
	sum := beliefs{0, 1 / (PaddockSpread * PaddockSpread)}
	for _, f := range capped {
		sum.add(g.evidence(f))
	}
	if sum.mean() > -0.15 {
		t.Fatalf("at face value they teach %.2f: the case shows nothing", sum.mean())
	}
	if e := g.Learn(capped); e.Mean != 0 || len(e.Left) != 3 {
		t.Errorf("they taught %+v", e)
	}
	if e := g.Learn([]Finished{{Year: 2025, Start: 6, End: 20, S: 900}}); e.Mean <= 0.1 || e.Seasons != 1 {
		t.Errorf("from 6 in to the top is at least 14 in of growth: taught %+v", e)
	}
}

// TestOneDroughtFall: a single spread, all of it the paddock's own, believes one
// drought fall almost whole. The split takes it for the year's as much as the
// paddock's, and the chances stay honest.
func TestOneDroughtFall(t *testing.T) {
	single := func(g Growth, fs []Finished) Growth {
		spread := math.Hypot(PaddockSpread, YearSpread)
		b := beliefs{0, 1 / (spread * spread)}
		for _, f := range fs {
			expected := g.G0 * f.S
			noise := g.Error / expected
			b.add((f.End-f.Start)/expected-1, 1/(2*noise*noise))
		}
		// The forecast adds the year's spread by itself: take it out of the belief.
		left := math.Sqrt(max(1/b.weight-YearSpread*YearSpread, 0))
		g.Effect = Effect{Mean: b.mean(), SD: left}
		return g
	}
	drought := []Finished{{Year: 2023, Start: 8, End: 12, S: 900}}
	g := tallPaddock()
	if one, split := single(g, drought).Effect.Mean, g.Learn(drought).Mean; one > 1.5*split {
		t.Errorf("one drought fall: a single spread learns %.2f, the split %.2f", one, split)
	}
	// Every invented paddock had one drought fall behind it, and ordinary ones
	// to come: nobody told the forecast that it was a drought.
	after := worlds[0]
	history := func(learn func(Growth, []Finished) Growth) func(Growth, []Finished) Growth {
		return func(g Growth, fs []Finished) Growth {
			for i := range fs {
				fs[i].End -= 0.35 * g.G0 * fs[i].S
			}
			return learn(g, fs)
		}
	}
	one := cameTrue(after, 0.8, 1, 2000, history(single))
	split := cameTrue(after, 0.8, 1, 2000, history(Growth.With))
	t.Logf("after one drought fall: of stated 80 %% a single spread makes %.1f %%, the split %.1f %%", 100*one, 100*split)
	if split > 0.9 || one < split+0.015 { // the same paddocks and falls in both
		t.Errorf("of stated 80 %% a single spread makes %.1f %%, the split %.1f %%", 100*one, 100*split)
	}
}

func TestLearningNarrowsAndDoesNotMindTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := tallPaddock()
		n := rapid.IntRange(1, 8).Draw(t, "seasons")
		fs := make([]Finished, n)
		for i := range fs {
			fs[i] = Finished{
				Year:  2000 + i,
				Start: rapid.Float64Range(2, 16).Draw(t, "start"),
				End:   rapid.Float64Range(2, 40).Draw(t, "end"),
				S:     rapid.Float64Range(0, 1500).Draw(t, "s"),
			}
		}
		e := g.Learn(fs)
		if e.SD > g.Effect.SD || e.SD <= 0 || e.Seasons+len(e.Left) != n {
			t.Fatalf("%+v of %d seasons", e, n)
		}
		r := rand.New(rand.NewPCG(1, uint64(n)))
		r.Shuffle(n, func(i, j int) { fs[i], fs[j] = fs[j], fs[i] })
		if again := g.Learn(fs); math.Abs(again.Mean-e.Mean) > 1e-9 || math.Abs(again.SD-e.SD) > 1e-12 {
			t.Fatalf("in another order %+v, before %+v", again, e)
		}
	})
}

func TestReach(t *testing.T) {
	g := tallPaddock()
	if got := g.Reach(8, 900); math.Abs(got-18) > 0.01 {
		t.Errorf("8 in and 900 degree-days reach %.2f in", got)
	}
	if got := g.Reach(8, 0); math.Abs(got-8) > 0.01 {
		t.Errorf("no heat reaches %.2f in", got)
	}
	if got := (Growth{}).Reach(8, 900); got != 8 {
		t.Errorf("unknown growth reaches %.2f in", got)
	}
	if got := g.Reach(math.NaN(), 900); got != 0 {
		t.Errorf("no height reaches %.2f in", got)
	}
	if got, want := g.Rate()*900, g.Reach(8, 900)-8; math.Abs(got-want) > 0.01 {
		t.Errorf("rate gives %.3f in, reach %.3f", got, want)
	}
}
