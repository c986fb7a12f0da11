package frost_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stubbled/scheduler/frost"
)

func TestAThresholdCatchesTheNightsItShouldInEveryWayTheyAreKept(t *testing.T) {
	for _, c := range []struct {
		threshold string
		reached   []frost.Temp
		not       []frost.Temp
	}{
		// Tenths of a degree C: 28 F is kept as -2.2 C, 36 F as 2.2 C.
		{"32F", []frost.Temp{0, -100}, []frost.Temp{100}},
		{"28F", []frost.Temp{-2200, -2300}, []frost.Temp{-2100}},
		{"36F", []frost.Temp{2200, 2100}, []frost.Temp{2300}},
		{"31F", []frost.Temp{-600}, []frost.Temp{-500}},
		{"24F", []frost.Temp{-4400}, []frost.Temp{-4300}},
		// Whole degrees F, kept as such.
		{"28F", []frost.Temp{frost.FromF(28)}, []frost.Temp{frost.FromF(29), frost.FromF(28.1)}},
		{"36F", []frost.Temp{frost.FromF(36)}, []frost.Temp{frost.FromF(37), frost.FromF(36.1)}},
		{"32 F", []frost.Temp{frost.FromF(32)}, []frost.Temp{frost.FromF(32.1)}},
		// Hundredths of a degree C.
		{"36F", []frost.Temp{2220}, []frost.Temp{2230}},
		{"28F", []frost.Temp{-2220}, []frost.Temp{-2190}},
		// A threshold in C is met as it stands.
		{"-2.2C", []frost.Temp{-2200}, []frost.Temp{-2199, frost.NoTemp}},
		{"0c", []frost.Temp{0}, []frost.Temp{1, frost.NoTemp}},
		{"-2.25 °C", []frost.Temp{-2250}, []frost.Temp{-2200}},
	} {
		th, err := frost.ParseThreshold(c.threshold)
		if err != nil {
			t.Fatal(err)
		}
		for _, min := range c.reached {
			if !th.Reached(min) {
				t.Errorf("%s does not count %v", c.threshold, min)
			}
		}
		for _, min := range c.not {
			if th.Reached(min) {
				t.Errorf("%s counts %v", c.threshold, min)
			}
		}
	}
}

func TestAThresholdIsNamedAsItWasWritten(t *testing.T) {
	for text, want := range map[string]string{"32F": "32F", " 28 f": "28F", "0C": "0C", "-2.2 °C": "-2.2C", "+36F": "36F"} {
		th, err := frost.ParseThreshold(text)
		if err != nil || th.String() != want {
			t.Errorf("%q is %v (%v), want %s", text, th, err, want)
		}
		again, err := frost.ParseThreshold(th.String())
		if err != nil || again != th {
			t.Errorf("%q read back is %v (%v)", th.String(), again, err)
		}
	}
	if !frost.KillingFreeze28F.Colder(frost.Freeze32F) || frost.Frost36F.Colder(frost.Freeze32F) {
		t.Error("28 F is colder than 32 F, and 36 F is not")
	}
}

func TestAThresholdThatIsNoneSaysWhatIsWrong(t *testing.T) {
	for text, want := range map[string]string{
		"32":       "has no unit; write it as 32F or 0C",
		"":         "has no unit",
		"F":        "is no number with a unit",
		"thirtyF":  "is no number with a unit",
		"3 2F":     "is no number with a unit",
		"320F":     "is no frost",
		"12C":      "is no frost",
		"-50F":     "is no frost",
		"1e1F":     "is no number",
		"9999999F": "is no number",
		"NaNF":     "is no number",
	} {
		if th, err := frost.ParseThreshold(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is %v with error %v, want %q", text, th, err, want)
		}
	}
}

// The formula values are F = C x 9/5 + 32 (USDA-FS conversion table).
func TestDegreesCAndFAgreeWithTheFormula(t *testing.T) {
	for _, c := range []struct{ f, c float64 }{{36, 2.22}, {32, 0}, {28, -2.22}, {24, -4.44}, {-40, -40}, {86, 30}} {
		if got := frost.FromF(c.f).C(); math.Abs(got-c.c) > 0.005 {
			t.Errorf("%g F is %g C, want %g", c.f, got, c.c)
		}
		if got := frost.FromC(c.c).F(); math.Abs(got-c.f) > 0.01 {
			t.Errorf("%g C is %g F, want %g", c.c, got, c.f)
		}
	}
	if !math.IsNaN(frost.NoTemp.C()) || !math.IsNaN(frost.NoTemp.F()) || frost.NoTemp.Known() || frost.FromF(math.NaN()) != frost.NoTemp || frost.FromC(math.Inf(1)) != frost.NoTemp {
		t.Error("a missing temperature turned into a value")
	}
}

func TestATypedTemperatureNeedsItsUnit(t *testing.T) {
	for text, want := range map[string]frost.Temp{"31F": -556, "-0.5 C": -500, "28.04 °F": -2200} {
		if got, err := frost.ParseTemp(text); err != nil || got != want {
			t.Errorf("%q is %d (%v), want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"31", "cold", "500F", "-100C"} {
		if got, err := frost.ParseTemp(text); err == nil {
			t.Errorf("%q is %v, want an error", text, got)
		}
	}
	for temp, want := range map[frost.Temp]string{-2200: "-2.2 C", 0: "0.0 C", -2222: "-2.222 C", 10000: "10.0 C", frost.NoTemp: "missing"} {
		if temp.String() != want {
			t.Errorf("%d is %q, want %q", temp, temp.String(), want)
		}
	}
}

func TestEveryTenthOfADegreeCSurvivesTheWayThroughF(t *testing.T) {
	for tenth := -900; tenth <= 600; tenth++ {
		want := frost.Temp(tenth * 100)
		f := float64(tenth)*0.18 + 32
		if got := frost.FromF(math.Round(f*100) / 100); got != want {
			t.Fatalf("%v through %.2f F is %v", want, f, got)
		}
	}
}

func TestAColderNightThanAFrostIsAFrost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := rapid.SampledFrom([]frost.Threshold{frost.Frost36F, frost.Freeze32F, frost.KillingFreeze28F}).Draw(t, "threshold")
		a := frost.Temp(rapid.IntRange(-5000, 5000).Draw(t, "a"))
		b := frost.Temp(rapid.IntRange(-5000, 5000).Draw(t, "b"))
		if th.Reached(max(a, b)) && !th.Reached(min(a, b)) {
			t.Fatalf("%v counts %v and not the colder %v", th, max(a, b), min(a, b))
		}
	})
}
