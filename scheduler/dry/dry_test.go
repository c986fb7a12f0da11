package dry

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

func day(y, m, d int) civil.Date { return civil.Date{Year: y, Month: time.Month(m), Day: d} }

// steady is a record of so many mm every day of April and May, year by year.
func steady(mm ...float64) *frost.Record {
	r := &frost.Record{}
	var days []frost.Day
	for i, each := range mm {
		for d := day(2000+i, 3, 1); d.Before(day(2000+i, 8, 1)); d = d.AddDays(1) {
			one := frost.NoDay(d)
			one.Rain = frost.Rain(math.Round(each * 1000))
			days = append(days, one)
		}
	}
	return r.With(days...)
}

// April and May have 61 days. The University of Nebraska's 30-40 % fewer head at half to
// three quarters of normal rain: of 38 head 12 to 16, and 16 or more under half. Sixteen
// of 38 eat in two weeks what feeds the other 22 for 14 x 16 / 22 = 10 days.
func TestWhatIsToBeDecidedOnTheFirstOfJune(t *testing.T) {
	for _, tc := range []struct {
		name      string
		years     []float64 // mm a day; the last is this year's
		now, then int
		due       bool
		low, high int
		more      bool
		wait      int
	}{
		{"a normal year: nothing", []float64{2, 3, 3, 3, 4, 3}, 38, 38, false, 0, 0, false, 0},
		{"four fifths of the median: nothing", []float64{2, 3, 3, 3, 4, 2.4}, 38, 38, false, 0, 0, false, 0},
		{"a wet year: nothing", []float64{2, 3, 3, 3, 4, 5}, 38, 38, false, 0, 0, false, 0},
		{"two thirds of it", []float64{2, 3, 3, 3, 4, 2}, 38, 38, true, 12, 16, false, 10},
		{"a third of it: as many or more", []float64{2, 3, 3, 3, 4, 1}, 38, 38, true, 16, 16, true, 10},
		{"ten have gone since April", []float64{2, 3, 3, 3, 4, 2}, 28, 38, true, 2, 6, false, 4},
		{"all that need to have gone", []float64{2, 3, 3, 3, 4, 2}, 22, 38, false, 0, 0, false, 0},
		{"no herd is on file: rain is told, and no head", []float64{2, 3, 3, 3, 4, 2}, 0, 0, true, 0, 0, false, 0},
	} {
		today := day(2000+len(tc.years)-1, 6, 1)
		rain := RainOf(steady(tc.years...), nil, today)
		c, due := On(today, rain, tc.now, tc.then)
		if want := 61 * tc.years[len(tc.years)-1]; math.Abs(rain.MM-want) > 1e-6 || math.Abs(rain.Median-183) > 1e-6 {
			t.Errorf("%s: %.1f mm of usually %.1f, want %.1f of 183", tc.name, rain.MM, rain.Median, want)
		}
		if due != tc.due || due && (c.MoveLow != tc.low || c.MoveHigh != tc.high || c.OrMore != tc.more || c.WaitDays != tc.wait || !c.Tells()) {
			t.Errorf("%s: %v, %+v", tc.name, due, c)
		}
	}
}

func TestRainThatWasToldCountsWhereNothingMeasuresIt(t *testing.T) {
	facts := []*diary.Fact{
		{Kind: diary.Rain, Day: day(2006, 4, 20), Amount: 1, By: "Ana"}, {Kind: diary.Rain, Day: day(2006, 4, 20), Amount: 0.8, By: "Luis"},
		{Kind: diary.Rain, Day: day(2006, 5, 2), Amount: 0.5, By: "Ana", Paddock: "creek"}, {Kind: diary.Rain, Day: day(2006, 3, 2), Amount: 3, By: "Ana"},
	}
	today := day(2006, 6, 1)
	for name, r := range map[string]*frost.Record{"no record": nil, "a record that ended": steady(2, 3, 3, 3, 4)} {
		rain := RainOf(r, Told(facts, ""), today)
		if !rain.Told || !rain.Known || math.Abs(rain.MM-38.1) > 1e-6 {
			t.Errorf("%s: %+v, want the 1.5 in told since April", name, rain)
		}
		c, due := On(today, rain, 38, 38)
		if c.Tells() != (r != nil) || !due {
			t.Errorf("%s: %v, %+v; only where years are known rain is short", name, due, c)
		}
	}
	if rain := RainOf(steady(2, 3, 3, 3, 4, 2, 3), Told(facts, ""), today); rain.Told || math.Abs(rain.MM-183) > 1e-6 {
		t.Errorf("beside a record %+v", rain)
	}
	if got := Told(facts, "hill")[day(2006, 5, 2)]; got != 0 {
		t.Errorf("the creek's rain fell on the hill: %v", got)
	}
}

