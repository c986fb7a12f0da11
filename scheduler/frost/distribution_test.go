package frost_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stubbled/scheduler/frost"
)

// none is a fall without a frost in the lists below.
const none = -1

// seasonsOf is counted seasons from 2001 on with a frost on each offset.
func seasonsOf(offsets ...int) []frost.Season {
	var all []frost.Season
	for i, o := range offsets {
		s := frost.Season{Year: 2001 + i, Span: frost.LastOffset + 1, Counted: true, Min: frost.NoTemp}
		if o != none {
			s.First, s.Span = frost.DateIn(s.Year, float64(o)), o+1
		}
		all = append(all, s)
	}
	return all
}

func spreadOf(offsets ...int) frost.Distribution {
	return frost.Distribute(seasonsOf(offsets...), frost.Pick{})
}

func TestSeattleFirstFreezesAreTheKnownOnes(t *testing.T) {
	r, err := frost.ReadFile("testdata/seattle-weather.csv", frost.Options{Columns: seattleColumns})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"2012-11-10", "2013-11-21", "2014-11-12", "2015-11-23"}
	for i, s := range r.Seasons(frost.Freeze32F) {
		if s.First.String() != want[i] || !s.Counted {
			t.Errorf("%d: %v, want %s", s.Year, s.First, want[i])
		}
	}
	d := r.Distribution(frost.Freeze32F, frost.Pick{})
	for percent, want := range map[int]float64{10: 101.6, 20: 102.2, 50: 107.5, 60: 110.2, 90: 113.4} {
		if got, ok := d.Quantile(percent); !ok || got != want {
			t.Errorf("%d %% on day %g, want %g", percent, got, want)
		}
	}
	// 2012 had no night of 28 F by Dec 31, and one on Jan 1.
	cold := r.Distribution(frost.KillingFreeze28F, frost.Pick{})
	if cold.Counted() != 4 || cold.Frosts() != 3 {
		t.Errorf("%d of %d seasons with 28 F, want 3 of 4", cold.Frosts(), cold.Counted())
	}
	if _, ok := cold.Quantile(70); ok {
		t.Error("the 70 % date rests on a fall without 28 F and has a date")
	}
	if got, ok := cold.Quantile(60); !ok || frost.MonthDay(got) != "12-04" {
		t.Errorf("60 %% on %s, want 12-04", frost.MonthDay(got))
	}
}

func TestPlanningForASeasonUsesOnlySeasonsFinishedBefore(t *testing.T) {
	seasons := seasonsOf(60, 70, 80, 90)
	for _, c := range []struct {
		pick frost.Pick
		n    int
	}{
		{frost.Pick{}, 4},
		{frost.Pick{Before: 2004}, 3},
		{frost.Pick{Before: 2001}, 0},
		{frost.Pick{From: 2002, To: 2003}, 2},
		{frost.Pick{From: 2002, Before: 2003}, 1},
	} {
		if got := frost.Distribute(seasons, c.pick).Counted(); got != c.n {
			t.Errorf("%+v takes %d seasons, want %d", c.pick, got, c.n)
		}
	}
	seasons[0].Counted = false
	if got := frost.Distribute(seasons, frost.Pick{}).Counted(); got != 3 {
		t.Errorf("%d seasons, want 3 without the one dropped", got)
	}
	if got := frost.Distribute(seasons, frost.Pick{EvenUncounted: true}).Counted(); got != 4 {
		t.Errorf("%d seasons, want 4 with the one dropped", got)
	}
}

