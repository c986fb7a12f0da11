package season

import (
	"testing"

	"github.com/golang-sql/civil"
)

func day(text string) civil.Date {
	d, err := civil.ParseDate(text)
	if err != nil {
		panic(err)
	}
	return d
}

// grassFor is a paddock of so many days of grass for each inch above the floor.
func grassFor(height, daysPerInch float64) func(float64) (float64, bool) {
	return func(floor float64) (float64, bool) { return max(0, (height-floor)*daysPerInch), true }
}

func noHerd(float64) (float64, bool) { return 0, false }

// base is an open tall-native paddock on Aug 1 with a month and more to go:
// leave 8, want 18, spare 6, begin at 14 (common practice).
func base() Case {
	return Case{
		Today: day("2026-07-20"), Phase: Open, Native: true, Read: true, Height: 12,
		Rule: Rule{Leave: 8, AtFrost: 18, Min: 6, Begin: 14}, Frost: day("2026-10-16"), Cutoff: day("2026-09-01"),
		DaysAbove: grassFor(12, 2),
	}
}

func TestTheVerdictTableRowByRow(t *testing.T) {
	read := func(c *Case, h float64) { c.Height, c.DaysAbove = h, grassFor(h, 2) }
	for _, tc := range []struct {
		name   string
		change func(*Case)
		say    Say
		action Action
		reason Reason
	}{
		{"a hold keeps cattle out whatever the height", func(c *Case) { c.Held = true; read(c, 30) }, Wait, KeepShut, OnHold},
		{"a hold takes off cattle that are in", func(c *Case) { c.Held, c.AnimalsIn = true, true }, Wait, TakeOff, OnHold},
		{"where nobody knows whether cattle are in a hold takes them off", func(c *Case) { c.Held, c.Unsure = true, true }, Wait, TakeOff, OnHold},
		{"and so does a rest", func(c *Case) { c.Phase, c.Unsure = Rest, true }, Wait, TakeOff, InRest},
		{"on a height too short it is only kept shut", func(c *Case) { c.Unsure = true; read(c, 7) }, Wait, KeepShut, UnderLeave},
		{"a hold beats a rest", func(c *Case) { c.Held, c.Phase = true, Rest }, Wait, KeepShut, OnHold},
		{"a hold needs no reading", func(c *Case) { c.Held, c.Read = true, false }, Wait, KeepShut, OnHold},
		{"an ordinary paddock in rest stays shut", func(c *Case) { c.Phase = Rest; read(c, 24) }, Wait, KeepShut, InRest},
		{"an ordinary paddock in rest stays shut unread", func(c *Case) { c.Phase, c.Read = Rest, false }, Wait, KeepShut, InRest},
		{"cattle in a resting paddock come off", func(c *Case) { c.Phase, c.AnimalsIn = Rest, true }, Wait, TakeOff, InRest},
		{"ground that must be given back stays shut after its day", func(c *Case) { c.GivenBack, c.Native = true, false }, Wait, KeepShut, GivenBack},
		{"so does dormant ground", func(c *Case) { c.GivenBack, c.Phase = true, Dormant; read(c, 20) }, Wait, KeepShut, GivenBack},
		{"and cattle in it come off", func(c *Case) { c.GivenBack, c.Phase, c.FallUse, c.AnimalsIn = true, Rest, true, true; read(c, 20) }, Wait, TakeOff, GivenBack},
		{"a native in rest that was given back is in rest", func(c *Case) { c.GivenBack, c.Phase = true, Rest }, Wait, KeepShut, InRest},
		{"dormant ground whose rest failed is left for spring, however tall", func(c *Case) { c.Phase, c.Failed = Dormant, true; read(c, 20) }, Wait, KeepShut, RestFailed},
		{"it needs no reading for that", func(c *Case) { c.Phase, c.Failed, c.Read = Dormant, true, false }, Wait, KeepShut, RestFailed},
		{"a paddock nobody read gets no verdict", func(c *Case) { c.Read = false }, "", ReadIt, NeverRead},
		{"a dormant paddock nobody read gets no verdict", func(c *Case) { c.Phase, c.Read = Dormant, false }, "", ReadIt, NeverRead},
		{"a reading of ten days still counts in an empty paddock", func(c *Case) { c.Age = 10; read(c, 15) }, Go, TurnIn, ReadyToGraze},
		{"a reading of eleven days is too old", func(c *Case) { c.Age = 11; read(c, 15) }, Wait, ReadIt, OldReading},
		{"a reading of four days still counts with cattle in", func(c *Case) { c.Age, c.AnimalsIn = 4, true }, Go, Stay, GrazedEnough},
		{"with cattle in a reading of five days is too old, and they are never taken off on it", func(c *Case) { c.Age, c.AnimalsIn = 5, true; read(c, 5) }, Wait, ReadIt, OldReading},
		{"a dormant paddock that made its height is grazed to the growing point", func(c *Case) { c.Phase, c.EndHeight = Dormant, 18; read(c, 7) }, Go, TurnIn, DormantGrass},
		{"a dormant paddock at the growing point is left alone", func(c *Case) { c.Phase, c.EndHeight = Dormant, 18; read(c, 6) }, Wait, KeepShut, LeaveCover},
		{"a dormant paddock that fell short keeps the height to leave as cover", func(c *Case) { c.Phase, c.EndHeight = Dormant, 17.9; read(c, 8) }, Wait, KeepShut, LeaveCover},
		{"a dormant paddock whose end was never read keeps it too", func(c *Case) { c.Phase, c.EndHeight = Dormant, 0; read(c, 7) }, Wait, KeepShut, LeaveCover},
		{"a dormant paddock above the cover is grazed on", func(c *Case) { c.Phase, c.AnimalsIn = Dormant, true; read(c, 9) }, Go, Stay, DormantGrass},
		{"fall use under the height to leave waits whatever growth is promised", func(c *Case) { c.Phase, c.FallUse, c.Growth = Rest, true, 20; read(c, 7.9) }, Wait, KeepShut, UseShort},
		{"fall use that would just make its height at frost waits", func(c *Case) { c.Phase, c.FallUse, c.Growth = Rest, true, 6; read(c, 12) }, Wait, KeepShut, UseLacks},
		{"fall use with grass to spare over the height at frost goes", func(c *Case) { c.Phase, c.FallUse, c.Growth = Rest, true, 8; read(c, 12) }, Go, TurnIn, UseGrass},
		{"fall use past the planning frost counts no more growth", func(c *Case) {
			c.Phase, c.FallUse, c.Growth, c.Today = Rest, true, 8, c.Frost
			read(c, 12)
		}, Wait, KeepShut, UseLacks},
		{"an open paddock under the height to leave waits", func(c *Case) { read(c, 7.9) }, Wait, KeepShut, UnderLeave},
		{"cattle under the height to leave come off", func(c *Case) { c.AnimalsIn = true; read(c, 7) }, Wait, TakeOff, UnderLeave},
		{"cattle with less than a day of grass come off", func(c *Case) { c.AnimalsIn = true; read(c, 8.4) }, Wait, TakeOff, EatenDown},
		{"cattle with a day of grass stay", func(c *Case) { c.AnimalsIn = true; read(c, 8.5) }, Go, Stay, GrazedEnough},
		{"cattle stay where no herd is on file, since days are not guessed", func(c *Case) { c.AnimalsIn, c.DaysAbove = true, noHerd }, Go, Stay, GrazedEnough},
		{"an empty paddock at the height to leave waits", func(c *Case) { read(c, 8) }, Wait, KeepShut, UnderLeave},
		{"an empty paddock under the height to begin waits while there is time", func(c *Case) { read(c, 12) }, Wait, KeepShut, NotReady},
		{"an empty paddock at the height to begin goes", func(c *Case) { read(c, 14) }, Go, TurnIn, ReadyToGraze},
		{"thirty days before cutoff the height to begin no longer counts", func(c *Case) { c.Today = c.Cutoff.AddDays(-30); read(c, 12) }, Go, TurnIn, ReadyToGraze},
		{"thirty-one days before it still does", func(c *Case) { c.Today = c.Cutoff.AddDays(-31); read(c, 12) }, Wait, KeepShut, NotReady},
		{"three days before cutoff a last visit is worth it", func(c *Case) { c.Today = c.Cutoff.AddDays(-3); read(c, 12) }, Go, TurnIn, ReadyToGraze},
		{"two days before cutoff it is not", func(c *Case) { c.Today = c.Cutoff.AddDays(-2); read(c, 12) }, Wait, KeepShut, TooFewDays},
		{"three days of grass are worth turning in for", func(c *Case) { c.Begin = 9; read(c, 9.5) }, Go, TurnIn, ReadyToGraze},
		{"less than three are not", func(c *Case) { c.Begin = 9; read(c, 9.4) }, Wait, KeepShut, TooFewDays},
		{"with no herd on file days count as enough", func(c *Case) { read(c, 14); c.DaysAbove = noHerd }, Go, TurnIn, ReadyToGraze},
		{"ground without a cutoff keeps its height to begin", func(c *Case) { c.Native, c.Cutoff, c.Frost = false, civil.Date{}, civil.Date{}; read(c, 12) }, Wait, KeepShut, NotReady},
	} {
		t.Run(tc.name, func(t *testing.T) {
			c := base()
			tc.change(&c)
			got := Judge(c)
			if got.Say != tc.say || got.Action != tc.action || got.Reason != tc.reason {
				t.Errorf("got %q %s (%s), want %q %s (%s)", got.Say, got.Action, got.Reason, tc.say, tc.action, tc.reason)
			}
		})
	}
}

