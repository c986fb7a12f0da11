package disk

import (
	"slices"
	"testing"

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

func TestAClockThatRanAheadDoesNotDeleteTheBackups(t *testing.T) {
	days := []civil.Date{day("2027-09-01"), day("2026-08-31"), day("2026-08-30")}
	for _, d := range days {
		if !keep(days)[d] {
			t.Errorf("%s was given up", d)
		}
	}
}

func day(s string) civil.Date {
	d, err := civil.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}
