package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/scheduler/ladder"
)

// sharedFile is a real record that lies beside the project and is not part of
// it; a test that lacks it says so, and in CI that is a failure.
func sharedFile(t *testing.T, name string) string {
	t.Helper()
	dir := os.Getenv("STUBBLED_DATA")
	if dir == "" {
		dir = filepath.Join(farmtest.Top(t), "..", "shared", "data")
	}
	path := filepath.Join(dir, name)
	if farmtest.Exists(path) {
		return path
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("the station record %s is missing", name)
	}
	t.Skipf("the station record %s is not here", name)
	return ""
}

func manhattan(t *testing.T) string {
	return strings.Replace(farmtest.Text, "frost: {date: 10-16}",
		"frost: {station: "+sharedFile(t, "CRND0103-KS_Manhattan_6_SSW.txt")+", threshold: 32F, plan_on: average}", 1)
}

// TestATalkOnTheManhattanRecord plays twenty texts on a farm planned on the
// USCRN record of Manhattan, Kansas (NOAA; Diamond et al. 2013). The mean first
// 32 F of 2004-2023 is Oct 15, so 45 days put the cutoff on Aug 31.
func TestATalkOnTheManhattanRecord(t *testing.T) {
	all := rehearsed(t, manhattan(t), "2024-07-01", "2024-11-30", `
2024-07-15T07:00 Ana: north40 15 14 16 15 14 15 16 14 15 15
2024-07-15T07:10 Ana: creek 12 11 13 12 11 12 13 12 11 12
2024-07-20T07:00 Ana: creek 7 6 7 8 7 6 7 7 6 7
2024-07-20T12:00 Ana: moved cows from creek to north40
2024-07-25T07:00 Ana: north40 10 11 9 10 10 11 9 10 10 11
2024-08-10T07:00 Ana: creek 9 10 9 8 9 10 9 9 8 9
2024-08-12T07:00 Ana: north40 8 9 8 8 9 8 8 8 9 8
2024-08-29T07:00 Ana: creek 10 11 10 9 10 11 10 10 9 10
2024-08-30T17:00 Luis: fuera north40
2024-08-30T17:05 Luis: dentro lane vacas
2024-08-31T12:00 Ana: north40 8
2024-09-05T07:00 Ana: lane 9 8 9 10 9 8 9 9 8 9
2024-09-15T07:00 Ana: creek 15
2024-10-20T07:00 Ana: status creek
2024-10-20T07:30 Ana: off lane
2024-10-28T07:00 Ana: frost
2024-10-28T08:00 Ana: lane 8 8 8 8 8 8 8 8 8 8
2024-11-05T07:00 Ana: brown
2024-11-05T08:00 Ana: creek 19 18 20 19 18 19 20 18 19 19
2024-11-05T09:00 Ana: north40 17 16 18 17 16 17 18 17 16 17
`)
	type want struct{ at, paddock, verdict, action string }
	var got []want
	for _, s := range to(all, "Ana", string(ladder.AnswerVerdict)) {
		v := ""
		if s.Verdict != nil {
			v = *s.Verdict
		}
		got = append(got, want{s.At[5:16], s.Paddock, v, s.Action})
	}
	wants := []want{
		{"07-15T07:00", "north40", "GO", "go"},       // at the height to begin
		{"07-15T07:10", "creek", "GO", "stay"},       // cattle in, grass to graze
		{"07-20T07:00", "creek", "WAIT", "take_off"}, // under 8 in
		{"07-25T07:00", "north40", "GO", "stay"},     //
		// 1 in x 22 acres x 125 lb an acre-inch x 50 % is 1,375 lb; 38 pairs of
		// 1.3 + 0.3 animal units want 1,581 lb a day: not three days of grass.
		{"08-10T07:00", "creek", "WAIT", "keep_shut"},
		// 0.3 in x 40 acres x 62.5 lb is 750 lb: less than a day.
		{"08-12T07:00", "north40", "WAIT", "take_off"},
		{"08-29T07:00", "creek", "WAIT", "keep_shut"},   // two days to cutoff
		{"08-31T12:00", "north40", "WAIT", "keep_shut"}, // rest
		{"09-05T07:00", "lane", "GO", "stay"},           // cool-season ground
		{"09-15T07:00", "creek", "WAIT", "keep_shut"},   // rest
		{"10-28T08:00", "lane", "WAIT", "keep_shut"},    // hold after the frost
		{"11-05T08:00", "creek", "GO", "go"},            // dormant, made its height
		{"11-05T09:00", "north40", "GO", "go"},          // dormant, fell short: down to 8 in
	}
	if fmt.Sprint(got) != fmt.Sprint(wants) {
		t.Errorf("got\n%v\nwant\n%v", lines(got), lines(wants))
	}
}

