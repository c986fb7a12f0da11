package config_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"stubbled/config"
	"stubbled/scheduler/frost"
)

// sharedData is the folder with NOAA's station records, which are kept beside
// the repository. STUBBLED_DATA names another folder.
func sharedData(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("STUBBLED_DATA")
	if dir == "" {
		root, err := os.Getwd()
		if err != nil {
			t.Fatal(err)
		}
		for {
			if _, err := os.Stat(filepath.Join(root, "go.mod")); err == nil {
				break
			}
			if filepath.Dir(root) == root {
				t.Fatal("no go.mod above the test")
			}
			root = filepath.Dir(root)
		}
		dir = filepath.Join(root, "..", "shared", "data")
	}
	if _, err := os.Stat(dir); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("the station records are not at %s; set STUBBLED_DATA", dir)
		}
		t.Skipf("SKIPPED, NOT CHECKED: the station records are not at %s", dir)
	}
	return dir
}

// A farm file planned on NOAA's own files counts back from the mean date that
// an independent program computes from them (expected.json beside the records;
// sources GHCN-Daily, doi:10.7289/V5D21VHZ, and USCRN, doi:10.1175/BAMS-D-12-00170.1).
func TestAFarmIsPlannedOnNOAAsOwnFiles(t *testing.T) {
	dir := sharedData(t)
	data, err := os.ReadFile(filepath.Join(dir, "expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	var expected struct {
		Stations map[string]struct {
			File       string
			Thresholds map[string]struct {
				All struct {
					WithRule struct{ Mean struct{ Date string } } `json:"with_rule"`
				}
			}
		}
	}
	if err := json.Unmarshal(data, &expected); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"KS_Manhattan_6_SSW", "IA_Des_Moines_17_E", "USW00094728"} {
		s := expected.Stations[name]
		f := load(t, good(t, "date: 10-18, spread: 10 days, ", fmt.Sprintf("station: %q, ", filepath.Join(dir, s.File))))
		mean, ok := f.Plan.Record.Distribution(f.Plan.Threshold, frost.Pick{}).Mean()
		want := s.Thresholds["32F"].All.WithRule.Mean.Date
		if got := frost.MonthDay(mean); !ok || want == "" || got != want {
			t.Errorf("%s: planned on %s, want %q", name, got, want)
		}
		if f.Station != filepath.Join(dir, s.File) {
			t.Errorf("station %q", f.Station)
		}
	}
	if _, err := config.Load(written(t, good(t, "date: 10-18, spread: 10 days, ", fmt.Sprintf("station: %q, ", filepath.Join(dir, "README.md"))))); err == nil {
		t.Error("a text file was taken for a record")
	}
}
