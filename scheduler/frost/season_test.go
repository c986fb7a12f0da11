package frost_test

import (
	"fmt"
	"strings"
	"testing"

	"stubbled/scheduler/frost"
)

// withGap is the minima of a fall with the first n days missing and, unless it
// is negative, a frost on the given offset.
func withGap(missing, frostOn int) map[int]string {
	minima := map[int]string{}
	for i := range missing {
		minima[i] = ""
	}
	if frostOn >= 0 {
		minima[frostOn] = "-0.5"
	}
	return minima
}

func TestASeasonCountsIfFewerThanATenthOfItsDaysAreMissing(t *testing.T) {
	for _, c := range []struct {
		name             string
		missing, frostOn int
		counted          bool
		span             int
	}{
		{"5 of 60 days to the frost", 5, 59, true, 60},
		{"6 of 60 days, which is a tenth", 6, 59, false, 60},
		{"none missing and a frost on Aug 1", 0, 0, true, 1},
		{"15 of 153 days without a frost", 15, -1, true, 153},
		{"16 of 153 days without a frost", 16, -1, false, 153},
		{"a frost on Dec 31", 15, 152, true, 153},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := read(t, fallCSV(2012, withGap(c.missing, c.frostOn)), frost.Options{})
			s, ok := r.Season(2012, frost.Freeze32F)
			if !ok || s.Counted != c.counted || s.Missing != c.missing || s.Span != c.span || s.Came() != (c.frostOn >= 0) {
				t.Errorf("%+v, want %d of %d missing, counted %v", s, c.missing, c.span, c.counted)
			}
			if s.Came() && s.Offset() != c.frostOn {
				t.Errorf("frost on day %d, want %d", s.Offset(), c.frostOn)
			}
			if s.Counted == (s.Why != "") {
				t.Errorf("counted %v because %q", s.Counted, s.Why)
			}
		})
	}
}

func TestADroppedSeasonSaysWhy(t *testing.T) {
	r := read(t, fallCSV(2012, withGap(30, 70)), frost.Options{})
	if s, _ := r.Season(2012, frost.Freeze32F); s.Why != "30 of 71 days missing from Aug 1 to the frost on Oct 10" {
		t.Errorf("dropped since %q", s.Why)
	}
	if s, _ := r.Season(2012, frost.KillingFreeze28F); s.Why != "30 of 153 days missing from Aug 1 to Dec 31, and no frost seen" {
		t.Errorf("dropped since %q", s.Why)
	}
}

func TestMissingDaysAfterTheFrostDoNotMatter(t *testing.T) {
	minima := withGap(0, 70)
	for i := 71; i <= frost.LastOffset; i++ {
		minima[i] = "NA"
	}
	r := read(t, fallCSV(2012, minima), frost.Options{})
	if s, _ := r.Season(2012, frost.Freeze32F); !s.Counted || s.Missing != 0 {
		t.Errorf("%+v, want a counted season with nothing missing", s)
	}
}

func TestASeasonUnderWayIsThereAndDoesNotCount(t *testing.T) {
	text := fallCSV(2011, withGap(0, 80))
	full := fallCSV(2012, nil)
	text += strings.Join(strings.Split(full, "\n")[1:41], "\n") + "\n"
	r := read(t, text, frost.Options{})
	all := r.Seasons(frost.Freeze32F)
	if len(all) != 2 || !all[0].Counted || all[1].Counted || all[1].Missing != 113 {
		t.Errorf("%+v, want 2011 counted and 2012 with 113 days missing", all)
	}
}

func TestAYearWithoutAnyFallIsNoSeason(t *testing.T) {
	r := read(t, "date,tmin_c\n2012-07-31,-5.0\n2013-01-01,-5.0\n2014-08-01,\n", frost.Options{})
	if all := r.Seasons(frost.Freeze32F); len(all) != 0 {
		t.Errorf("%+v, want no season", all)
	}
	if _, ok := r.Season(1500, frost.Freeze32F); ok {
		t.Error("a season in 1500")
	}
}

