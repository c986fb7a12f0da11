package frost_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/scheduler/frost"
)

func TestAnAverageIsRefusedWhereItMeansNothing(t *testing.T) {
	for _, c := range []struct {
		name string
		d    frost.Distribution
		on   frost.PlanOn
		want float64
		err  string
	}{
		{"five frosts", spreadOf(60, 70, 80, 90, 100), frost.Average, 80, ""},
		{"four frosts", spreadOf(60, 70, 80, 90), frost.Average, 0, "needs 5 falls with a frost and the record has 4; give the date by hand"},
		{"five of ten falls", spreadOf(60, 70, 80, 90, 100, none, none, none, none, none), frost.Average, 80, ""},
		{"five of eleven falls", spreadOf(60, 70, 80, 90, 100, none, none, none, none, none, none), frost.Average, 0, "only 5 of 11 falls had a frost"},
		{"a level of four seasons", spreadOf(60, 70, 80, 90), frost.Level(20), 0, "a level needs 10 falls that count and the record has 4; give the date by hand"},
		{"a level of nine seasons", spreadOf(60, 61, 62, 63, 64, 65, 66, 67, 68), frost.Level(20), 0, "the record has 9; plan on the average, or give the date by hand"},
		{"a level of ten seasons", spreadOf(60, 61, 62, 63, 64, 65, 66, 67, 68, 69), frost.Level(20), 61.8, ""},
		{"frost in the first week of August in six falls of ten", spreadOf(0, 0, 1, 2, 4, 6, 60, 70, 80, 90), frost.Average, 0, "(the middle one on 08-07): it is of the southern half"},
		{"frost in the first week of August in five falls of ten", spreadOf(0, 0, 1, 2, 4, 59, 60, 70, 80, 90), frost.Average, 36.6, ""},
		{"a level past Dec 31", spreadOf(60, none, none, none, none, none, none, none, none, none), frost.Level(20), 0, "the 20% date lies past Dec 31: only 1 of 10 seasons had a frost"},
		{"no season", spreadOf(), frost.Average, 0, "no season on record counts"},
		{"no season and a level", spreadOf(), frost.Level(20), 0, "no season on record counts"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.d.PlanOffset(c.on)
			if c.err == "" && (err != nil || got != c.want) {
				t.Errorf("day %g (%v), want %g", got, err, c.want)
			}
			if c.err != "" && (err == nil || !strings.Contains(err.Error(), c.err)) {
				t.Errorf("error %v, want %q", err, c.err)
			}
		})
	}
}

