package grass

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// byHand works out the forecast the slow way: every fall, growth laid out in
// 40,001 steps, the start's error as a normal round each.
func byHand(g Growth, ask Ask) (mean, chance float64, cdf func(float64) float64) {
	const steps = 40_000
	m, sd := g.share()
	at := func(f func(grown float64) float64) float64 {
		sum, weight := 0.0, 0.0
		for k := 0; k <= steps; k++ {
			z := -9 + 18*float64(k)/steps
			w := math.Exp(-z * z / 2)
			x := max(m+z*sd, 0)
			for _, s := range ask.Ahead {
				sum += w * f(g.G0*(ask.Behind+max(s, 0))*x)
			}
			weight += w * float64(len(ask.Ahead))
		}
		return sum / weight
	}
	top := max(g.Ceiling, ask.Start)
	if g.Ceiling == 0 {
		top = MaxHeight
	}
	cdf = func(h float64) float64 {
		return at(func(grown float64) float64 { return exactPhi((h - ask.Start - grown) / g.Error) })
	}
	mean = at(func(grown float64) float64 { return exactCapped(ask.Start+grown, g.Error, top) })
	if ask.Target <= top {
		chance = 1 - cdf(ask.Target)
	}
	return mean, chance, cdf
}

func TestForecastAgreesWithTheSlowSum(t *testing.T) {
	falls := inventedFalls()[:12]
	late := make([]float64, len(falls))
	for i, s := range falls {
		late[i] = s / 5
	}
	poor, good, tight := tallPaddock(), tallPaddock(), tallPaddock()
	poor.Effect = Effect{Mean: -0.7, SD: 0.15}
	good.Effect = Effect{Mean: 0.5, SD: 0.1}
	tight.Ceiling = 19
	dead := tallPaddock()
	dead.Effect = Effect{Mean: -1, SD: 0.2}
	for _, c := range []struct {
		name string
		g    Growth
		ask  Ask
	}{
		{"8 in at cutoff on a paddock nobody has measured", tallPaddock(), Ask{Start: 8, Ahead: falls, Target: 18}},
		{"16 in a few days before frost", tallPaddock(), Ask{Start: 16, Ahead: late, Target: 18}},
		{"already 18 in", tallPaddock(), Ask{Start: 18, Ahead: late, Target: 18}},
		{"20 in with a target of 18 in", tallPaddock(), Ask{Start: 20, Ahead: late, Target: 18}},
		{"a paddock that hardly grows", poor, Ask{Start: 8, Ahead: falls, Target: 18}},
		{"a paddock that hardly grows, near its target", poor, Ask{Start: 16, Ahead: falls, Target: 18}},
		{"a paddock that grows half again as much", good, Ask{Start: 8, Ahead: falls, Target: 18}},
		{"a paddock that never grew", dead, Ask{Start: 8, Ahead: falls, Target: 10}},
		{"a year of growth ahead", good, Ask{Start: 8, Ahead: []float64{5000, 6000, 7000}, Target: 60}},
		{"leaves that stop at 19 in", tight, Ask{Start: 14, Ahead: falls, Target: 18}},
		{"the start is over the greatest leaf height", tight, Ask{Start: 21, Ahead: falls, Target: 18}},
		{"half the rest is behind it", tallPaddock(), Ask{Start: 8, Behind: 450, Ahead: late, Target: 18}},
		{"one fall left", tallPaddock(), Ask{Start: 12, Ahead: late[:1], Target: 14}},
		{"frost came today in one of the falls", tallPaddock(), Ask{Start: 12, Ahead: []float64{0, 300, 900}, Target: 14}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := c.g.Forecast(c.ask)
			mean, chance, cdf := byHand(c.g, c.ask)
			if math.Abs(f.Mean-mean) > 1e-4 {
				t.Errorf("mean %.6f in, the slow sum says %.6f", f.Mean, mean)
			}
			if math.Abs(f.Chance-chance) > 1e-5 {
				t.Errorf("chance %.7f, the slow sum says %.7f", f.Chance, chance)
			}
			top := max(c.g.Ceiling, c.ask.Start)
			if p := cdf(f.Low); math.Abs(p-0.1) > 1e-5 && f.Low < top {
				t.Errorf("low %.4f in has %.6f below it, want 0.1", f.Low, p)
			}
			if p := cdf(f.High); math.Abs(p-0.9) > 1e-5 && f.High < top || p > 0.9+1e-5 {
				t.Errorf("high %.4f in has %.6f below it, want 0.9", f.High, p)
			}
		})
	}
}