func TestAFallWithoutFrostNamesTheFirstOneOfItsWinter(t *testing.T) {
	text := fallCSV(2012, nil) + "2013-01-01,1.0\n2013-01-02,\n2013-01-03,-4.0\n2013-01-04,-6.0\n"
	r := read(t, text, frost.Options{})
	s, _ := r.Season(2012, frost.Freeze32F)
	if s.Came() || !s.Counted || s.Later != day(t, "2013-01-03") {
		t.Errorf("%+v, want none by Dec 31 and one on Jan 3", s)
	}
	// A frost in July belongs to no season and is no frost of the winter before
	// once August has come.
	if s, _ := read(t, fallCSV(2012, nil)+"2013-08-01,-4.0\n", frost.Options{}).Season(2012, frost.Freeze32F); !s.Later.IsZero() {
		t.Errorf("later frost on %v, want none", s.Later)
	}
}

func TestANewObservationFillsAGapAndReplacesNothing(t *testing.T) {
	r := read(t, fallCSV(2012, map[int]string{60: "", 61: "5.0"}), frost.Options{})
	gap, kept := frost.DateIn(2012, 60), frost.DateIn(2012, 61)
	cold := frost.NoDay(gap)
	cold.Min, cold.Rain = frost.FromF(27), 1000
	other := frost.NoDay(kept)
	other.Min = frost.FromF(20)
	absurd := frost.NoDay(frost.DateIn(2013, 10))
	absurd.Min = frost.FromC(200)
	more := r.With(cold, other, absurd, frost.NoDay(day(t, "2012-12-31")), frost.Day{})
	if d := more.Day(gap); d.Min != frost.FromF(27) || d.Max.Known() || d.Rain != 1000 {
		t.Errorf("the gap holds %+v", d)
	}
	if d := more.Day(kept); d.Min != 5000 {
		t.Errorf("the record's own value became %v", d.Min)
	}
	if r.Day(gap).Min.Known() || r.Day(gap).Rain.Known() {
		t.Error("the record before was changed")
	}
	if s, _ := more.Season(2012, frost.KillingFreeze28F); s.First != gap {
		t.Errorf("killing freeze on %v, want %v", s.First, gap)
	}
	if more.Day(frost.DateIn(2013, 10)).Min.Known() {
		t.Error("200 C was taken")
	}
	again := more.With(cold)
	if again.Day(gap) != more.Day(gap) {
		t.Error("the same observation twice is another one")
	}
}

func TestAThresholdFurtherDownIsNeverReachedSooner(t *testing.T) {
	for _, file := range []string{"CRND0103-KS_Manhattan_6_SSW.txt", "CRND0103-IA_Des_Moines_17_E.txt", "USW00094728.dly", "USW00094728-2010-2014-altered.dly"} {
		r := readStation(t, file)
		for _, warm := range r.Seasons(frost.Frost36F) {
			mid, _ := r.Season(warm.Year, frost.Freeze32F)
			cold, _ := r.Season(warm.Year, frost.KillingFreeze28F)
			if warm.Span > mid.Span || mid.Span > cold.Span || cold.Came() && !mid.Came() || mid.Came() && !warm.Came() {
				t.Errorf("%s %d: 36 F %v, 32 F %v, 28 F %v", file, warm.Year, warm.First, mid.First, cold.First)
			}
		}
	}
}

func TestDatesAndOffsetsGoThereAndBack(t *testing.T) {
	for offset := range frost.LastOffset + 1 {
		for _, year := range []int{2011, 2012} {
			if got := frost.Offset(frost.DateIn(year, float64(offset))); got != offset {
				t.Fatalf("%d: offset %d comes back as %d", year, offset, got)
			}
		}
	}
	for _, c := range []struct {
		offset float64
		want   string
	}{{0, "2012-08-01"}, {74.5, "2012-10-15"}, {74.49, "2012-10-14"}, {152, "2012-12-31"}, {-0.5, "2012-08-01"}, {-0.51, "2012-07-31"}, {154, "2013-01-02"}} {
		if got := fmt.Sprint(frost.DateIn(2012, c.offset)); got != c.want {
			t.Errorf("%g days after Aug 1 is %s, want %s", c.offset, got, c.want)
		}
	}
	if got := frost.OffsetIn(2012, day(t, "2013-01-02")); got != 154 {
		t.Errorf("Jan 2 is %d days after Aug 1, want 154", got)
	}
}