func TestWhatAFarmMayPlanOn(t *testing.T) {
	for text, want := range map[string]frost.PlanOn{"average": frost.Average, " Average ": frost.Average, "20%": frost.Level(20), "20 %": frost.Level(20), "1%": frost.Level(1), "50%": frost.Level(50)} {
		if got, err := frost.ParsePlanOn(text); err != nil || got != want {
			t.Errorf("%q is %v (%v), want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{"20": "neither average nor a whole level", "mean": "neither", "12.5%": "neither", "0%": "no careful level", "51%": "no careful level", "": "neither", "%": "neither"} {
		if got, err := frost.ParsePlanOn(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is %v (%v), want an error with %q", text, got, err, want)
		}
	}
	if frost.Level(20).String() != "20%" || frost.Average.String() != "average" || frost.Level(80) != frost.Average || frost.Level(20).Percent() != 20 {
		t.Error("levels do not keep their names")
	}
}

func hand(t testing.TB, month time.Month, day int, spread float64) frost.Distribution {
	t.Helper()
	d, err := frost.HandDistribution(month, day, spread)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestADateByHandBehavesLikeAStationsFalls(t *testing.T) {
	d := hand(t, time.October, 18, 10) // 78 days after Aug 1
	falls := d.Falls()
	if len(falls) != frost.ByHandFalls || !d.ByHand() || d.Frosts() != len(falls) {
		t.Fatalf("%d falls, by hand %v", len(falls), d.ByHand())
	}
	sum, square := 0.0, 0.0
	for _, f := range falls {
		sum += float64(f.Offset)
		square += float64((f.Offset - 78) * (f.Offset - 78))
	}
	if mean := sum / float64(len(falls)); mean != 78 {
		t.Errorf("the falls' mean is %g, want the date itself", mean)
	}
	if sd := math.Sqrt(square / float64(len(falls))); math.Abs(sd-10) > 0.15 {
		t.Errorf("the falls' spread is %g, want 10", sd)
	}
	if got, err := d.PlanOffset(frost.Average); err != nil || got != 78 {
		t.Errorf("average on day %g (%v), want 78", got, err)
	}
	// Quantiles of the standard normal: -0.842 at 20 %, -1.282 at 10 % (NIST/
	// SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.1).
	for percent, want := range map[int]float64{20: 69.58, 10: 65.18, 50: 78} {
		if got, err := d.PlanOffset(frost.Level(percent)); err != nil || math.Abs(got-want) > 0.01 {
			t.Errorf("%d %% on day %g (%v), want %g", percent, got, err, want)
		}
	}
	if _, ok := d.Trend(); ok {
		t.Error("a date by hand has a trend")
	}
}

func TestADateByHandWithoutSpreadIsThatDate(t *testing.T) {
	d := hand(t, time.October, 18, 0)
	if falls := d.Falls(); len(falls) != 1 || falls[0].Offset != 78 || falls[0].Year != 0 {
		t.Errorf("%+v, want one fall on day 78", falls)
	}
	for _, percent := range []int{1, 20, 50, 90} {
		if got, ok := d.Quantile(percent); !ok || got != 78 {
			t.Errorf("%d %% on day %g, want 78", percent, got)
		}
	}
	if mean, _ := d.Mean(); !d.ByHand() || frost.MonthDay(mean) != "10-18" {
		t.Errorf("%g, by hand: %v", mean, d.ByHand())
	}
}

func TestADateByHandOutsideTheFallIsRefused(t *testing.T) {
	for _, c := range []struct {
		month  time.Month
		day    int
		spread float64
		want   string
	}{
		{time.May, 10, 10, "no day from 08-01 to 12-31"},
		{time.September, 31, 10, "no day"},
		{0, 0, 10, "no day"},
		{time.October, 18, -1, "not from 0 to 60"},
		{time.October, 18, 61, "not from 0 to 60"},
		{time.October, 18, math.NaN(), "not from 0 to 60"},
	} {
		if _, err := frost.HandDistribution(c.month, c.day, c.spread); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%d-%d spread %g: %v, want %q", c.month, c.day, c.spread, err, c.want)
		}
	}
}

func TestTheFallsStillToComeAreThoseWithoutAFrostSoFar(t *testing.T) {
	d := spreadOf(60, 70, 70, 80, none)
	if left := d.StillToCome(70); len(left) != 2 || left[0].Offset != 80 || !left[1].None || left[0].Year != 2004 {
		t.Errorf("%+v still to come, want 2004 and the fall without a frost", left)
	}
	if left := spreadOf(60, 70).StillToCome(75); len(left) != 0 {
		t.Errorf("%+v still to come where every fall on record had its frost before today", left)
	}
	rapid.Check(t, func(t *rapid.T) {
		d := spreadOf(rapid.SliceOfN(rapid.IntRange(none, frost.LastOffset), 0, 40).Draw(t, "offsets")...)
		today := rapid.IntRange(-3, frost.LastOffset).Draw(t, "today")
		gone := 0
		for _, f := range d.Falls() {
			if !f.None && f.Offset <= today {
				gone++
			}
		}
		left := d.StillToCome(today)
		if len(left) != d.Counted()-gone {
			t.Fatalf("%d falls to come of %d, %d are gone", len(left), d.Counted(), gone)
		}
		for _, f := range left {
			if !f.None && f.Offset <= today {
				t.Fatalf("a fall with frost on day %d is still to come on day %d", f.Offset, today)
			}
		}
	})
}
