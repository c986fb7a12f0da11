package demo_test

import (
	"bytes"
	"flag"
	"math"
	"os"
	"testing"

	"stubbled/scheduler/frost"
)

var update = flag.Bool("update", false, "write the record anew")

func TestTheRecordInTheBinaryIsWhatTheGeneratorWrites(t *testing.T) {
	var got bytes.Buffer
	if err := write(&got); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("quail-fork.csv", got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("quail-fork.csv")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Error("quail-fork.csv differs from the generator's output; run go test ./config/demo -update")
	}
	if len(want) > 400<<10 {
		t.Errorf("the record has %d bytes, want under 400 KB", len(want))
	}
	if !bytes.HasPrefix(want, []byte("# INVENTED")) {
		t.Error("the record doesn't say in its first line that it is invented")
	}
}

// Average first frost at Manhattan, Kansas is Oct 14 (K-State, Knapp 2017), and
// 28 F follows 32 F by 9-13 days over 28 towns (NWS Kansas City, Autumn 2009
// Frost/Freeze Information; derived).
func TestTheInventedFallsAreLikeThoseOfEasternKansas(t *testing.T) {
	rec := record(t)
	freeze := rec.Distribution(frost.Freeze32F, frost.Pick{})
	killing := rec.Distribution(frost.KillingFreeze28F, frost.Pick{})
	if freeze.Counted() != lastYear-firstYear+1 || freeze.Frosts() != freeze.Counted() {
		t.Errorf("%d seasons count and %d had a freeze, want %d", freeze.Counted(), freeze.Frosts(), lastYear-firstYear+1)
	}
	mean, _ := freeze.Mean()
	oct14 := 74.0 // days after Aug 1
	if math.Abs(mean-oct14) > 3 {
		t.Errorf("first 32 F on average %s, want within 3 days of Oct 14", frost.MonthDay(mean))
	}
	if sd := spread(freeze, mean); sd < 7 || sd > 11 {
		t.Errorf("first 32 F spreads %.1f days, want 7-11", sd)
	}
	hard, _ := killing.Mean()
	if gap := hard - mean; gap < 9 || gap > 13 {
		t.Errorf("28 F follows 32 F by %.1f days, want 9-13", gap)
	}
}

func TestInventedDaysStayWithinWhatWeatherDoes(t *testing.T) {
	rec := record(t)
	if rec.Problems.Count() != 0 {
		t.Errorf("the record has problems: %s", &rec.Problems)
	}
	var july, n float64
	last := rec.Last()
	for d := rec.First(); !d.After(last); d = d.AddDays(1) {
		day := rec.Day(d)
		if !day.Min.Known() || !day.Max.Known() || !day.Rain.Known() {
			t.Fatalf("%s lacks a value", d)
		}
		if day.Max < day.Min || day.Min.C() < -35 || day.Max.C() > 47 {
			t.Errorf("%s: %s to %s", d, day.Min, day.Max)
		}
		if d.Month == 7 {
			july, n = july+day.Max.F(), n+1
		}
	}
	if mean := july / n; mean < 86 || mean > 94 {
		t.Errorf("July afternoons average %.1f F, want 86-94", mean)
	}
}

func record(t *testing.T) *frost.Record {
	t.Helper()
	rec, err := frost.ReadFile("quail-fork.csv", frost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

func spread(d frost.Distribution, mean float64) float64 {
	var sum float64
	for _, f := range d.Falls() {
		sum += math.Pow(float64(f.Offset)-mean, 2)
	}
	return math.Sqrt(sum / float64(d.Counted()-1))
}
