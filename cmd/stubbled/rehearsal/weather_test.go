package rehearsal

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
	"stubbled/scheduler/frost"
)

// said is what a rehearsal of a farm prints.
func said(t *testing.T, o Options) string {
	t.Helper()
	var out bytes.Buffer
	o.Out = &out
	if err := Play(t.Context(), o); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func byHand(t *testing.T) *config.Farm {
	t.Helper()
	farm, err := config.Load(farmtest.File(t, farmtest.Text))
	if err != nil {
		t.Fatal(err)
	}
	return farm
}

func TestAFarmWithADateByHandIsRehearsedWithAnInventedFall(t *testing.T) {
	all := said(t, Options{Farm: byHand(t), From: "2026-10-01", To: "2026-11-05"})
	for _, want := range []string{"Weather: invented", "31 F at Quail Fork, Oct 16", "27 F at Quail Fork, Oct 26", "HOLD Lane"} {
		if !strings.Contains(all, want) {
			t.Errorf("nothing says %q:\n%s", want, all)
		}
	}
	none := said(t, Options{Farm: byHand(t), From: "2026-10-01", To: "2026-11-05", Weather: "none"})
	if strings.Contains(none, " F at Quail Fork") || !strings.Contains(none, "Weather: none") {
		t.Errorf("with no weather it says\n%s", none)
	}
}

func TestAFallByHandKillsInTheNextYearWhereTenDaysReachIt(t *testing.T) {
	file := farmtest.File(t, strings.Replace(farmtest.Text, "10-16", "12-28", 1))
	farm, err := config.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	s, err := skyOf(Options{Farm: farm}, civil.Date{}, civil.Date{})
	if err != nil {
		t.Fatal(err)
	}
	for on, want := range map[string]frost.Temp{"2026-12-28": frost.FromC(-1 / 1.8), "2027-01-07": frost.FromC(-5 / 1.8), "2026-01-07": frost.FromC(-5 / 1.8), "2026-12-29": frost.NoTemp} {
		day, err := civil.ParseDate(on)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.on(day).Min; got != want {
			t.Errorf("%s: %v, want %v", on, got, want)
		}
	}
}

// The demo record ends on Dec 31, 2025: 30 falls, each with its frost, so that
// the 15th in order of date is the median by nearest rank.
func TestAFarmWithAStationIsRehearsedOnItsMedianFallAndNamesIt(t *testing.T) {
	farm, err := config.Demo()
	if err != nil {
		t.Fatal(err)
	}
	best, ok := middling(farm.Plan.Record, farm.Plan.Threshold)
	earlier, all := 0, 0
	for _, s := range farm.Plan.Record.Seasons(farm.Plan.Threshold) {
		all++
		if s.Offset() < best.Offset() {
			earlier++
		}
	}
	if !ok || earlier >= (all+1)/2 || earlier < all/2-3 {
		t.Fatalf("%d of %d falls froze before that of %d", earlier, all, best.Year)
	}
	text := said(t, Options{Farm: farm, From: "2026-10-01", To: "2026-11-05"})
	for _, want := range []string{"Weather: as Quail Fork observed in 2013, the fall with the median first frost (Oct 15)", "F at Quail Fork, Oct 15"} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing says %q:\n%s", want, text)
		}
	}
}

func TestWhatTheRecordHasOfTheDaysRehearsedIsPlayed(t *testing.T) {
	farm, err := config.Demo()
	if err != nil {
		t.Fatal(err)
	}
	day := func(text string) civil.Date {
		d, err := civil.ParseDate(text)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	if all := said(t, Options{Farm: farm, From: "2013-10-10", To: "2013-10-20"}); !strings.Contains(all, "Weather: as Quail Fork observed it.") || !strings.Contains(all, "Oct 15") {
		t.Errorf("of days on record it says\n%s", all)
	}
	cut := *farm
	cut.Plan.Record = farm.Plan.Record.Before(day("2024-09-10"))
	s, err := skyOf(Options{Farm: &cut}, day("2024-08-01"), day("2024-12-01"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(s.words, "observed it to 2024-09-09, from then on as in 20") {
		t.Errorf("where the record ends in the fall it says %q", s.words)
	}
	if s.on(day("2024-09-09")).Min != farm.Plan.Record.Day(day("2024-09-09")).Min || s.on(day("2024-09-10")).Min == farm.Plan.Record.Day(day("2024-09-10")).Min {
		t.Error("the record's own days are not played to its end, or beyond it")
	}
}

// The demo record has the whole years 1996 to 2025.
func TestYearsPastTheEndOfARecordGoRoundIt(t *testing.T) {
	farm, err := config.Demo()
	if err != nil {
		t.Fatal(err)
	}
	r, day := farm.Plan.Record, func(y, m, d int) civil.Date { return civil.Date{Year: y, Month: time.Month(m), Day: d} }
	for _, tc := range []struct {
		years    int
		on, then civil.Date
	}{
		{-13, day(2026, 4, 1), day(2013, 4, 1)}, {-13, day(2028, 2, 29), day(2015, 2, 28)}, {-1, day(2026, 12, 31), day(2025, 12, 31)},
		{-1, day(2027, 1, 1), day(1996, 1, 1)}, {-1, day(2029, 6, 1), day(1998, 6, 1)}, {-1, day(2057, 6, 1), day(1996, 6, 1)},
	} {
		got, want := moved(r, tc.years)(tc.on), r.Day(tc.then)
		if want.Date = tc.on; got != want || !got.Min.Known() {
			t.Errorf("%s: %+v, want that of %s, %+v", tc.on, got, tc.then, want)
		}
	}
}