// The rule of thumb makes every unmeasured paddock a coin flip: with the mean
// year's own heat, 8 in becomes 18 in at the middle guess.
func TestRuleOfThumbIsACoinFlip(t *testing.T) {
	f := tallPaddock().Forecast(Ask{Start: 8, Ahead: []float64{900, 900, 900}, Target: 18})
	if math.Abs(f.Chance-0.5) > 0.001 || math.Abs(f.Mean-18) > 0.01 {
		t.Errorf("chance %.3f, mean %.2f in; want 0.5 and 18", f.Chance, f.Mean)
	}
	// By hand: sd of growth 10 in x hypot(0.22, 0.20) = 2.973, with 1.5 in of
	// height error 3.330; the 10 % point is 1.2816 of that below 18 in.
	if math.Abs(f.Low-13.732) > 0.01 || math.Abs(f.High-22.268) > 0.01 {
		t.Errorf("range %.3f-%.3f in, want 13.732-22.268", f.Low, f.High)
	}
}

func TestForecastOutcomes(t *testing.T) {
	falls := inventedFalls()
	g := tallPaddock()
	for _, c := range []struct {
		name string
		g    Growth
		ask  Ask
		want bool
	}{
		{"150 falls ahead are told", g, Ask{Start: 8, Ahead: falls}, true},
		{"two falls left are told", g, Ask{Start: 8, Ahead: falls[:2]}, true},
		{"no fall left gives no chance", g, Ask{Start: 8}, false},
		{"no height", g, Ask{Ahead: falls}, false},
		{"a height below nothing", g, Ask{Start: -3, Ahead: falls}, false},
		{"a height of a tree", g, Ask{Start: 121, Ahead: falls}, false},
		{"a height that is no number", g, Ask{Start: math.NaN(), Ahead: falls}, false},
		{"a species with no pair", Growth{}, Ask{Start: 8, Ahead: falls}, false},
		{"growth below nothing", Growth{G0: -1, Effect: g.Effect}, Ask{Start: 8, Ahead: falls}, false},
		{"a belief that is no number", Growth{G0: 1, Effect: Effect{Mean: math.NaN()}}, Ask{Start: 8, Ahead: falls}, false},
		{"drought: no promise", g, Ask{Start: 8, Ahead: falls, NoRain: true}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := c.g.Forecast(c.ask)
			if f.Known() != c.want || f.Known() && f.Falls != len(c.ask.Ahead) {
				t.Errorf("%+v, want known: %v", f, c.want)
			}
			if !f.Known() && (f.Mean != 0 || f.Low != 0 || f.High != 0 || f.Chance != 0) {
				t.Errorf("an unknown forecast carries numbers: %+v", f)
			}
		})
	}
}

func TestCeiling(t *testing.T) {
	g := tallPaddock()
	g.Effect = Effect{Mean: 1.5, SD: 0.1} // a belief that would grow it to 33 in
	ask := Ask{Start: 8, Ahead: inventedFalls(), Target: 18}
	g.Ceiling = 0
	if f := g.Forecast(ask); f.High < 40 {
		t.Fatalf("without a ceiling the high is %.1f in: the case shows nothing", f.High)
	}
	g.Ceiling = 20
	f := g.Forecast(ask)
	if f.High > 20 || f.Mean > 20 {
		t.Errorf("leaves that stop at 20 in are forecast at %.1f, high %.1f", f.Mean, f.High)
	}
	ask.Target = 24
	if c := g.Chance(ask); c != 0 {
		t.Errorf("chance of 24 in under a ceiling of 20 in is %.2f", c)
	}
}

// TestHotDrySummer: heat without rain grows less, not more. In invented hot dry
// falls with 15 % more heat and 30 % less growth, a forecast that believes the
// heat is worse than one that holds it to the mean year.
func TestHotDrySummer(t *testing.T) {
	g := tallPaddock()
	const gone, meanGone, left = 690.0, 600.0, 300.0
	truth := 8 + g.G0*(meanGone+left)*0.7
	with := g.Forecast(Ask{Start: 8, Behind: Heat(gone, meanGone, false), Ahead: []float64{left, left, left}, Target: 18})
	without := g.Forecast(Ask{Start: 8, Behind: gone, Ahead: []float64{left, left, left}, Target: 18})
	if !(with.Mean < without.Mean && with.Chance < without.Chance) {
		t.Errorf("with the rule %.1f in and %.2f, without %.1f in and %.2f", with.Mean, with.Chance, without.Mean, without.Chance)
	}
	if math.Abs(with.Mean-truth) >= math.Abs(without.Mean-truth) {
		t.Errorf("the rule does not help: truth %.1f in, with %.1f, without %.1f", truth, with.Mean, without.Mean)
	}
}

func TestHeat(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name           string
		observed, mean float64
		rain           bool
		want           float64
	}{
		{"hot and wet counts in full", 700, 600, true, 700},
		{"hot and dry, or rain unknown, is held to the mean year", 700, 600, false, 600},
		{"cool and dry counts as it was", 500, 600, false, 500},
		{"cool and wet counts as it was", 500, 600, true, 500},
		{"heat unknown is the mean year's", nan, 600, true, 600},
		{"heat below nothing is the mean year's", -1, 600, true, 600},
		{"nothing known is nothing", nan, nan, false, 0},
		{"no mean year and no rain is nothing", 500, math.Inf(1), false, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Heat(c.observed, c.mean, c.rain); got != c.want {
				t.Errorf("got %g, want %g", got, c.want)
			}
		})
	}
}

