package frost_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
)

// expectedRecords is what an independent program computed from NOAA's files;
// the keys are its own.
type expectedRecords struct {
	Stations map[string]expectedStation `json:"stations"`
}

type expectedStation struct {
	File        string                                `json:"file"`
	Days        int                                   `json:"tmin_days"`
	First       string                                `json:"first_day"`
	Last        string                                `json:"last_day"`
	Flagged     *int                                  `json:"tmin_days_dropped_for_quality_flag"`
	FlaggedDays []string                              `json:"flagged_tmin_in_season"`
	Thresholds  map[string]map[string]json.RawMessage `json:"thresholds"`
}

type expectedYear struct {
	First   *string  `json:"first"`
	Min     *float64 `json:"tmin_c"`
	Missing int      `json:"missing"`
	Span    int      `json:"span"`
	Counts  bool     `json:"counts"`
	Later   string   `json:"first_after_dec31"`
}

type expectedDate struct {
	Offset float64 `json:"offset"`
	Date   string  `json:"date"`
}

type expectedSpread struct {
	Frosts   int                      `json:"n_frost"`
	None     int                      `json:"n_none"`
	Earliest string                   `json:"earliest"`
	Latest   string                   `json:"latest"`
	Mean     expectedDate             `json:"mean"`
	Median   expectedDate             `json:"median"`
	Type7    map[string]*expectedDate `json:"type7"`
	Nearest  map[string]*string       `json:"nearest_rank"`
	All      *struct {
		N       int                      `json:"n"`
		Type7   map[string]*expectedDate `json:"type7"`
		Nearest map[string]*string       `json:"nearest_rank"`
	} `json:"all_years_none_last"`
}

type expectedPeriod struct {
	With    *expectedSpread `json:"with_rule"`
	Without *expectedSpread `json:"without_rule"`
	Dropped []int           `json:"dropped_years"`
}

// seattleColumns names the columns of seattle-weather.csv.
var seattleColumns = frost.Columns{Date: "date", Min: "temp_min", Max: "temp_max", Rain: "precipitation", Unit: frost.Celsius}

func readExpected(t testing.TB, name string, into any) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(sharedData(t), name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		t.Fatal(err)
	}
}