func TestARecordThatBeginsInMayIsHeldAgainstTheSameDays(t *testing.T) {
	r := steady(2, 3, 3, 3, 4, 2)
	cut := r.Before(day(2005, 3, 1))
	for d := day(2005, 4, 20); d.Before(day(2005, 6, 1)); d = d.AddDays(1) {
		cut = cut.With(r.Day(d))
	}
	// Fewer than a tenth of the days may be missing: 42 are known, of 46 since April 16.
	if rain := RainOf(cut, nil, day(2005, 6, 1)); rain.Since != day(2005, 4, 16) || math.Abs(rain.MM-84) > 1e-6 || math.Abs(rain.Median-138) > 1e-6 {
		t.Errorf("%+v, want 84 mm of usually 138 since April 16", rain)
	}
	if rain := RainOf(r.Before(day(2005, 5, 10)).With(r.Day(day(2005, 5, 31))), nil, day(2005, 6, 1)); rain.Known {
		t.Errorf("with three weeks missing %+v", rain)
	}
}

func TestWhereNobodyKnowsTheRainItIsAskedOnceAYear(t *testing.T) {
	for _, d := range []civil.Date{day(2006, 6, 1), day(2006, 6, 15), day(2006, 7, 1)} {
		c, due := On(d, RainOf(nil, nil, d), 38, 38)
		if c.Tells() || c.Known || c.MoveHigh != 0 || due != (d == day(2006, 6, 1)) {
			t.Errorf("%s: %v, %+v", d, due, c)
		}
	}
}

func TestTheDatesComeInTheirOrder(t *testing.T) {
	for today, want := range map[civil.Date][2]civil.Date{
		day(2026, 5, 31): {{}, day(2026, 6, 1)}, day(2026, 6, 1): {day(2026, 6, 1), day(2026, 6, 15)},
		day(2026, 6, 30): {day(2026, 6, 15), day(2026, 7, 1)}, day(2026, 7, 1): {day(2026, 7, 1), {}},
	} {
		if Last(today) != want[0] || Next(today) != want[1] {
			t.Errorf("%s: %s and %s", today, Last(today), Next(today))
		}
	}
	for i := 1; i < len(dates); i++ {
		if dates[i].toCome.Value > dates[i-1].toCome.Value || dates[i].toCome.High > dates[i-1].toCome.High {
			t.Errorf("more growth is to come after %s than before", dates[i].month)
		}
	}
}

// Kansas's drought of 2012 was declared a disaster by the US Department of Agriculture in
// July of that year; at the Manhattan station it is told on July 1. 2019, the wettest
// May of Kansas on record (NOAA, State of the Climate), has nothing to tell. Both from
// memory.
func TestARealStationTellsItsDryYearsAndNotItsNormalOnes(t *testing.T) {
	dir := os.Getenv("STUBBLED_DATA")
	if dir == "" {
		dir = "../../../shared/data"
	}
	for _, name := range []string{"CRND0103-KS_Manhattan_6_SSW.txt", "CRND0103-IA_Des_Moines_17_E.txt"} {
		path := filepath.Join(dir, name)
		if _, err := os.Stat(path); err != nil {
			if os.Getenv("CI") == "true" {
				t.Fatalf("the station records are not at %s; set STUBBLED_DATA", dir)
			}
			t.Skipf("the station records are not here: %v", err)
		}
		r, err := frost.ReadFile(path, frost.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var told, years []int
		for y := r.First().Year + 6; y <= r.Last().Year; y++ {
			d := day(y, 7, 1)
			rain := RainOf(r, nil, d)
			if !rain.Known || !rain.MedianKnown {
				continue
			}
			if years = append(years, y); rain.MM >= rain.Median {
				if _, due := On(d, rain, 38, 38); due {
					t.Errorf("%s %d had the usual rain, and it is told", name, y)
				}
			}
			if _, due := On(d, rain, 38, 38); due {
				told = append(told, y)
			}
		}
		if len(years) < 5 || len(told)*3 > len(years) {
			t.Errorf("%s: told in %v of %v", name, told, years)
		}
		if kansas := name[9:11] == "KS"; kansas && (!slices.Contains(told, 2012) || slices.Contains(told, 2019)) {
			t.Errorf("%s: told in %v", name, told)
		}
		t.Logf("%s: told in %v of %d years", name, told, len(years))
	}
}