func TestDaysTaper(t *testing.T) {
	// By hand: 1+2+...+45 over 45 = 23.
	if got := DaysTaper(45, 0); math.Abs(got-23) > 1e-9 {
		t.Errorf("the last 45 days count %g, want 23", got)
	}
	if got := DaysTaper(60, 45); got != 15 {
		t.Errorf("15 full days count %g", got)
	}
	if got := DaysTaper(10, -20) - DaysTaper(10, 0); got != 0 {
		t.Errorf("days after the frost count %g", got)
	}
	if DaysTaper(0, 0) != 0 || DaysTaper(-5, 0) != 0 || DaysTaper(5, 10) != 0 {
		t.Error("no days must count nothing")
	}
}

// anyAsk draws a sensible forecast.
func anyAsk(t *rapid.T) (Growth, Ask) {
	g := tallPaddock()
	g.Effect = Effect{
		Mean: rapid.Float64Range(-0.9, 1).Draw(t, "effect"),
		SD:   rapid.Float64Range(0.05, 0.25).Draw(t, "sd"),
	}
	g.Ceiling = rapid.SampledFrom([]float64{0, 20, 36, 48}).Draw(t, "ceiling")
	return g, Ask{
		Start:  rapid.Float64Range(2, 30).Draw(t, "start"),
		Behind: rapid.Float64Range(0, 900).Draw(t, "behind"),
		Ahead:  rapid.SliceOfN(rapid.Float64Range(0, 1800), 1, 30).Draw(t, "ahead"),
		Target: rapid.Float64Range(4, 30).Draw(t, "target"),
	}
}

func TestChanceRisesWithHeightAndRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, ask := anyAsk(t)
		base := g.Forecast(ask)
		const slack = 1e-6
		up := ask
		up.Start += rapid.Float64Range(0, 5).Draw(t, "more height")
		if f := g.Forecast(up); f.Chance < base.Chance-slack || f.Mean < base.Mean-1e-4 || f.Low < base.Low-1e-4 || f.High < base.High-1e-4 {
			t.Fatalf("%.2f in instead of %.2f: %+v after %+v", up.Start, ask.Start, f, base)
		}
		more := ask
		more.Behind += rapid.Float64Range(0, 600).Draw(t, "more heat")
		if f := g.Forecast(more); f.Chance < base.Chance-slack && ask.Start <= ask.Target {
			t.Fatalf("S %.1f more: chance %.6f after %.6f", more.Behind-ask.Behind, f.Chance, base.Chance)
		} else if f.Mean < base.Mean-1e-4 {
			t.Fatalf("S %.1f more: mean %.4f after %.4f", more.Behind-ask.Behind, f.Mean, base.Mean)
		}
	})
}

func TestForecastKeepsItsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, ask := anyAsk(t)
		f := g.Forecast(ask)
		top := max(g.Ceiling, ask.Start)
		if g.Ceiling == 0 {
			top = MaxHeight
		}
		if !(0 <= f.Low && f.Low <= f.High && f.High <= top && 0 <= f.Mean && f.Mean <= top && 0 <= f.Chance && f.Chance <= 1) {
			t.Fatalf("%+v under a ceiling of %g", f, top)
		}
	})
}

// FuzzForecast: whatever comes in, nothing that is no number comes out.
func FuzzForecast(f *testing.F) {
	f.Add(8.0, 0.0, 900.0, 18.0, 0.0, 0.22, 1.0, 36.0, 1.5)
	f.Add(math.NaN(), math.Inf(1), -1.0, math.Inf(-1), -3.0, 0.0, 1e300, -1.0, 0.0)
	f.Add(1e-300, 1e308, 1e308, 120.0, 3.0, 3.0, 1e-300, 1e-300, 1e300)
	f.Fuzz(func(t *testing.T, start, behind, s, target, mean, sd, g0, ceiling, err float64) {
		g := Growth{G0: g0, Effect: Effect{Mean: mean, SD: sd}, Error: err, Ceiling: ceiling}
		ask := Ask{Start: start, Behind: behind, Ahead: []float64{s, s / 2, 0}, Target: target}
		out := g.Forecast(ask)
		cure := g.LeaveFor(ask, 0.8, 14)
		e := g.Learn([]Finished{{Start: start, End: target, S: s}})
		if !g.Known() {
			e = Effect{}
		}
		for _, x := range []float64{out.Mean, out.Low, out.High, out.Chance, g.Rate(), g.Reach(start, s),
			cure.Exact, cure.Value, cure.Chance, e.Mean, e.SD, Heat(behind, s, true)} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%+v %+v gives %+v %+v %+v", g, ask, out, cure, e)
			}
		}
		if out.Mean < 0 || out.Mean > MaxHeight || out.Low > out.High+1e-6 || out.High > MaxHeight || out.Chance < 0 || out.Chance > 1 {
			t.Fatalf("%+v %+v gives %+v", g, ask, out)
		}
	})
}
