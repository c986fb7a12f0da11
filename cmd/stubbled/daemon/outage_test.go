package daemon

import (
	"os"
	"strings"
	"testing"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/scheduler/diary"
)

// TestAfterAnOutageOnlyWhatIsStillTrueIsSaid: what a person would want to be
// told when the machine comes back, and what would only confuse.
func TestAfterAnOutageOnlyWhatIsStillTrueIsSaid(t *testing.T) {
	for _, tc := range []struct {
		name, from, back string
		want, not        []string
	}{
		{"an hour dark over the morning of the heads-up", "2026-08-22 06:00", "2026-08-22 07:00",
			[]string{"Walk Creek Bottom: it shuts in 10 days"}, nil},
		{"three days dark over the heads-up", "2026-08-21 12:00", "2026-08-24 12:00",
			[]string{"it shuts in 8 days"}, []string{"in 10 days"}},
		{"three days dark over the cutoff", "2026-08-31 12:00", "2026-09-03 12:00",
			[]string{"Day 2: Creek Bottom still grazed"}, []string{"Shut Creek Bottom today", "Day 1"}},
		{"three weeks dark over the cutoff", "2026-08-25 12:00", "2026-09-15 12:00",
			[]string{"Creek Bottom still grazed"}, []string{"Shut Creek Bottom today", "it shuts in"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			o := newOffice(t, farmtest.File(t, farmtest.Text), tc.from)
			o.turn(tc.from)
			got := o.turn(tc.back)
			for _, w := range tc.want {
				if !strings.Contains(got, w) {
					t.Errorf("%q is missing in\n%s", w, got)
				}
			}
			for _, n := range tc.not {
				if strings.Contains(got, n) {
					t.Errorf("%q is no longer true, in\n%s", n, got)
				}
			}
		})
	}
}

func TestDarkOverAFrostTheHoldIsStillTold(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-10-05 12:00")
	o.says("Ana", "moved cows from creek to lane")
	o.turn("2026-10-05 12:00")
	frost := o.when("2026-10-07 06:30")
	o.clock.Time = o.when("2026-10-10 09:00")
	if err := o.d.observe(t.Context(), []diary.Observation{{Source: diary.FromThermometer, Place: "barn", At: frost, MinC: -1}}); err != nil {
		t.Fatal(err)
	}
	if got := o.turn("2026-10-10 09:00"); !strings.Contains(got, "TAKE THEM OFF Lane now") || !strings.Contains(got, "Oct 21") {
		t.Errorf("three days after the frost of Oct 7 it says\n%s", got)
	}
}

func TestAZoneChangedInTheFarmFileMovesTheMorning(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-21 12:00")
	o.turn("2026-08-21 12:00")
	if err := os.WriteFile(file, []byte(strings.Replace(farmtest.Text, "America/Chicago", "America/Denver", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	o.turn("2026-08-21 12:01")
	if early := o.turn("2026-08-22 06:45"); strings.Contains(early, "Walk Creek Bottom") { // 05:45 in Denver
		t.Errorf("at a quarter to six in Denver it says\n%s", early)
	}
	if got := o.turn("2026-08-22 07:31"); !strings.Contains(got, "Walk Creek Bottom") {
		t.Errorf("at half past six in Denver it says\n%s", got)
	}
}

func TestTheTwentyNinthOfFebruaryIsADayLikeAnyOther(t *testing.T) {
	farm := strings.Replace(farmtest.Text, "frost: {date: 10-16}", "frost: {date: 10-16}\nrest: {spring: 03-01}", 1)
	o := newOffice(t, farmtest.File(t, farm), "2028-02-28 12:00")
	o.turn("2028-02-28 12:00")
	o.says("Ana", "north40 20 21 20 19 20 21 20 20 19 20")
	o.clock.Time = o.when("2028-02-29 12:00")
	o.says("Ana", "status north40")
	if got := o.turn("2028-02-29 12:00"); !strings.Contains(got, "North 40") {
		t.Errorf("on Feb 29 it says\n%s", got)
	}
	o.turn("2028-03-01 12:00")
	o.says("Ana", "north40 9")
	if got := o.turn("2028-03-01 12:01"); !strings.Contains(got, "North 40") {
		t.Errorf("on the year's turn it says\n%s", got)
	}
}
