package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"
)

// A run of ten years, a backup each night: what is left is worked out by hand.
func TestNightlyBackupsAreKeptByTheRule(t *testing.T) {
	var days []civil.Date
	for d := day("2016-09-01"); !d.After(day("2026-09-09")); d = d.AddDays(1) { // a Wednesday
		days = slices.Insert(days, 0, d)
		kept := keep(days)
		days = slices.DeleteFunc(days, func(d civil.Date) bool { return !kept[d] })
	}
	want := []string{
		"2017-01-01", "2018-01-01", "2019-01-01", "2020-01-01", "2021-01-01", "2022-01-01", "2023-01-01", "2024-01-01", "2025-01-01", "2026-01-01",
		"2026-07-20", "2026-07-27", "2026-08-03", "2026-08-10", "2026-08-17", "2026-08-24", // Mondays; Aug 31 and Sep 7 are among the 14
		"2026-08-27", "2026-08-28", "2026-08-29", "2026-08-30", "2026-08-31", "2026-09-01", "2026-09-02",
		"2026-09-03", "2026-09-04", "2026-09-05", "2026-09-06", "2026-09-07", "2026-09-08", "2026-09-09",
	}
	var got []string
	for _, d := range slices.Backward(days) {
		got = append(got, d.String())
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}

// made puts a copy in a folder, as one that a clock made in a night.
func made(t *testing.T, s *Store, dir string, clock time.Time) string {
	t.Helper()
	update(t, s, clock, func(x *Tx) error { return x.SetSeen(clock) })
	path, err := s.Nightly(ctx, dir, civil.DateOf(clock), clock)
	must(t, err)
	return path
}

// For three nights a clock that everybody believed was a year ahead, and one
// of the true nights has the name of a wild one.
func TestAWildClockSpoilsNoBackup(t *testing.T) {
	s := fresh(t)
	dir := filepath.Join(t.TempDir(), "backups")
	record(t, s, reading("before", 14))
	for i := range 3 {
		made(t, s, dir, sep1.AddDate(1, 0, i))
	}
	var newest string
	for i := range 20 {
		record(t, s, reading(fmt.Sprint("after", i), 9))
		newest = made(t, s, dir, sep1.AddDate(0, 0, i))
		if !exists(newest) {
			t.Fatalf("night %d: the fresh copy was deleted as it was made", i)
		}
	}
	now := sep1.AddDate(0, 0, 20)
	good, bad, err := LatestGood(ctx, dir, now)
	must(t, err)
	if good.Path != newest || good.Last != 21 || len(bad) != 3 || !strings.Contains(errors.Join(bad...).Error(), "has not come yet") {
		t.Errorf("the newest is %+v, passed over %v", good, bad)
	}
	all, err := Copies(ctx, dir)
	must(t, err)
	if len(all) != 3+14 { // both Mondays are among the 14
		t.Errorf("%d copies are kept", len(all))
	}
	// A year later the wild nights' names come again.
	later := sep1.AddDate(1, 0, 1)
	record(t, s, reading("later", 8))
	wild := filepath.Join(dir, "stubbled-2027-09-03.db")
	if path := made(t, s, dir, later); !exists(path) {
		t.Errorf("%s is not there", path)
	}
	must(t, os.Rename(filepath.Join(dir, "stubbled-2027-09-02.db"), wild))
	if good, _, err := LatestGood(ctx, dir, later); err != nil || good.Path != wild || good.Last != 22 {
		t.Errorf("by what is inside the newest is %+v, %v", good, err)
	}
}

func TestACopyNamedByAWildClockDoesNotStandForTheNight(t *testing.T) {
	s := fresh(t)
	dir := filepath.Join(t.TempDir(), "backups")
	wild := made(t, s, dir, sep1.AddDate(1, 0, 0))
	must(t, os.Rename(wild, filepath.Join(dir, "stubbled-2026-09-01.db")))
	record(t, s, reading("creek", 14))
	path := made(t, s, dir, sep1)
	if c := Inside(ctx, path); c.Last != 1 || !c.Seen.Equal(sep1) {
		t.Errorf("the night's copy is %+v", c)
	}
	if aside, _ := filepath.Glob(path + ".ahead.*"); len(aside) != 1 {
		t.Errorf("moved aside: %v", aside)
	}
}
