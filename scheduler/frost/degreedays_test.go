package frost_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"

	"stubbled/scheduler/frost"
)

func TestADaysDegreeDaysAreTheHandbooks(t *testing.T) {
	for _, c := range []struct {
		name      string
		method    frost.Method
		high, low float64 // F
		want      float64
	}{
		// Iowa State University, Agron 541.
		{"70 and 50 over base 50", frost.SimpleMethod, 70, 50, 10},
		{"the 86/50 method ends at 36 a day", frost.CornMethod, 95, 88, 36},
		{"the 86/50 method at its own limits", frost.CornMethod, 86, 86, 36},
		// Karhoff, Ohio State University, 2023.
		{"87 and 63 by 86/50", frost.CornMethod, 87, 63, 24.5},
		// By hand.
		{"a cold minimum is raised", frost.CornMethod, 70, 41, 10},
		{"a cold day is not below 0", frost.SimpleMethod, 50, 32, 0},
		{"growth: the maximum is capped, the minimum is not raised", frost.GrowthMethod, 95, 41, (86+41)/2.0 - 46.6},
		{"growth: a warm night is not cut down", frost.GrowthMethod, 104, 95, (86+95)/2.0 - 46.6},
		{"growth: a cold day", frost.GrowthMethod, 50, 32, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := c.method.Day(frost.FromF(c.low), frost.FromF(c.high))
			// A temperature in F is kept to a thousandth of a degree C.
			if !ok || math.Abs(got-c.want) > 0.001 {
				t.Errorf("%g, want %g", got, c.want)
			}
		})
	}
	if _, ok := frost.SimpleMethod.Day(frost.NoTemp, 20_000); ok {
		t.Error("a day without a minimum counts")
	}
}

func TestDegreeDaysAreTheOnesAnIndependentProgramFound(t *testing.T) {
	var want struct {
		Stations map[string]struct {
			File  string `json:"file"`
			Years map[string]struct {
				Simple  float64            `json:"simple"`
				Cap86   float64            `json:"cap86"`
				Mod8650 float64            `json:"mod8650"`
				Missing int                `json:"missing_days"`
				Monthly map[string]float64 `json:"monthly"`
			} `json:"years"`
		} `json:"stations"`
	}
	readExpected(t, "expected-gdd.json", &want)
	if len(want.Stations) != 4 {
		t.Fatalf("%d stations, want 4", len(want.Stations))
	}
	for name, station := range want.Stations {
		r := readStation(t, station.File)
		for text, w := range station.Years {
			year, err := strconv.Atoi(text)
			if err != nil {
				t.Fatal(err)
			}
			span := func(m frost.Method, from, to string) frost.Sum {
				return r.DegreeDays(m, day(t, text+from), day(t, text+to))
			}
			for _, c := range []struct {
				what   string
				method frost.Method
				want   float64
			}{{"simple", frost.SimpleMethod, w.Simple}, {"cap86", frost.CappedMethod, w.Cap86}, {"mod8650", frost.CornMethod, w.Mod8650}} {
				got := span(c.method, "-07-01", "-10-31")
				if math.Round(got.Total*100)/100 != c.want || got.Missing != w.Missing {
					t.Errorf("%s %d %s: %g with %d days missing, want %g with %d", name, year, c.what, got.Total, got.Missing, c.want, w.Missing)
				}
			}
			for month, want := range w.Monthly {
				last := map[string]string{"07": "-31", "08": "-31", "09": "-30", "10": "-31"}[month]
				if got := span(frost.SimpleMethod, "-"+month+"-01", "-"+month+last).Total; math.Round(got*100)/100 != want {
					t.Errorf("%s %d-%s: %g, want %g", name, year, month, got, want)
				}
			}
		}
	}
}

// years is a plain CSV of whole years, every day with the maximum and minimum
// that the function gives; a day without one is left out.
func years(from, to int, of func(civil.Date) (high, low float64, ok bool)) string {
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c\n")
	for d := (civil.Date{Year: from, Month: 1, Day: 1}); d.Year <= to; d = d.AddDays(1) {
		if high, low, ok := of(d); ok {
			fmt.Fprintf(&b, "%v,%.1f,%.1f\n", d, low, high)
		}
	}
	return b.String()
}

func TestADayWithoutAMaximumIsCountedAndAddsNothing(t *testing.T) {
	r := read(t, "date,tmin_c,tmax_c\n2012-10-01,10,20\n2012-10-02,10,\n2012-10-03,,20\n2012-10-05,10,20\n", frost.Options{})
	got := r.DegreeDays(frost.SimpleMethod, day(t, "2012-10-01"), day(t, "2012-10-05"))
	if got.Total != 18 || got.Missing != 3 { // 68 and 50 F: 9 a day
		t.Errorf("%+v, want 18 with 3 days missing", got)
	}
	if got := r.DegreeDays(frost.SimpleMethod, day(t, "2012-10-05"), day(t, "2012-10-01")); got != (frost.Sum{}) {
		t.Errorf("backwards: %+v, want nothing", got)
	}
	if got := r.DegreeDays(frost.SimpleMethod, day(t, "2011-12-30"), day(t, "2012-01-02")); got.Missing != 4 {
		t.Errorf("over the new year: %+v, want 4 days missing", got)
	}
	if got := r.DegreeDays(frost.SimpleMethod, day(t, "2012-02-28"), day(t, "2012-03-01")); got.Missing != 3 {
		t.Errorf("over Feb 29: %d days, want 3", got.Missing)
	}
	if got := r.DegreeDays(frost.SimpleMethod, civil.Date{}, day(t, "2012-03-01")); got != (frost.Sum{}) {
		t.Errorf("from no date: %+v", got)
	}
}

