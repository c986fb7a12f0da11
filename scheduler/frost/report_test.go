package frost_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"stubbled/scheduler/frost"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares with a file under testdata, or rewrites it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; run with -update and read the change\n%s", path, got)
	}
}

func tableOf(t *testing.T, rep frost.Report) string {
	t.Helper()
	var b bytes.Buffer
	if err := rep.WriteTable(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTheSeattleTableReadsAsItShould(t *testing.T) {
	r, err := frost.ReadFile("testdata/seattle-weather.csv", frost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	rep := frost.NewReport(r, frost.Freeze32F, frost.Pick{})
	golden(t, "seattle-32F.txt", []byte(tableOf(t, rep)))
	summary, err := json.MarshalIndent(frost.NewReport(r, frost.KillingFreeze28F, frost.Pick{}).Summary(), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "seattle-28F.json", append(summary, '\n'))
}

func TestATableTellsWhatWasDroppedAndWhatWasLeftOut(t *testing.T) {
	text := fallCSV(2011, withGap(0, 70)) + fallCSV(2012, withGap(30, 70)) + fallCSV(2015, withGap(0, 80)) + "2015-10-32,1\n2015-08-01,-9\n"
	got := tableOf(t, frost.NewReport(read(t, text, frost.Options{}), frost.Freeze32F, frost.Pick{}))
	for _, want := range []string{
		"Record from Aug 1 2011 to Dec 31 2015, plain CSV",
		"2012                      [Oct 10]         [Oct 10]         [none by Dec 31]",
		"  2012 32F: 30 of 71 days missing from Aug 1 to the frost on Oct 10",
		"average                   Oct 15           Oct 15           -",
		"Falls within the record without a single minimum: 2013-2014",
		"Left out of the record: lines that cannot be read: 1, rows that repeat a day: 1",
		`station:463: no date such as 2012-10-07 or 10/7/2012: "2015-10-32"`,
		"station:464: a second row for 2015-08-01; the first one stays",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

func TestYearsBoundWhatATableShows(t *testing.T) {
	r, err := frost.ReadFile("testdata/seattle-weather.csv", frost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	rep := frost.NewReport(r, frost.Freeze32F, frost.Pick{From: 2013, To: 2014})
	if s := rep.Summary(); len(s.Seasons) != 2 || *s.Mean != "11-17" || *s.MeanOffset != 107.5 {
		t.Errorf("%d seasons, mean %v", len(s.Seasons), *s.Mean)
	}
	if got := tableOf(t, rep); !strings.Contains(got, "falls of 2013 to 2014") || strings.Contains(got, "Nov 10 2012") {
		t.Errorf("a table of other years:\n%s", got)
	}
}

func TestAThresholdOfItsOwnGetsAColumnInOrder(t *testing.T) {
	r := read(t, fallCSV(2012, withGap(0, 70)), frost.Options{})
	for text, want := range map[string]string{"34F": "36F 34F 32F 28F", "24F": "36F 32F 28F 24F", "40F": "40F 36F 32F 28F", "0C": "36F 32F 28F", "32F": "36F 32F 28F"} {
		th, err := frost.ParseThreshold(text)
		if err != nil {
			t.Fatal(err)
		}
		rep := frost.NewReport(r, th, frost.Pick{})
		var got []string
		for _, c := range rep.Columns {
			got = append(got, c.Threshold.String())
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: columns %v, want %s", text, got, want)
		}
		if rep.Planned().Distribution.Counted() != 1 || rep.Summary().Threshold != text {
			t.Errorf("%s: planned on %+v", text, rep.Planned().Threshold)
		}
	}
}

// The figures are derived from the published averages for Nevada MO and Kansas
// City (NWS Kansas City, Autumn 2009 Frost/Freeze Information) and rests of 45
// days (USDA-ARS publication 122308, 2001), 42 to 56 (Otte, K-State Extension,
// 2005) and 30.
func TestTheCutoffIsCountedBackFromTheFrost(t *testing.T) {
	for _, c := range []struct {
		frostOn string
		rest    int
		cutoff  string
	}{
		{"2001-10-18", 45, "09-03"}, {"2001-10-18", 42, "09-06"}, {"2001-10-18", 56, "08-23"}, {"2001-10-18", 30, "09-18"},
		{"2001-10-28", 45, "09-13"},
	} {
		offset := frost.Offset(day(t, c.frostOn))
		text := ""
		for year := 2001; year <= 2010; year++ {
			text += fallCSV(year, withGap(0, offset))
		}
		rep := frost.NewReport(read(t, text, frost.Options{}), frost.Freeze32F, frost.Pick{})
		for _, on := range frost.PlanChoices() {
			cutoff, date, err := rep.Cutoff(2001, on, c.rest)
			if err != nil || date.String() != c.frostOn || cutoff.String() != "2001-"+c.cutoff {
				t.Errorf("%s less %d days by %v: %v (%v), want %s", c.frostOn, c.rest, on, cutoff, err, c.cutoff)
			}
		}
	}
}

func TestTheSummaryHasTheFiguresOfTheIndependentProgram(t *testing.T) {
	var want expectedRecords
	readExpected(t, "expected.json", &want)
	for name, station := range want.Stations {
		r := readStation(t, station.File)
		for text, parts := range station.Thresholds {
			th, err := frost.ParseThreshold(text)
			if err != nil {
				t.Fatal(err)
			}
			var period expectedPeriod
			if err := json.Unmarshal(parts["all"], &period); err != nil {
				t.Fatal(err)
			}
			s := frost.NewReport(r, th, frost.Pick{}).Summary()
			levels := period.With.Type7
			if period.With.All != nil {
				levels = period.With.All.Type7
			}
			if *s.Mean != period.With.Mean.Date || *s.MeanOffset != period.With.Mean.Offset || len(s.Quantiles) != 9 {
				t.Errorf("%s %s: mean %s (%g), want %+v", name, text, *s.Mean, *s.MeanOffset, period.With.Mean)
			}
			for _, percent := range frost.Levels() {
				key := strconv.Itoa(percent)
				w := levels["p"+key]
				if got := s.QuantileOffsets[key]; (got == nil) != (w == nil) || got != nil && (*got != w.Offset || *s.Quantiles[key] != w.Date) {
					t.Errorf("%s %s %s %%: %v, want %+v", name, text, key, got, w)
				}
			}
		}
	}
}
