package rehearsal

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/config"
)

// dry plays early summer on the demo farm, whose people are 54 head, with the invented
// rain of a year: 2001 is dry on all three dates, 2004 is not.
func dryYear(t *testing.T, year int, tell, replies string) string {
	t.Helper()
	farm, err := config.Demo()
	if err != nil {
		t.Fatal(err)
	}
	if tell == "off" {
		farm.Tell.Drought = false
	}
	script := filepath.Join(t.TempDir(), "replies.txt")
	if err := os.WriteFile(script, []byte(replies), 0o600); err != nil {
		t.Fatal(err)
	}
	return said(t, Options{Farm: farm, From: "2026-04-01", To: "2026-07-03", Replies: script, StationYear: year})
}

// onDay is what is printed of a day.
func onDay(all, day string) string {
	_, rest, _ := strings.Cut(all, "\n"+day+"\n")
	today, _, _ := strings.Cut(rest, "\n\n")
	return today
}

func TestADrySpringIsToldOnItsThreeDatesWithTheHeadToMove(t *testing.T) {
	all := dryYear(t, 2001, "", "2026-06-01T08:00 Ana: a\n2026-06-10T08:00 Ana: sold 20 cows\n")
	for day, want := range map[string][]string{
		"Mon Jun 1, 2026": {"to Ana\n         Destock 17-22 of 54 head now. 2 weeks' wait costs the rest 10 days of grass. Rain since Apr 1 ", "50-80% of growth to come", "Drought? If so: a",
			"to Ana (mail)", "to Ruth\n         Destock 17-22 of 54 head now.", "Noted: drought"},
		"Mon Jun 15, 2026": {"Destock up to 2 of 34 head now.", "45-70% of growth to come"},
		"Wed Jul 1, 2026":  {"of 34 head now.", "35-50% of growth to come"},
	} {
		today := onDay(all, day)
		for _, w := range want {
			if !strings.Contains(today, w) {
				t.Errorf("%s: nothing says %q:\n%s", day, w, today)
			}
		}
		if strings.Contains(onDay(all, "Mon Jun 15, 2026"), "Drought?") {
			t.Error("a drought that stands is asked about")
		}
	}
}

func TestASpringWithTheUsualRainSaysNothing(t *testing.T) {
	if all := dryYear(t, 2004, "", ""); strings.Contains(all, "rought") || strings.Contains(all, "head now") {
		t.Errorf("%s", all)
	}
	if all := dryYear(t, 2001, "off", ""); strings.Contains(all, "rought") || strings.Contains(all, "head now") {
		t.Errorf("it is turned off, and it says\n%s", all)
	}
}

// A farm with a date by hand has no record of rain.
func TestAFarmWithoutRainIsAskedOnceAndNothingIsInvented(t *testing.T) {
	play := func(replies string) string {
		script := filepath.Join(t.TempDir(), "replies.txt")
		if err := os.WriteFile(script, []byte(replies), 0o600); err != nil {
			t.Fatal(err)
		}
		return said(t, Options{Farm: byHand(t), From: "2026-05-25", To: "2026-07-03", Replies: script})
	}
	all := play("")
	if n := strings.Count(all, "Nobody knows the rain here since Apr 1. After rain text it, like: rain 0.8. Drought? If so: a"); n != 1 || strings.Contains(all, "head now") {
		t.Errorf("asked %d times:\n%s", n, all)
	}
	all = play("2026-05-26T08:00 Ana: rain 0.8\n2026-05-28T08:00 Luis: llovió 1.2\n")
	if !strings.Contains(all, "2 in of rain was told since Apr 1, and no years are on record to hold it against. Drought? If so: a") || strings.Contains(all, "head now") {
		t.Errorf("with rain told it says\n%s", all)
	}
}

// The first Mondays of November to March have the winter ledger, where it is not turned off.
func TestTheWinterLedgerIsMailedOnAMonthsFirstMonday(t *testing.T) {
	for _, off := range []bool{false, true} {
		farm, err := config.Demo()
		if err != nil {
			t.Fatal(err)
		}
		farm.Tell.Winter = !off
		all := said(t, Options{Farm: farm, From: "2026-11-28", To: "2026-12-15", Mails: true, Weather: "none"})
		if n := strings.Count(all, "Winter feed\n"); n != map[bool]int{false: 2, true: 0}[off] || !off && !strings.Contains(onDay(all, "Mon Dec 7, 2026"), "Stockpile ") {
			t.Errorf("turned off %v: in %d mails\n%s", off, n, all)
		}
	}
}
