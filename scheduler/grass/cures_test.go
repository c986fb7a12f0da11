package grass

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// restFalls gives inventedFalls' heat for another number of rest days: 22 a day
// more or less, and never below nothing.
func restFalls(days int) []float64 {
	falls := inventedFalls()
	for i := range falls {
		falls[i] = max(falls[i]+22*float64(days-45), 0)
	}
	return falls
}

// The rule of thumb in numbers on invented heat: 8 in and 45 days are a coin
// flip; what would be 80 %?
func TestCuresOfTheRuleOfThumb(t *testing.T) {
	g := tallPaddock()
	ask := Ask{Start: 8, Ahead: restFalls(45), Target: 18}
	if c := g.Chance(ask); math.Abs(c-0.5) > 0.05 {
		t.Fatalf("8 in and 45 days have a chance of %.2f", c)
	}
	leave := g.LeaveFor(ask, 0.8, 14)
	if !leave.Found || leave.Value < 10 || leave.Value > 13 || leave.Chance < 0.8 {
		t.Errorf("leave %+v", leave)
	}
	rest := g.RestFor(ask, 0.8, 30, 120, restFalls)
	if !rest.Found || rest.Value < 52 || rest.Value > 70 || rest.Chance < 0.8 {
		t.Errorf("rest %+v", rest)
	}
	t.Logf("leave %.1f in (%.0f %%), or rest %.0f days (%.0f %%)", leave.Value, 100*leave.Chance, rest.Value, 100*rest.Chance)
}

func TestCuresInvertTheForecast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := tallPaddock()
		g.Effect = Effect{Mean: rapid.Float64Range(-0.8, 0.8).Draw(t, "effect"), SD: rapid.Float64Range(0.05, 0.22).Draw(t, "sd")}
		ask := Ask{Start: rapid.Float64Range(2, 12).Draw(t, "start"), Ahead: restFalls(45), Target: rapid.Float64Range(12, 24).Draw(t, "target")}
		confidence := rapid.Float64Range(0.5, 0.95).Draw(t, "confidence")
		now := g.Chance(ask)

		leave := g.LeaveFor(ask, confidence, 16)
		at := ask
		at.Start = leave.Exact
		switch {
		case !leave.Found:
			at.Start = min(16, ask.Target)
			if c := g.Chance(at); c >= confidence+1e-6 {
				t.Fatalf("no height found, but %.2f in has %.4f", at.Start, c)
			}
		case now >= confidence:
			if leave.Exact != ask.Start {
				t.Fatalf("the present %.2f in is enough, cure %+v", ask.Start, leave)
			}
		default:
			if c := g.Chance(at); math.Abs(c-confidence) > 1e-5 {
				t.Fatalf("%+v has a chance of %.7f, asked %.7f", leave, c, confidence)
			}
			if leave.Value < leave.Exact || leave.Value-leave.Exact > 0.5 || leave.Chance < confidence-1e-5 {
				t.Fatalf("%+v for %.4f", leave, confidence)
			}
		}

		rest := g.RestFor(ask, confidence, 30, 120, restFalls)
		with := func(days int) float64 { a := ask; a.Ahead = restFalls(days); return g.Chance(a) }
		if !rest.Found {
			if c := with(120); c >= confidence {
				t.Fatalf("no rest found, but 120 days have %.4f", c)
			}
			return
		}
		if c := with(int(rest.Value)); c < confidence || math.Abs(c-rest.Chance) > 1e-12 {
			t.Fatalf("%+v, chance there %.6f", rest, c)
		}
		if rest.Value > 30 && with(int(rest.Value)-1) >= confidence {
			t.Fatalf("%+v, but a day less is enough too", rest)
		}
	})
}

func TestNoSensibleRestReachesIt(t *testing.T) {
	g := tallPaddock()
	g.Effect = Effect{Mean: -0.9, SD: 0.05}
	ask := Ask{Start: 6, Ahead: restFalls(45), Target: 18}
	if c := g.RestFor(ask, 0.8, 30, 120, restFalls); c.Found || c.Value != 120 || c.Chance >= 0.8 {
		t.Errorf("rest %+v", c)
	}
	if c := g.LeaveFor(ask, 0.8, 14); c.Found || c.Value != 14 || c.Chance >= 0.8 {
		t.Errorf("leave %+v", c)
	}
}

func TestCuresOfNonsense(t *testing.T) {
	g := tallPaddock()
	ask := Ask{Start: 8, Ahead: restFalls(45), Target: 18}
	for _, confidence := range []float64{0, 1, -1, 2, math.NaN()} {
		if g.LeaveFor(ask, confidence, 14).Found || g.RestFor(ask, confidence, 30, 120, restFalls).Found {
			t.Errorf("a confidence of %g has a cure", confidence)
		}
	}
	if g.RestFor(ask, 0.8, 60, 30, restFalls).Found || g.RestFor(ask, 0.8, 30, 60, nil).Found {
		t.Error("no days to choose from, yet a cure")
	}
	none := func(int) []float64 { return nil }
	if g.RestFor(ask, 0.8, 30, 60, none).Found {
		t.Error("no falls, yet a cure")
	}
	if (Growth{}).LeaveFor(ask, 0.8, 14).Found {
		t.Error("no growth, yet a cure")
	}
}
