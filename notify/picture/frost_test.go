package picture

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"math"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/frost"
)

// seattle is the spread in the committed Seattle record.
func seattle(t testing.TB, th frost.Threshold) frost.Distribution {
	t.Helper()
	r, err := frost.ReadFile("../../scheduler/frost/testdata/seattle-weather.csv", frost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r.Distribution(th, frost.Pick{})
}

func byHand(t testing.TB, month time.Month, day int, spread float64) frost.Distribution {
	t.Helper()
	d, err := frost.HandDistribution(month, day, spread)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func drawnIn(t testing.TB, c Chart, format Format) []byte {
	t.Helper()
	data, err := c.In(format)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// frostCharts are charts of every kind, the awkward ones first.
func frostCharts(t testing.TB) map[string]FrostChart {
	return map[string]FrostChart{
		"a date without spread":             {Threshold: "32F", Spread: byHand(t, time.October, 18, 0), PlanOffset: 78, Rest: 45},
		"no plan":                           {Threshold: "32F", Spread: seattle(t, frost.Freeze32F), PlanOffset: math.NaN()},
		"plan without rest":                 {Threshold: "32F", Spread: seattle(t, frost.Freeze32F), PlanOn: frost.Level(20), PlanOffset: 102.2},
		"a rest longer than the fall":       {Threshold: "36F", Spread: byHand(t, time.August, 20, 10), PlanOffset: 19, Rest: 150},
		"a date at the season's end":        {Threshold: "28F", Spread: byHand(t, time.December, 31, 1), PlanOffset: 152, Rest: 10},
		"falls without frost":               {Threshold: "28F", Spread: seattle(t, frost.KillingFreeze28F), PlanOn: frost.Level(20), PlanOffset: 119.6, Rest: 45},
		"a frost pocket before every frost": {Threshold: "32F", Spread: seattle(t, frost.Freeze32F), PlanOn: frost.Level(10), PlanOffset: 40, Rest: 60},
		"a date by hand":                    {Threshold: "32F", Spread: byHand(t, time.October, 18, 10), PlanOffset: 78, Rest: 45},
	}
}

func TestAFrostChartIsWholeAndGray(t *testing.T) {
	for name, c := range frostCharts(t) {
		t.Run(name, func(t *testing.T) {
			img, err := png.Decode(bytes.NewReader(drawnIn(t, c, PNG)))
			if err != nil {
				t.Fatal(err)
			}
			if size := img.Bounds().Size(); size != (image.Point{X: 1144, Y: 880}) {
				t.Errorf("size %v, want 1144 by 880", size)
			}
			checkInk(t, img)
		})
	}
}

// checkInk says whether a picture has ink, only gray ink, and none on its rim,
// where a word would be cut off.
func checkInk(t *testing.T, img image.Image) {
	t.Helper()
	box, dark := img.Bounds(), 0
	flat := image.NewRGBA(box)
	draw.Draw(flat, box, img, box.Min, draw.Src)
	rim := box.Inset(4)
	for i := 0; i < len(flat.Pix); i += 4 {
		at := image.Point{X: i / 4 % box.Dx(), Y: i / 4 / box.Dx()}
		r, g, b := flat.Pix[i], flat.Pix[i+1], flat.Pix[i+2]
		if r != g || g != b {
			t.Fatalf("color at %v", at)
		}
		if r > 0x80 {
			continue
		}
		dark++
		if !at.In(rim) {
			t.Fatalf("ink on the rim at %v", at)
		}
	}
	if dark < 5000 {
		t.Errorf("%d dark dots, too few for a chart", dark)
	}
}

func TestTheSameFallsMakeTheSameChart(t *testing.T) {
	for name, c := range frostCharts(t) {
		for _, format := range []Format{PNG, SVG} {
			if !bytes.Equal(drawnIn(t, c, format), drawnIn(t, c, format)) {
				t.Errorf("%s as %s differs between two draws", name, format)
			}
		}
	}
}

func TestAFrostChartSaysItInWords(t *testing.T) {
	c := FrostChart{Threshold: "32F", Spread: seattle(t, frost.Freeze32F), PlanOn: frost.Level(20), PlanOffset: 102.2, Rest: 45}
	svg := string(drawnIn(t, c, SVG))
	for _, want := range []string{">First fall frost of 32F<", ">4 falls, 2012 to 2015, a dot for each<", ">plan: 20%<", ">Nov 11<", ">cutoff<", ">Sep 27<", ">45 days of rest<", ">10 % by Nov 11<", ">90 % by Nov 22<", ">1 of 4<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in the chart", want)
		}
	}
	if strings.Contains(svg, "font-family:Liberation Sans;") {
		t.Error("a font without another to stand in for it")
	}
	cold := FrostChart{Threshold: "28F", Spread: seattle(t, frost.KillingFreeze28F), PlanOffset: math.NaN()}
	if svg := string(drawnIn(t, cold, SVG)); !strings.Contains(svg, "; 1 without one by Dec 31<") || !strings.Contains(svg, ">90 % past Dec 31<") {
		t.Error("the fall without a frost is not told")
	}
}

func TestAFrostChartThatCannotBeDrawnSaysWhy(t *testing.T) {
	for want, c := range map[string]FrostChart{
		"no season on record counts": {Threshold: "32F"},
		"is neither png nor svg":     {Spread: byHand(t, time.October, 18, 0), PlanOffset: 78},
	} {
		if _, err := c.In("gif"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}

func TestTheDayScaleNamesTheFirstOfEachMonth(t *testing.T) {
	var names []string
	for _, tick := range (dayTicks{}).Ticks(20, 80) {
		names = append(names, tick.Label)
	}
	if got := strings.Join(names, ", "); got != "Sep 1, Sep 15, Oct 1, Oct 15" {
		t.Errorf("days %s", got)
	}
	if ticks := (dayTicks{}).Ticks(0, 152); len(ticks) != 10 || ticks[1].Label != "" || ticks[2].Label != "Sep 1" {
		t.Errorf("over a whole season: %+v", ticks)
	}
}