func TestWhatAVerdictSaysBesides(t *testing.T) {
	t.Run("cattle must be out on the earlier of grass gone and cutoff", func(t *testing.T) {
		c := base()
		c.AnimalsIn, c.Today = true, day("2026-08-20")
		c.Height, c.DaysAbove = 10, grassFor(10, 2) // four days
		if got := Judge(c).OutBy; got != day("2026-08-24") {
			t.Errorf("out by %s, want 2026-08-24", got)
		}
		c.Today = day("2026-08-30")
		if got := Judge(c); got.OutBy != c.Cutoff || *got.Days != 2 {
			t.Errorf("out by %s with %g days, want the cutoff with 2", got.OutBy, *got.Days)
		}
	})
	t.Run("a wait says how much is missing", func(t *testing.T) {
		c := base()
		c.Height = 6
		if got := Judge(c).Lacks; got != 2 {
			t.Errorf("lacks %g in, want 2", got)
		}
	})
	t.Run("fall use says how much it would lack at frost", func(t *testing.T) {
		c := base()
		c.Phase, c.FallUse, c.Growth = Rest, true, 4
		if got := Judge(c).Lacks; got != 2 {
			t.Errorf("lacks %g in at frost, want 2", got)
		}
	})
	t.Run("fall use lets no more be eaten than leaves the height at frost", func(t *testing.T) {
		c := base()
		c.Phase, c.FallUse, c.Growth = Rest, true, 8 // 12 + 8 - 18: 2 in to spare, 4 days
		if got := Judge(c); got.Days == nil || *got.Days != 4 {
			t.Errorf("days %v, want 4", got.Days)
		}
	})
	t.Run("fall use never eats below the height to leave, whatever growth is promised", func(t *testing.T) {
		c := base()
		c.Phase, c.FallUse, c.Growth = Rest, true, 30
		if got := Judge(c); *got.Days != 8 { // 12 down to 8, two days an inch
			t.Errorf("days %g, want 8", *got.Days)
		}
	})
	t.Run("days without a herd on file are left out", func(t *testing.T) {
		c := base()
		c.AnimalsIn, c.DaysAbove = true, noHerd
		if got := Judge(c).Days; got != nil {
			t.Errorf("days %g, want none", *got)
		}
	})
	t.Run("more than fourteen days are told as fourteen and more", func(t *testing.T) {
		c := base()
		c.AnimalsIn, c.DaysAbove = true, grassFor(12, 30)
		if got := Judge(c); !got.More || *got.Days != 14 {
			t.Errorf("days %v more %v, want 14 and more", *got.Days, got.More)
		}
	})
}

