package ladder

import (
	"testing"
	"time"

	"github.com/golang-sql/civil"
)

func at(t *testing.T, zone, text string) time.Time {
	t.Helper()
	loc, err := time.LoadLocation(zone)
	if err != nil {
		t.Skip("no time zones on this machine")
	}
	when, err := time.ParseInLocation("2006-01-02 15:04 -0700", text, loc)
	if err != nil {
		t.Fatal(err)
	}
	return when
}

func TestAClockOnTheWall(t *testing.T) {
	for _, tc := range []struct{ name, zone, day, tod, want string }{
		{"an ordinary morning", "America/Chicago", "2026-08-22", "06:30", "2026-08-22 06:30 -0500"},
		{"a time that the clock jumps over is the moment of the jump", "America/Chicago", "2026-03-08", "02:30", "2026-03-08 03:00 -0500"},
		{"a time that it shows twice is the first", "America/Chicago", "2026-11-01", "01:30", "2026-11-01 01:30 -0500"},
		{"the hour after the second showing is winter time", "America/Chicago", "2026-11-01", "02:00", "2026-11-01 02:00 -0600"},
		{"a midnight that is skipped", "America/Havana", "2026-03-08", "00:00", "2026-03-08 01:00 -0400"},
		{"a shift of half an hour", "Australia/Lord_Howe", "2026-10-04", "02:15", "2026-10-04 02:30 +1100"},
		{"a zone of half hours", "Asia/Kolkata", "2026-08-22", "06:30", "2026-08-22 06:30 +0530"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			day, err := civil.ParseDate(tc.day)
			if err != nil {
				t.Fatal(err)
			}
			tod, err := ParseTimeOfDay(tc.tod)
			if err != nil {
				t.Fatal(err)
			}
			want := at(t, tc.zone, tc.want)
			if got := Instant(day, tod, want.Location()); !got.Equal(want) {
				t.Errorf("got %s, want %s", got, want)
			}
		})
	}
}

// Every date has every time of day exactly once, in order, in every zone: later
// on the wall is never earlier in time.
func TestEveryDateHasItsMorningOnce(t *testing.T) {
	zones := []string{
		"America/Chicago", "America/Denver", "America/New_York", "America/Havana", "America/Mexico_City", "America/St_Johns",
		"Australia/Lord_Howe", "Africa/Cairo", "Asia/Tehran", "Europe/London", "Pacific/Apia", "Pacific/Chatham", "UTC",
	}
	for _, name := range zones {
		zone, err := time.LoadLocation(name)
		if err != nil {
			t.Skip("no time zones on this machine")
		}
		last := time.Time{}
		for day := (civil.Date{Year: 2024, Month: 1, Day: 1}); day.Year < 2034; day = day.AddDays(1) {
			for tod := TimeOfDay(0); tod < 24*60; tod += 45 {
				got := Instant(day, tod, zone)
				if got.Before(last) {
					t.Fatalf("%s: %s %s comes before the time before it", name, day, tod)
				}
				if civil.DateOf(got.In(zone)) != day && day != (civil.Date{Year: 2011, Month: 12, Day: 30}) {
					t.Fatalf("%s: %s %s falls on %s", name, day, tod, got)
				}
				last = got
			}
		}
	}
}

func TestQuietHours(t *testing.T) {
	zone := at(t, "America/Chicago", "2026-08-22 06:30 -0500").Location()
	night := Contact{QuietHours: QuietHours{From: 21 * 60, To: 6 * 60}}
	noon := Contact{QuietHours: QuietHours{From: 12 * 60, To: 13 * 60}}
	early := Contact{QuietHours: QuietHours{From: 0, To: 90}}
	none := Contact{}
	for _, tc := range []struct {
		name     string
		c        Contact
		at, want string
	}{
		{"the evening waits for the morning", night, "2026-08-22 22:10 -0500", "2026-08-23 06:00 -0500"},
		{"the small hours wait for the same morning", night, "2026-08-22 03:00 -0500", "2026-08-22 06:00 -0500"},
		{"the end of quiet is not quiet", night, "2026-08-22 06:00 -0500", "2026-08-22 06:00 -0500"},
		{"the start of quiet is", night, "2026-08-22 21:00 -0500", "2026-08-23 06:00 -0500"},
		{"a nap at noon", noon, "2026-08-22 12:30 -0500", "2026-08-22 13:00 -0500"},
		{"no quiet hours", none, "2026-08-22 03:00 -0500", "2026-08-22 03:00 -0500"},
		{"over the night of 25 hours", night, "2026-10-31 23:00 -0500", "2026-11-01 06:00 -0600"},
		{"quiet that ends in the hour that is shown twice ends at its first showing", early, "2026-11-01 01:00 -0500", "2026-11-01 01:30 -0500"},
		{"and in its second showing at the second, not a day later", early, "2026-11-01 01:00 -0600", "2026-11-01 01:30 -0600"},
		{"on any other night it ends once", early, "2026-08-22 00:10 -0500", "2026-08-22 01:30 -0500"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			if got := tc.c.AfterQuiet(at(t, "America/Chicago", tc.at), zone); !got.Equal(at(t, "America/Chicago", tc.want)) {
				t.Errorf("got %s, want %s", got.In(zone), tc.want)
			}
		})
	}
}