func readStation(t testing.TB, file string) *frost.Record {
	t.Helper()
	var opt frost.Options
	if file == "seattle-weather.csv" {
		opt.Columns = seattleColumns
	}
	r, err := frost.ReadFile(filepath.Join(sharedData(t), file), opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestEverySeasonAndSpreadOfTheStationsIsTheOneAnIndependentProgramFound(t *testing.T) {
	var want expectedRecords
	readExpected(t, "expected.json", &want)
	if len(want.Stations) != 5 {
		t.Fatalf("%d stations in expected.json, want 5", len(want.Stations))
	}
	for name, station := range want.Stations {
		t.Run(name, func(t *testing.T) {
			r := readStation(t, station.File)
			checkRecord(t, r, station)
			if len(station.Thresholds) != 3 {
				t.Fatalf("%d thresholds, want 3", len(station.Thresholds))
			}
			for text, parts := range station.Thresholds {
				t.Run(text, func(t *testing.T) { checkThreshold(t, r, text, parts) })
			}
		})
	}
}

func checkRecord(t *testing.T, r *frost.Record, want expectedStation) {
	if got := r.Minima(); got != want.Days {
		t.Errorf("days with a minimum: %d, want %d", got, want.Days)
	}
	if r.First().String() != want.First || r.Last().String() != want.Last {
		t.Errorf("from %v to %v, want %s to %s", r.First(), r.Last(), want.First, want.Last)
	}
	for _, day := range want.FlaggedDays {
		d, err := civil.ParseDate(day)
		if err != nil {
			t.Fatal(err)
		}
		if min := r.Day(d).Min; min.Known() {
			t.Errorf("%s failed its quality check and has %v", day, min)
		}
	}
	if n := r.Problems.Count(); n != 0 {
		t.Errorf("%d problems in a sound file: %v", n, r.Problems.Lines(r.Name))
	}
}

func checkThreshold(t *testing.T, r *frost.Record, text string, parts map[string]json.RawMessage) {
	th, err := frost.ParseThreshold(text)
	if err != nil {
		t.Fatal(err)
	}
	seasons := r.Seasons(th)
	for key, raw := range parts {
		switch key {
		case "years":
			var years map[string]expectedYear
			if err := json.Unmarshal(raw, &years); err != nil {
				t.Fatal(err)
			}
			checkYears(t, seasons, years)
		case "years_that_change_if_flagged_values_are_kept":
		default:
			var p expectedPeriod
			if err := json.Unmarshal(raw, &p); err != nil {
				t.Fatal(err)
			}
			checkPeriod(t, key, seasons, p)
		}
	}
}

func checkYears(t *testing.T, seasons []frost.Season, want map[string]expectedYear) {
	if len(seasons) != len(want) {
		t.Errorf("%d seasons, want %d", len(seasons), len(want))
	}
	for _, s := range seasons {
		w, ok := want[strconv.Itoa(s.Year)]
		if !ok {
			t.Errorf("season %d is not among those wanted", s.Year)
			continue
		}
		got := expectedYear{Missing: s.Missing, Span: s.Span, Counts: s.Counted}
		if s.Came() != (w.First != nil) || s.Came() && (s.First.String() != *w.First || s.Min.C() != *w.Min) {
			t.Errorf("%d: first frost %v (%v), want %v", s.Year, s.First, s.Min, w.First)
		}
		if got.Missing != w.Missing || got.Span != w.Span || got.Counts != w.Counts {
			t.Errorf("%d: missing %d of %d, counted %v; want %d of %d, %v", s.Year, s.Missing, s.Span, s.Counted, w.Missing, w.Span, w.Counts)
		}
		if w.Later != "" && s.Later.String() != w.Later {
			t.Errorf("%d: after Dec 31 on %v, want %s", s.Year, s.Later, w.Later)
		}
		if s.Counted != (s.Why == "") {
			t.Errorf("%d: counted %v and why %q", s.Year, s.Counted, s.Why)
		}
	}
}

func checkPeriod(t *testing.T, key string, seasons []frost.Season, p expectedPeriod) {
	pick := frost.Pick{}
	if key != "all" {
		from, to, _ := cutYears(key)
		pick.From, pick.To = from, to
	}
	checkSpread(t, key+" with the rule", frost.Distribute(seasons, pick), p.With)
	loose := pick
	loose.EvenUncounted = true
	checkSpread(t, key+" without the rule", frost.Distribute(seasons, loose), p.Without)
	dropped := map[int]bool{}
	for _, y := range p.Dropped {
		dropped[y] = true
	}
	for _, s := range seasons {
		inside := pick.From == 0 || s.Year >= pick.From && s.Year <= pick.To
		if inside && s.Counted == dropped[s.Year] {
			t.Errorf("%s: %d counted %v, dropped there: %v", key, s.Year, s.Counted, dropped[s.Year])
		}
	}
}

func cutYears(key string) (from, to int, err error) {
	if from, err = strconv.Atoi(key[:4]); err != nil {
		return 0, 0, err
	}
	to, err = strconv.Atoi(key[5:])
	return from, to, err
}

func checkSpread(t *testing.T, what string, d frost.Distribution, want *expectedSpread) {
	t.Helper()
	if want == nil {
		if d.Frosts() != 0 {
			t.Errorf("%s: %d frosts where none are wanted", what, d.Frosts())
		}
		return
	}
	if d.Frosts() != want.Frosts || d.Counted()-d.Frosts() != want.None {
		t.Errorf("%s: %d frosts, %d without; want %d and %d", what, d.Frosts(), d.Counted()-d.Frosts(), want.Frosts, want.None)
		return
	}
	falls := d.FrostsOnly().Falls()
	if early, late := frost.MonthDay(float64(falls[0].Offset)), frost.MonthDay(float64(falls[len(falls)-1].Offset)); early != want.Earliest || late != want.Latest {
		t.Errorf("%s: from %s to %s, want %s to %s", what, early, late, want.Earliest, want.Latest)
	}
	mean, _ := d.Mean()
	checkDate(t, what+" mean", mean, true, &want.Mean)
	median, ok := d.FrostsOnly().Quantile(50)
	checkDate(t, what+" median", median, ok, &want.Median)
	checkLevels(t, what+", seasons with a frost", d.FrostsOnly(), want.Type7, want.Nearest)
	if want.All != nil {
		if d.Counted() != want.All.N {
			t.Errorf("%s: %d seasons, want %d", what, d.Counted(), want.All.N)
		}
		checkLevels(t, what+", every season", d, want.All.Type7, want.All.Nearest)
	}
}

func checkLevels(t *testing.T, what string, d frost.Distribution, type7 map[string]*expectedDate, nearest map[string]*string) {
	t.Helper()
	if len(type7) != 9 || len(nearest) != 9 {
		t.Fatalf("%s: %d and %d levels, want 9", what, len(type7), len(nearest))
	}
	for percent := 10; percent <= 90; percent += 10 {
		key := "p" + strconv.Itoa(percent)
		got, ok := d.Quantile(percent)
		checkDate(t, what+" "+key, got, ok, type7[key])
		rank, ok := d.NearestRank(percent)
		want := nearest[key]
		if ok != (want != nil) || ok && frost.MonthDay(float64(rank)) != *want {
			t.Errorf("%s: nearest rank %s is %d (%v), want %v", what, key, rank, ok, want)
		}
	}
}

// checkDate compares to the four decimals that the file keeps.
func checkDate(t *testing.T, what string, got float64, ok bool, want *expectedDate) {
	t.Helper()
	if ok != (want != nil) {
		t.Errorf("%s: %g (known: %v), want %v", what, got, ok, want)
		return
	}
	if ok && (math.Round(got*1e4)/1e4 != want.Offset || frost.MonthDay(got) != want.Date) {
		t.Errorf("%s: %g (%s), want %g (%s)", what, got, frost.MonthDay(got), want.Offset, want.Date)
	}
}