func lines[T any](all []T) string {
	var b strings.Builder
	for _, one := range all {
		fmt.Fprintf(&b, "  %v\n", one)
	}
	return b.String()
}

// TestTheFallsOfManhattanReplayed: the dates are those of the record itself,
// told the next morning: 1.6 C on Sep 23 and -4.3 C on Oct 7, 2012; 2.2 C on
// Oct 6, -0.7 C on Oct 7 and -3.5 C on Oct 29, 2023.
func TestTheFallsOfManhattanReplayed(t *testing.T) {
	for _, tc := range []struct {
		year                int
		frost, freeze, kill string // month-day of the mornings; empty where a colder one says it
	}{
		{2012, "09-24", "", "10-08"}, // -4.3 C on Oct 7 was the first freeze and the killing one
		{2023, "10-07", "10-08", "10-30"},
	} {
		t.Run(fmt.Sprint(tc.year), func(t *testing.T) {
			all := rehearsed(t, manhattan(t), "2024-08-01", "2024-12-15", "", "--station-year", fmt.Sprint(tc.year))
			for kind, want := range map[ladder.Kind]string{ladder.FrostSeen: tc.frost, ladder.FreezeSeen: tc.freeze, ladder.KillingFreeze: tc.kill} {
				got := ""
				for _, s := range to(all, "Ruth", string(kind)) {
					got += s.At[5:10]
				}
				if got != want {
					t.Errorf("%s was told on %q, want %q", kind, got, want)
				}
			}
		})
	}
}

func TestWhatMustNotGetIntoTheDiary(t *testing.T) {
	bad := []string{
		"creek 0", "creek 121", "creek -4", "creek 1e9", "valley 9", "", "   ", strings.Repeat("creek 9 ", 700), "\x00\x01\x1b[2J",
		"creek not off yet", "will move cows off creek tomorrow", "5 cows out of creek", "can I graze creek?", "creek at 6:30",
		"DROP TABLE facts; --", "NaN", "creek NaN", "creek ∞", "😀", "+1 555 555 0142", "creek knee high",
	}
	var script strings.Builder
	for i, text := range bad {
		fmt.Fprintf(&script, "2026-08-20T%02d:%02d Ana: %s\n", 8+i/60, i%60, strings.ReplaceAll(text, "\n", " "))
	}
	for _, s := range to(rehearsed(t, farmtest.Text, "2026-08-20", "2026-08-20", script.String()), "Ana") {
		for _, f := range s.Facts {
			if f.Kind != "status" {
				t.Errorf("taken for a fact: %+v in %q", f, s.Text)
			}
		}
	}
}

func TestAStrangerGetsNoAnswer(t *testing.T) {
	for _, s := range rehearsed(t, farmtest.Text, "2026-08-20", "2026-08-20", "2026-08-20T09:00 Mallory: off creek\n2026-08-20T09:01 Mallory: stop\n") {
		if s.Kind.Answer() {
			t.Errorf("a stranger was answered: %s", s.Text)
		}
	}
}

func TestStopEndsEverythingUntilStart(t *testing.T) {
	all := rehearsed(t, farmtest.Text, "2026-08-20", "2026-09-10",
		"2026-08-21T09:00 Ana: STOP\n2026-09-05T09:00 Ana: start\n")
	stopped := 0
	for _, s := range to(all, "Ana") {
		if s.At > "2026-08-21T09:00" && s.At < "2026-09-05T09:00" {
			stopped++
			if s.Kind != ladder.AnswerStop {
				t.Errorf("said after stop: %s %s", s.At, s.Text)
			}
		}
	}
	if stopped != 1 {
		t.Errorf("%d messages after stop, want the one confirmation", stopped)
	}
	if len(to(all, "Ruth", string(ladder.StopTold))) != 1 {
		t.Error("nobody who is left was told that the manager opted out")
	}
	if after := to(all, "Ana", string(ladder.Overdue)); len(after) == 0 {
		t.Error("start did not bring the reminders back")
	}
}

