package config_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/config"
)

// save writes a file the way that an editor does, with a stamp that surely
// differs from the one before.
func save(t *testing.T, path, text string, tick int) {
	t.Helper()
	tmp := path + ".tmp"
	if err := os.WriteFile(tmp, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 8, 1, 6, 0, tick, 0, time.UTC)
	if err := os.Chtimes(tmp, at, at); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(tmp, path); err != nil {
		t.Fatal(err)
	}
}

// check looks once and says in short what came of it.
func check(t *testing.T, w *config.Watcher) (*config.Farm, string) {
	t.Helper()
	farm, err := w.Check()
	switch {
	case err != nil && farm != nil:
		t.Fatal("a farm and an error")
	case err != nil:
		return nil, "refused: " + err.Error()
	case farm != nil:
		return farm, "new"
	}
	return nil, "nothing"
}

func watched(t *testing.T) (path string, w *config.Watcher) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "farm.yaml")
	save(t, path, good(t), 0)
	farm, err := config.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	w = config.NewWatcher(farm)
	if _, what := check(t, w); what != "nothing" {
		t.Fatalf("an unchanged file is %s", what)
	}
	return path, w
}

func TestAnEditIsSeenOnce(t *testing.T) {
	path, w := watched(t)
	save(t, path, good(t, "days: 45 days", "days: 50 days"), 1)
	farm, what := check(t, w)
	if what != "new" || farm.Rule.RestDays != 50 {
		t.Fatalf("%s, %v", what, farm)
	}
	for range 3 {
		if _, what := check(t, w); what != "nothing" {
			t.Errorf("seen again: %s", what)
		}
	}
}

func TestABadEditIsToldOnceAndTheMendIsSeen(t *testing.T) {
	path, w := watched(t)
	save(t, path, good(t, "days: 45 days", "days: 45"), 1)
	if _, what := check(t, w); !strings.HasPrefix(what, "refused: ") || !strings.Contains(what, "rest.days") {
		t.Fatal(what)
	}
	save(t, path, good(t, "days: 45 days", "days: 45"), 2) // saved again, the same words
	if _, what := check(t, w); what != "nothing" {
		t.Errorf("told twice: %s", what)
	}
	save(t, path, good(t, "days: 45 days", "days: many"), 3)
	if _, what := check(t, w); !strings.HasPrefix(what, "refused: ") {
		t.Errorf("another fault is %s", what)
	}
	save(t, path, good(t), 4) // as it was before: the owner must hear that all is well
	if _, what := check(t, w); what != "new" {
		t.Errorf("the mend is %s", what)
	}
	save(t, path, good(t, "days: 45 days", "days: 45"), 5)
	if _, what := check(t, w); !strings.HasPrefix(what, "refused: ") {
		t.Errorf("broken anew is %s", what)
	}
}

func TestAFileThatIsGoneForAMomentIsNoFault(t *testing.T) {
	path, w := watched(t)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if _, what := check(t, w); what != "nothing" {
		t.Errorf("at the first look: %s", what)
	}
	save(t, path, good(t), 1)
	if _, what := check(t, w); what != "nothing" {
		t.Errorf("back again: %s", what)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	_, _ = check(t, w)
	if _, what := check(t, w); !strings.Contains(what, "no such file") {
		t.Errorf("at the second look: %s", what)
	}
	if _, what := check(t, w); what != "nothing" {
		t.Errorf("told twice: %s", what)
	}
	save(t, path, good(t), 2)
	if _, what := check(t, w); what != "new" {
		t.Errorf("back at last: %s", what)
	}
}

func TestAChangedStationFileReloadsTheFarm(t *testing.T) {
	dir := t.TempDir()
	path, station := filepath.Join(dir, "farm.yaml"), filepath.Join(dir, "quail-fork.csv")
	save(t, path, string(config.Example()), 0)
	record := string(config.ExampleStation())
	save(t, station, record, 0)
	farm, err := config.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	w := config.NewWatcher(farm)
	if _, what := check(t, w); what != "nothing" {
		t.Fatal(what)
	}
	save(t, station, record+"2026-01-01,-3.0,4.0,0.0\n", 1)
	if _, what := check(t, w); what != "new" {
		t.Errorf("a new day on record is %s", what)
	}
	save(t, station, "nothing of use\n", 2)
	if _, what := check(t, w); !strings.Contains(what, "quail-fork.csv:1: ") {
		t.Errorf("a broken record is %s", what)
	}
}

// The farm file names a station that comes later: the farm file itself does
// not change when it does.
func TestAStationThatComesLaterIsSeen(t *testing.T) {
	path, w := watched(t)
	save(t, path, good(t, "date: 10-18, spread: 10 days, ", "station: quail-fork.csv, "), 1)
	if _, what := check(t, w); !strings.Contains(what, "is not there") {
		t.Fatal(what)
	}
	save(t, filepath.Join(filepath.Dir(path), "quail-fork.csv"), string(config.ExampleStation()), 1)
	if farm, what := check(t, w); what != "new" || farm.Plan.Record == nil {
		t.Errorf("it is %s", what)
	}
}

func TestASecretThatWasShutIsSeen(t *testing.T) {
	path, w := watched(t)
	secret := filepath.Join(filepath.Dir(path), "mail")
	if err := os.WriteFile(secret, []byte("hunter2"), 0o644); err != nil {
		t.Fatal(err)
	}
	save(t, path, good(t)+"carriers:\n  email:\n    from: farm@example.org\n    smtp: {host: smtp.example.org, user: farm, password_file: mail}\n", 1)
	if _, what := check(t, w); !strings.Contains(what, "chmod 600") {
		t.Fatal(what)
	}
	if err := os.Chmod(secret, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, what := check(t, w); what != "new" {
		t.Errorf("after chmod it is %s", what)
	}
}