// Common practice: 45 days before Oct 16, and 60 days before Oct 20.
func TestTheCutoffIsCountedBackFromFrost(t *testing.T) {
	for _, tc := range []struct {
		name         string
		frost        string
		rest         int
		outBy, wants string
	}{
		{"frost Oct 16 with 45 days is Sep 1", "2026-10-16", 45, "", "2026-09-01"},
		{"frost Oct 20 with 60 days is Aug 21", "2026-10-20", 60, "", "2026-08-21"},
		// NWS Kansas City, 2009: first 32 F at Nevada MO Oct 18; USDA-ARS: 45
		// days of rest; K-State: 42 to 56 days; 30 days commonly repeated.
		{"Nevada, Missouri with 45 days is Sep 3", "2026-10-18", 45, "", "2026-09-03"},
		{"Nevada, Missouri with 42 days is Sep 6", "2026-10-18", 42, "", "2026-09-06"},
		{"Nevada, Missouri with 56 days is Aug 23", "2026-10-18", 56, "", "2026-08-23"},
		{"Nevada, Missouri with 30 days is Sep 18", "2026-10-18", 30, "", "2026-09-18"},
		{"Kansas City with 45 days is Sep 13", "2026-10-28", 45, "", "2026-09-13"},
		{"a lease that ends sooner shuts it sooner", "2026-10-16", 45, "2026-08-15", "2026-08-15"},
		{"a lease that ends later changes nothing", "2026-10-16", 45, "2026-11-15", "2026-09-01"},
		{"a leap year moves nothing after February", "2028-10-16", 45, "", "2028-09-01"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var outBy civil.Date
			if tc.outBy != "" {
				outBy = day(tc.outBy)
			}
			if got := cutoff(day(tc.frost), tc.rest, outBy); got != day(tc.wants) {
				t.Errorf("cutoff %s, want %s", got, tc.wants)
			}
		})
	}
}
