package frost_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
)

// rain is a CSV in which each year has that many millimetres on every day from
// Jul 1 to Sep 30.
func rain(perDay map[int]string) string {
	var b strings.Builder
	b.WriteString("date,tmin_c,rain_mm\n")
	for year := 2001; year <= 2020; year++ {
		mm, ok := perDay[year]
		for d := (civil.Date{Year: year, Month: 7, Day: 1}); ok && d.Month < 10; d = d.AddDays(1) {
			fmt.Fprintf(&b, "%v,10,%s\n", d, mm)
		}
	}
	return b.String()
}

func TestRainIsJudgedAgainstTheSameDaysOfEarlierYears(t *testing.T) {
	text := rain(map[int]string{2001: "1", 2002: "2", 2003: "3", 2004: "4", 2005: "5", 2006: "2.5", 2007: "99"})
	r := read(t, text, frost.Options{})
	got := r.Rainfall(day(t, "2006-09-10"), frost.RainDays)
	if !got.Known || got.MM != 150 || !got.MedianKnown || got.Median != 180 || got.Years != 5 || got.Ample() {
		t.Errorf("%+v, want 150 mm against a median of 180 over 5 years, not ample", got)
	}
	if got := r.Rainfall(day(t, "2007-09-10"), frost.RainDays); got.Median != 165 || !got.Ample() {
		t.Errorf("%+v, want a wet year against the median 165 of six", got)
	}
}

func TestRainThatIsNotKnownIsNeverAmple(t *testing.T) {
	few := rain(map[int]string{2001: "1", 2002: "1", 2003: "1", 2004: "1", 2005: "50"})
	for _, c := range []struct {
		name, text, today string
		known             bool
		years             int
	}{
		{"four earlier years", few, "2005-09-10", true, 4},
		{"an earlier year without a whole window", few, "2005-08-10", false, 0},
		{"6 of 60 days missing", few, "2005-08-24", false, 0},
		{"5 of 60 days missing", few, "2005-08-25", true, 4},
		{"no rain in the record at all", fallCSV(2012, nil), "2012-10-10", false, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := read(t, c.text, frost.Options{}).Rainfall(day(t, c.today), frost.RainDays)
			if got.Known != c.known || got.Years != c.years || got.MedianKnown || got.Ample() {
				t.Errorf("%+v, want known %v, %d years and not ample", got, c.known, c.years)
			}
		})
	}
}

func TestTodaysRainIsNotPartOfTheWindow(t *testing.T) {
	r := read(t, "date,tmin_c,rain_mm\n2012-09-01,10,5\n2012-09-02,10,7\n2012-09-03,10,11\n", frost.Options{})
	if got := r.Rainfall(day(t, "2012-09-03"), 2); got.MM != 12 || !got.Known {
		t.Errorf("%+v, want 12 mm", got)
	}
}

// 2004 and 2008 have a Feb 29.
func TestAWindowOverTheTurnOfAYearCountsEachDayOnce(t *testing.T) {
	var b strings.Builder
	b.WriteString("date,tmin_c,rain_mm\n")
	for d := day(t, "2002-10-01"); d.Year < 2009; d = d.AddDays(1) {
		fmt.Fprintf(&b, "%v,10,%d\n", d, 1+d.DaysSince(day(t, "2002-10-01"))%7)
	}
	r := read(t, b.String(), frost.Options{})
	for _, today := range []string{"2003-03-01", "2004-02-29", "2004-03-01", "2005-01-01", "2008-03-02", "2009-01-01"} {
		at, want := day(t, today), 0.0
		for n := 1; n <= 120; n++ {
			want += r.Day(at.AddDays(-n)).Rain.MM()
		}
		if got := r.Rainfall(at, 120); got.MM != want || !got.Known {
			t.Errorf("%s: %v mm, known %v; want %v mm of every day", today, got.MM, got.Known, want)
		}
	}
}