func TestALateTextIsConfirmedWithItsDate(t *testing.T) {
	all := rehearsed(t, farmtest.Text, "2026-08-20", "2026-08-23",
		"2026-08-22T09:15 [sent 2026-08-21T18:00] Ana: off creek\n2026-08-22T10:00 [sent 2026-08-21T18:00] Ana: 9\n2026-08-22T11:00 [sent 2026-08-25T18:00] Ana: on creek cows\n")
	got := to(all, "Ana", string(ladder.AnswerRecorded), string(ladder.AnswerAsk))
	if len(got) != 3 {
		t.Fatalf("%d answers, want three", len(got))
	}
	if got[0].Facts[0].Date != "2026-08-21" || !strings.Contains(got[0].Text, "Aug 21") {
		t.Errorf("the text of the day before counts for %s and says %q", got[0].Facts[0].Date, got[0].Text)
	}
	if got[1].Kind != ladder.AnswerAsk || len(got[1].Facts) > 0 {
		t.Errorf("a bare number of yesterday was taken for %v", got[1].Facts)
	}
	if got[2].Facts[0].Date != "2026-08-22" {
		t.Errorf("a text stamped in the future counts for %s, want the day it came", got[2].Facts[0].Date)
	}
}

func TestUndoTakesTheLatestTextBackAndThenTheOneBefore(t *testing.T) {
	all := rehearsed(t, farmtest.Text, "2026-08-20", "2026-08-21", `
2026-08-20T09:00 Ana: off creek
2026-08-20T09:01 Ana: on lane cows
2026-08-20T09:02 Ana: undo
2026-08-20T09:03 Ana: undo
2026-08-20T09:04 Ana: undo
2026-08-20T09:05 Ana: status creek
`)
	var undone []string
	for _, s := range to(all, "Ana", string(ladder.AnswerUndo)) {
		undone = append(undone, s.Text)
	}
	if len(undone) != 3 || !strings.Contains(undone[0], "Lane") || !strings.Contains(undone[1], "Creek Bottom") {
		t.Errorf("undo said %q", undone)
	}
}

func TestOnNoOrdinaryDayAreThereMoreThanThreeTexts(t *testing.T) {
	var out bytes.Buffer
	var errs bytes.Buffer
	if code := run(context.Background(), []string{"rehearse", "--json"}, strings.NewReader(""), &out, &errs); code != exitFine {
		t.Fatal(errs.String())
	}
	count := map[string]int{}
	for _, s := range parsed(t, out.String()) {
		if s.Subject != "" || s.Kind.Answer() || s.Kind == ladder.Enrolment {
			continue
		}
		count[s.At[:10]+" "+s.To]++
	}
	for day, n := range count {
		if n > 3 {
			t.Errorf("%s got %d texts", day, n)
		}
	}
}

func TestOnBothNightsTheClockChangesNothingIsLostOrDoubled(t *testing.T) {
	for _, tc := range []struct{ name, morning, frost, from, to, want string }{
		// Frost Dec 14 less 45 days: the cutoff is Oct 30, and the clock goes
		// back on Nov 1 at 02:00. 01:30 is shown twice and means the first.
		{"the night of 25 hours", "01:30", "12-14", "2026-10-30", "2026-11-03", "10-31T01:30 11-01T01:30 11-02T01:30 11-03T01:30"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			farm := strings.Replace(farmtest.Text, "date: 10-16", "date: "+tc.frost, 1)
			farm = strings.Replace(farm, "timezone: America/Chicago}", `timezone: America/Chicago, morning: "`+tc.morning+`"}`, 1)
			var mornings []string
			for _, s := range to(rehearsed(t, farm, tc.from, tc.to, ""), "Luis", string(ladder.Overdue)) {
				mornings = append(mornings, s.At[5:16])
			}
			if strings.Join(mornings, " ") != tc.want {
				t.Errorf("the mornings were %v, want %s", mornings, tc.want)
			}
		})
	}
}