func TestTheMeanYearOfSteadyWeatherIsThatWeather(t *testing.T) {
	r := read(t, years(2001, 2008, func(civil.Date) (float64, float64, bool) { return 20, 10, true }), frost.Options{})
	w, ok := r.Warmth(frost.SimpleMethod, 0)
	if !ok {
		t.Fatal("no mean year")
	}
	if got := w.Mean(day(t, "2012-08-01"), day(t, "2012-08-11")); got != 90 {
		t.Errorf("10 days add up to %g, want 90", got)
	}
	if got := w.Mean(day(t, "2012-02-28"), day(t, "2012-03-01")); got != 9 {
		t.Errorf("the mean year counts Feb 29: %g, want 9", got)
	}
	if got := w.MeanDay(day(t, "2012-12-31")); got != 9 {
		t.Errorf("Dec 31 is %g, want 9", got)
	}
}

// A year that warms by a straight line and cools again has a kink at its top.
// Seven days on each side of a day on the line cancel out; at the top the mean
// of 15 days lies below the top by the mean of the distances, 56/15 days' worth.
func TestTheMeanYearIsACentredAverageOf15Days(t *testing.T) {
	top := day(t, "2001-07-15")
	r := read(t, years(2001, 2001, func(d civil.Date) (float64, float64, bool) {
		c := 35 - 0.1*math.Abs(float64(d.DaysSince(top)))
		return c, c, true
	}), frost.Options{})
	w, ok := r.Warmth(frost.SimpleMethod, 0)
	if !ok {
		t.Fatal("no mean year")
	}
	slope := 0.18 // F a day
	if got, want := w.MeanDay(day(t, "2001-09-01")), 95-50-48*slope; math.Abs(got-want) > 1e-4 {
		t.Errorf("on the line: %g, want %g", got, want)
	}
	if got, want := w.MeanDay(top), 95-50-slope*56/15; math.Abs(got-want) > 1e-4 {
		t.Errorf("at the top: %g, want %g", got, want)
	}
}

func TestAYearsGapsStandAtTheMeanYear(t *testing.T) {
	gap := func(d civil.Date) bool { return d.Year == 2008 && d.Month == 9 && d.Day <= 10 }
	r := read(t, years(2001, 2008, func(d civil.Date) (float64, float64, bool) {
		if d.Year == 2008 {
			return 30, 20, !gap(d)
		}
		return 20, 10, true
	}), frost.Options{})
	w, _ := r.Warmth(frost.SimpleMethod, 2008) // the mean year is that of 2001-2007: 9 a day
	own := w.Year(2008)                        // 27 a day
	from, to := day(t, "2008-08-22"), day(t, "2008-09-21")
	if got := own.Between(from, to); got != 20*27+10*9 {
		t.Errorf("%+v, want 20 days of 27 and 10 of 9", got)
	}
	if got := w.YearTo(r, day(t, "2008-08-27")).Between(from, to); got != 5*27+25*9 {
		t.Errorf("known to Aug 27: %+v, want 5 days of 27 and 25 of 9", got)
	}
	if got := w.Year(2050).Between(day(t, "2050-08-01"), day(t, "2050-08-11")); got != 90 {
		t.Errorf("a year to come: %+v, want 10 mean days", got)
	}
	if got := own.Between(to, from); got != 0 {
		t.Errorf("backwards: %+v", got)
	}
	if got, all := own.Between(day(t, "2007-06-01"), day(t, "2009-06-01")), own.Between(day(t, "2008-01-01"), day(t, "2009-01-01")); got != all {
		t.Errorf("beyond the year: %+v, want the whole year, %+v", got, all)
	}
}

func TestAStationWithoutMaximaHasNoMeanYear(t *testing.T) {
	r := read(t, fallCSV(2012, nil), frost.Options{})
	if _, ok := r.Warmth(frost.GrowthMethod, 0); ok {
		t.Error("a mean year out of minima alone")
	}
}

func TestSumsOverTheSeasonAddUpToTheRecordsOwn(t *testing.T) {
	r := readStation(t, "USW00094728.dly")
	w, ok := r.Warmth(frost.GrowthMethod, 2012)
	if !ok {
		t.Fatal("no mean year")
	}
	year := w.Year(2012)
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.IntRange(0, 150).Draw(t, "from")
		b := rapid.IntRange(a, 151).Draw(t, "middle")
		c := rapid.IntRange(b, 152).Draw(t, "to")
		from, middle, to := frost.DateIn(2012, float64(a)), frost.DateIn(2012, float64(b)), frost.DateIn(2012, float64(c))
		whole := year.Between(from, to)
		if parts := year.Between(from, middle) + year.Between(middle, to); math.Abs(parts-whole) > 1e-9 {
			t.Fatalf("two halves %g, the whole %g", parts, whole)
		}
		if own := r.DegreeDays(frost.GrowthMethod, from, to.AddDays(-1)); c > a && own.Missing == 0 && own.Total != whole {
			t.Fatalf("%g, the record itself %+v", whole, own)
		}
	})
}
