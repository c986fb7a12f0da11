package values

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/scheduler/ladder"
)

func TestQuantitiesBecomeTheUnitsOfTheTrade(t *testing.T) {
	for _, c := range []struct {
		name    string
		measure measure
		text    string
		want    float64
		within  float64
		source  string
	}{
		{"inches stay inches", lengths, "8in", 8, 0, "-"},
		{"a blank before the unit", lengths, "8 in", 8, 0, "-"},
		{"the inch mark", lengths, `8"`, 8, 0, "-"},
		{"capitals don't matter", lengths, "8 IN", 8, 0, "-"},
		{"1 in is 2.54 cm", lengths, "2.54 cm", 1, 1e-12, "USDA Forest Service; K-State"},
		{"20 cm", lengths, "20 cm", 7.874, 5e-4, "USDA Forest Service; K-State"},
		{"a foot and a half", lengths, "1.5 ft", 18, 1e-12, "-"},
		{"an acre is 0.4047 ha", areas, "0.4047 ha", 1, 1e-4, "USDA Forest Service"},
		{"9 ha", areas, "9 ha", 22.239, 1e-3, "NIST SP 811 factor 0.40468564, from memory"},
		{"acres stay acres", areas, "22 acres", 22, 0, "-"},
		{"1 lb is 0.4536 kg", weights, "0.4536 kg", 1, 1e-4, "USDA Forest Service"},
		{"450 kg is about 1,000 lb", weights, "450 kg", 1000, 10, "Rangelands Gateway glossary, animal unit"},
		{"six weeks are 42 days", dayCounts, "6 weeks", 42, 0, "-"},
		{"a frost pocket is earlier", dayCounts, "-5 days", -5, 0, "-"},
		{"a percentage", percents, "80%", 80, 0, "-"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.measure.in(-1e9, 1e9)(c.text)
			if err != nil || math.Abs(got-c.want) > c.within {
				t.Errorf("%q = %v, %v; want %v (%s)", c.text, got, err, c.want, c.source)
			}
		})
	}
}

func TestABareNumberOrAWrongUnitIsNeverAQuantity(t *testing.T) {
	all := map[string]measure{"length": lengths, "area": areas, "days": dayCounts, "weight": weights, "percent": percents, "span": spans}
	texts := []string{"", " ", "8", "8.5", "-3", "in", "8 8 in", "8,5 in", "1e3 in", "0x8in", "NaN in", "Inf days", "8 in.", "١٢ in",
		"8 furlongs", "99999999999 in", "8..5 in", "--8 in", "8 in 2", "8\nin", "½ in"}
	for kind, m := range all {
		for _, text := range texts {
			if v, err := m.in(-1e9, 1e9)(text); err == nil {
				t.Errorf("%s %q was taken for %v", kind, text, v)
			} else if !strings.Contains(err.Error(), m.want) {
				t.Errorf("%s %q: %q doesn't say what to write", kind, text, err)
			}
		}
	}
	for text, m := range map[string]measure{"8 in": dayCounts, "8 days": lengths, "8 kg": areas, "8 acres": weights, "8F": percents} {
		if v, err := m.in(-1e9, 1e9)(text); err == nil {
			t.Errorf("%q was taken for %v", text, v)
		}
	}
}

func TestWhateverIsWrittenInOneUnitIsTheSameInTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := float64(rapid.IntRange(1, 120_00).Draw(t, "hundredths")) / 100
		inches, err := lengths.in(0, 1e4)(trim(n) + "in")
		if err != nil {
			t.Fatal(err)
		}
		cm, err := lengths.in(0, 1e4)(trim(n*2.54) + " cm")
		if err != nil || math.Abs(inches-cm) > 1e-6 {
			t.Fatalf("%g in is %g, the same in cm is %g, %v", n, inches, cm, err)
		}
	})
}

func trim(n float64) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(n, 'f', 6, 64), "0"), ".")
}

func TestDaysOfTheYear(t *testing.T) {
	for text, want := range map[string][2]int{"10-18": {10, 18}, "2-29": {2, 29}, "12-31": {12, 31}, "04-01": {4, 1}} {
		got, err := parseMonthDay(text)
		if err != nil || got.Month != want[0] || got.Day != want[1] {
			t.Errorf("%q = %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"02-30", "13-01", "00-10", "10-00", "11-31", "10/18", "10-18-2026", "18.10.", "Oct 18", "", "1018", "10-1x"} {
		if got, err := parseMonthDay(text); err == nil {
			t.Errorf("%q was taken for %v", text, got)
		}
	}
}

func TestQuietHoursMayCrossMidnight(t *testing.T) {
	q, err := parseQuiet("21:00-06:00")
	if err != nil || q.From != 21*60 || q.To != 6*60 {
		t.Errorf("got %v, %v", q, err)
	}
	if q, err := parseQuiet("none"); err != nil || q != (ladder.QuietHours{}) {
		t.Errorf("none: %v, %v", q, err)
	}
	for _, text := range []string{"21-6", "21:00", "21:00-25:00", "21:00-06:60", "06:00-06:00", "9pm-6am", ""} {
		if q, err := parseQuiet(text); err == nil {
			t.Errorf("%q was taken for %v", text, q)
		}
	}
}

func TestRatesOfAProvider(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"1 per second": time.Second, "1 per 5 s": 5 * time.Second, "12 per minute": 5 * time.Second, "2 per second": 500 * time.Millisecond,
	} {
		if got, err := parseRate(text); err != nil || got != want {
			t.Errorf("%q = %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"5", "5/s", "0 per second", "1 per 0 s", "per second", "1 per day"} {
		if got, err := parseRate(text); err == nil {
			t.Errorf("%q was taken for %v", text, got)
		}
	}
}

// Texas A&M E-319: 5 ft wide and 6 ft high is 1,584 lb.
func TestABaleIsWrittenByItsWeightOrItsSize(t *testing.T) {
	for text, want := range map[string]float64{"1100 lb": 1100, "500 kg": 1102, "5x6": 1584, "4 x 5": 880, "5ftX5ft": 1100, "4 ft x 4 ft": 563} {
		if got, err := parseBale(text); err != nil || math.Abs(got-want) > 1 {
			t.Errorf("%q is %g lb, %v, want %g", text, got, err, want)
		}
	}
	for _, text := range []string{"1100", "5x", "9x9", "5x6 m", "round", ""} {
		if _, err := parseBale(text); err == nil || !strings.Contains(err.Error(), `such as "5x6"`) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
