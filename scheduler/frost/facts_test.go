package frost_test

import (
	"math"
	"slices"
	"testing"

	"stubbled/scheduler/frost"
)

// Published facts that a record at hand can be held against. The towns of the
// tables are not the stations of the records, so the bounds are wide where the
// place differs.

func mean(t *testing.T, file string, th frost.Threshold) float64 {
	t.Helper()
	m, ok := readStation(t, file).Distribution(th, frost.Pick{}).Mean()
	if !ok {
		t.Fatalf("%s: no frost at %v", file, th)
	}
	return m
}

// K-State (Agronomy eUpdate on first freeze and frost; Knapp 2017): average
// first 32 F at Manhattan Oct 14. The record is that of Manhattan 6 SSW, out on
// the prairie, 2004 to 2023.
func TestTheFirstFreezeAtManhattanIsNearTheOneKStatePublishes(t *testing.T) {
	got := mean(t, "CRND0103-KS_Manhattan_6_SSW.txt", frost.Freeze32F)
	published := float64(frost.Offset(day(t, "2001-10-14")))
	if math.Abs(got-published) > 4 {
		t.Errorf("average on %s, published 10-14", frost.MonthDay(got))
	}
}

// Derived from NWS Kansas City (Autumn 2009 Frost/Freeze Information): over 28
// towns 28 F follows 32 F by 10.8 days on average, from 9 to 13.
func TestTheKillingFreezeFollowsTheFirstByNineToThirteenDays(t *testing.T) {
	for _, file := range []string{"CRND0103-KS_Manhattan_6_SSW.txt", "CRND0103-IA_Des_Moines_17_E.txt", "USW00094728.dly"} {
		gap := mean(t, file, frost.KillingFreeze28F) - mean(t, file, frost.Freeze32F)
		if gap < 9 || gap > 13 {
			t.Errorf("%s: 28 F follows 32 F by %.1f days, outside the band of 9 to 13", file, gap)
		}
	}
}

// NWS Louisville (1981-2010 normals): first 36 F Oct 25, 32 F Nov 4, 28 F Nov
// 16, so gaps of 10 and 12 days.
func TestDatesAsOffsetsKeepThePublishedGaps(t *testing.T) {
	at := func(text string) int { return frost.Offset(day(t, text)) }
	if a, b := at("2001-11-04")-at("2001-10-25"), at("2001-11-16")-at("2001-11-04"); a != 10 || b != 12 {
		t.Errorf("gaps of %d and %d days, want 10 and 12", a, b)
	}
}

// NOAA NCEI, readme of the 1981-2010 Supplemental Normals: thresholds 16, 20,
// 24, 28, 32 and 36 F; levels 10, 20, ... 90 %; the 10 % date of fall is the
// early one; -6666 stands for an event too infrequent to give a date, which is
// no date here.
func TestLevelsAndThresholdsAreNOAAs(t *testing.T) {
	if want := []int{10, 20, 30, 40, 50, 60, 70, 80, 90}; !slices.Equal(frost.Levels(), want) {
		t.Errorf("levels %v, want %v", frost.Levels(), want)
	}
	noaa := []string{"16F", "20F", "24F", "28F", "32F", "36F"}
	for _, th := range []frost.Threshold{frost.Frost36F, frost.Freeze32F, frost.KillingFreeze28F} {
		if !slices.Contains(noaa, th.String()) {
			t.Errorf("%v is none of NOAA's thresholds", th)
		}
	}
	r := readStation(t, "USW00094728.dly")
	last := 0.0
	for _, text := range []string{"36F", "32F", "28F", "24F", "20F", "16F"} {
		th, err := frost.ParseThreshold(text)
		if err != nil {
			t.Fatal(err)
		}
		d := r.Distribution(th, frost.Pick{From: 1981, To: 2010})
		early, ok := d.Quantile(10)
		if late, lateOK := d.Quantile(90); !ok || lateOK && late <= early || early < last {
			t.Errorf("%v: 10 %% on %g, after %g; 90 %% on %g", th, early, last, late)
		}
		last = early
	}
	rare, err := frost.ParseThreshold("10F")
	if err != nil {
		t.Fatal(err)
	}
	if got, ok := r.Distribution(rare, frost.Pick{From: 1981, To: 2010}).Quantile(50); ok {
		t.Errorf("10 F by Dec 31 in Central Park has a middle date, %s", frost.MonthDay(got))
	}
}

// Falls 2012 and 2023 at Manhattan, the three events told apart. The dates are
// those of the USCRN record itself.
func TestTwoFallsAtManhattanHaveTheirThreeFrosts(t *testing.T) {
	r := readStation(t, "CRND0103-KS_Manhattan_6_SSW.txt")
	for year, want := range map[int][3]string{
		2012: {"2012-09-23", "2012-10-07", "2012-10-07"},
		2023: {"2023-10-06", "2023-10-07", "2023-10-29"},
	} {
		for i, th := range []frost.Threshold{frost.Frost36F, frost.Freeze32F, frost.KillingFreeze28F} {
			s, ok := r.Season(year, th)
			if !ok || s.First.String() != want[i] {
				t.Errorf("%d at %v: %v, want %s", year, th, s.First, want[i])
			}
		}
	}
}