func TestAFallWithoutFrostLiesLaterThanEveryDate(t *testing.T) {
	d := spreadOf(none, 80, 60, none, 70)
	if mean, ok := d.Mean(); !ok || mean != 70 {
		t.Errorf("mean %g, want 70 over the falls with a frost", mean)
	}
	for percent, want := range map[int]float64{25: 70, 50: 80, 10: 64} {
		if got, ok := d.Quantile(percent); !ok || got != want {
			t.Errorf("%d %% is %g (%v), want %g", percent, got, ok, want)
		}
	}
	for _, percent := range []int{51, 75, 90, 0, 100, -5} {
		if got, ok := d.Quantile(percent); ok {
			t.Errorf("%d %% is %g, want none", percent, got)
		}
	}
	if got, _ := d.FrostsOnly().Quantile(50); got != 70 {
		t.Errorf("median of the falls with a frost %g, want 70", got)
	}
	if _, ok := spreadOf(none, none).Mean(); ok {
		t.Error("a mean of no frosts")
	}
	if _, ok := spreadOf().Quantile(50); ok {
		t.Error("a quantile of no seasons")
	}
}

// With frost in a share q of the seasons the date of level p is where the
// share of frosts reaches p/q, and there is none for p above q (the two-part
// rule of NOAA's freeze and frost probabilities, GCMD record; the figures are
// derived from it).
func TestTheShareOfSeasonsWithFrostBoundsTheLevels(t *testing.T) {
	nine := spreadOf(60, 61, 62, 63, 64, 65, 66, 67, 68, none)
	if got, ok := nine.NearestRank(50); !ok || got != 64 { // 5 of 9 = 0.556
		t.Errorf("q 0.9, p 0.5: day %d, want 64", got)
	}
	if got, ok := nine.NearestRank(90); !ok || got != 68 { // the last frost of all
		t.Errorf("q 0.9, p 0.9: day %d, want 68", got)
	}
	if _, ok := nine.Quantile(90); ok {
		t.Error("q 0.9, p 0.9: type 7 leans on the fall without a frost and has a date")
	}
	eight := spreadOf(60, 61, 62, 63, 64, 65, 66, 67, none, none)
	if got, ok := eight.NearestRank(90); ok {
		t.Errorf("q 0.8, p 0.9: day %d, want none", got)
	}
}

func TestTypeSevenAgreesWithItsDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		offsets := rapid.SliceOfN(rapid.IntRange(0, frost.LastOffset), 1, 60).Draw(t, "offsets")
		percent := rapid.IntRange(1, 99).Draw(t, "percent")
		got, ok := spreadOf(offsets...).Quantile(percent)
		sorted := slices.Clone(offsets)
		slices.Sort(sorted)
		// Hyndman and Fan, The American Statistician 50(4), 1996, definition 7,
		// in floating point.
		h := float64(len(sorted)-1) * float64(percent) / 100
		low := int(math.Floor(h + 1e-9))
		high := min(low+1, len(sorted)-1)
		want := float64(sorted[low]) + (h-float64(low))*float64(sorted[high]-sorted[low])
		if !ok || math.Abs(got-want) > 1e-6 {
			t.Fatalf("%d %% of %v is %g, want %g", percent, sorted, got, want)
		}
	})
}

func TestALaterLevelIsNeverAnEarlierDate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := spreadOf(rapid.SliceOfN(rapid.IntRange(none, frost.LastOffset), 1, 40).Draw(t, "offsets")...)
		last, gone := -1.0, false
		for percent := 1; percent <= 99; percent++ {
			x, ok := d.Quantile(percent)
			if ok && (gone || x < last) {
				t.Fatalf("%d %% is day %g after day %g (past Dec 31 before: %v)", percent, x, last, gone)
			}
			rank, ranked := d.NearestRank(percent)
			if ok && ranked && math.Abs(float64(rank)-x) > frost.LastOffset {
				t.Fatalf("rank %d and quantile %g", rank, x)
			}
			if left := d.StillToCome(rank); ranked && len(left)*100 > d.Counted()*(100-percent) {
				t.Fatalf("by day %d %d of %d falls are still to come, want %d %% gone", rank, len(left), d.Counted(), percent)
			}
			last, gone = max(last, x), gone || !ok
		}
	})
}
