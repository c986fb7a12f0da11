package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
)

func TestASummerReadingSaysHowLongAndWhereTo(t *testing.T) {
	const replies = `
2026-06-20T07:00 Ana: north40 16 15 17 16 15 16 17 16 15 16
2026-06-20T07:10 Ana: creek 11 10 12 11 10 11 12 11 10 11
2026-06-26T07:00 Ana: creek 7 6 7 8 7 6 7 7 6 7
2026-07-05T07:00 Ana: lane 9 8 9 10 9 8 9 9 8 9
2026-08-24T07:00 Ana: creek 9 10 9 10 9 10 9 10 9 10
`
	answers := to(rehearsed(t, farmtest.Text, "2026-06-19", "2026-08-25", replies), "Ana", "answer-verdict")
	if len(answers) != 5 {
		t.Fatalf("%d answers", len(answers))
	}
	empty, stay, eaten, cool, near := answers[0], answers[1], answers[2], answers[3], answers[4]
	if empty.Move != nil || empty.Stop != nil {
		t.Errorf("where nobody stands nobody moves: %+v", empty)
	}
	if stay.Move == nil || *stay.Move < 1 || *stay.Move > 14 || stay.Stop == nil || *stay.Stop != 8 || !strings.Contains(stay.Text, "North 40") {
		t.Errorf("a reading with animals in: %+v", stay)
	}
	if eaten.Move == nil || *eaten.Move != 0 || *eaten.Stop != 8 || !strings.HasPrefix(eaten.Text, "WAIT, TAKE THEM OFF Creek Bottom") || !strings.Contains(eaten.Text, "North 40") {
		t.Errorf("under its stop height they move today, to the native that is tall enough: %+v", eaten)
	}
	if cool.Move != nil {
		t.Errorf("empty fescue: %+v", cool)
	}
	if near.Move == nil || strings.Contains(near.Text, "then to") {
		t.Errorf("in the last ten days the cutoff's own reminders say where to: %+v", near)
	}
}

func TestNothingIsSaidOfTheSummerWhereItIsTurnedOff(t *testing.T) {
	off := farmtest.Text + "tell: {summer: false}\n"
	all := rehearsed(t, strings.Replace(off, "language: en, quiet", "email: ana@example.org, quiet", 1), "2026-07-01", "2026-08-20", `
2026-07-10T07:10 Ana: creek 11 10 12 11 10 11 12 11 10 11
`)
	for _, m := range all {
		if m.Move != nil || m.Stop != nil || strings.Contains(m.Text, "then to") || strings.Contains(m.Text, "What will stand at the cutoff") {
			t.Errorf("said all the same: %+v", m)
		}
	}
	if len(to(all, "Ana", "answer-verdict")) != 1 || len(to(all, "Ana", "monday")) == 0 {
		t.Error("the verdict and the Monday mail stay")
	}
}

func TestFromJulyOnTheMondayMailLooksAheadToTheCutoff(t *testing.T) {
	all := rehearsed(t, strings.Replace(farmtest.Text, "language: en, quiet", "email: ana@example.org, quiet", 1), "2026-05-25", "2026-08-10", `
2026-05-30T07:10 Ana: creek 13 12 14 13
2026-07-31T07:10 Ana: creek 11 10 12 11 10 11 12 11 10 11
2026-08-01T07:10 Ana: off creek
`)
	for _, m := range to(all, "Ana", "monday") {
		told := strings.Contains(m.Text, "What will stand at the cutoff")
		if july := m.At >= "2026-07-01"; told != july {
			t.Errorf("%s: looks ahead %v", m.At, told)
		}
		if strings.HasPrefix(m.At, "2026-08-03") && !strings.Contains(m.Text, "Creek Bottom: 11 in on July 31, shuts in 29 days;") {
			t.Errorf("of ground that was read: %s", m.Text)
		}
	}
}

// twoYears is a farm whose herd winters on fescue, and what was told of its fall.
func twoYears(more string) (farm, fall string) {
	return strings.NewReplacer("paddock: creek}", "paddock: lane}", "language: en, quiet", "email: ana@example.org, quiet").Replace(farmtest.Text) + more, `
2026-08-30T07:00 Ana: creek 9 8 9 8 9 8 9 8 9 8; north40 8 9 8 9 8 9 8 9 8 9
2026-09-10T07:00 Luis: dentro north40 vacas
2026-10-10T07:00 Luis: fuera north40
2026-10-10T07:05 Luis: dentro lane vacas
2026-10-28T07:00 Ana: brown
2026-10-30T07:00 Ana: creek 18 17 18 17 18 17 18 17 18 17; north40 9 8 9 8 9 8 9 8 9 8
`
}

func TestInSpringTheHeightIsAskedForAndTurnInToldByIt(t *testing.T) {
	farm, fall := twoYears("")
	all := rehearsed(t, farm, "2026-08-25", "2027-07-01", fall+`
2027-04-20T07:00 Ana: creek 11 12 11 12 11 12 11 12 11 12
2027-05-02T07:00 Ana: creek 15 16 15 16 15 16 15 16 15 16
`)
	asked := to(all, "Ana", "green-up")
	if len(asked) != 2 || asked[0].Paddock != "creek" || !strings.HasPrefix(asked[0].Text, "Creek Bottom rested all fall. How tall is it now?") || asked[1].Paddock != "north40" || !strings.Contains(asked[1].Text, "begun last") {
		t.Fatalf("one text a paddock, what failed its rest later: %+v", asked)
	}
	answers := to(all, "Ana", "answer-verdict")
	short, tall := answers[len(answers)-2], answers[len(answers)-1]
	if short.Action != "keep_shut" || !strings.Contains(short.Text, "wait for 14. About ") || tall.Action != "go" {
		t.Errorf("under B and above it: %q, %q", short.Text, tall.Text)
	}
	for _, m := range to(all, "Ana", "monday") {
		spring := m.At >= "2027-04-01" && m.At < "2027-07-01"
		if strings.Contains(m.Text, "Turning in after winter") != spring {
			t.Errorf("%s: %s", m.At, m.Text)
		}
		if strings.HasPrefix(m.At, "2027-04-05") && !strings.Contains(m.Text, "North 40: begins at 18 in") {
			t.Errorf("what failed its rest begins four inches later: %s", m.Text)
		}
	}
}

func TestGrazedTooEarlyIsSaidAtOnceAndWeekly(t *testing.T) {
	farm, fall := twoYears("")
	all := rehearsed(t, farm, "2026-08-25", "2027-07-01", fall+`
2027-04-20T07:00 Ana: creek 9 10 9 10 9 10 9 10 9 10
2027-04-21T07:00 Luis: dentro creek vacas
2027-04-23T07:00 Ana: creek 10
`)
	if luis := to(all, "Luis", "answer-recorded"); !strings.HasPrefix(luis[len(luis)-1].Text, "Ganado antes de tiempo: Creek Bottom") {
		t.Errorf("who turned them in hears it at once: %+v", luis)
	}
	if read := to(all, "Ana", "answer-verdict"); !strings.Contains(read[len(read)-1].Text, "too early") {
		t.Errorf("the answer to a height says it: %+v", read[len(read)-1])
	}
	told := to(all, "Ana", "too-early")
	for _, m := range told {
		if strings.HasPrefix(m.At, "2027-04-23") {
			t.Errorf("it is not said twice at once: %+v", m)
		}
	}
	if len(told) < 2 || len(told) > 4 || told[0].At > "2027-04-27" || !strings.HasPrefix(told[0].Text, "Grazed too early: Creek Bottom, ") {
		t.Errorf("the manager hears it by the next Monday, since that week had its text, and weekly: %+v", told)
	}
	answers := to(all, "Ana", "answer-verdict")
	if last := answers[len(answers)-1]; last.Action != "stay" || !strings.Contains(last.Text, "Begun too early, wait for 14") {
		t.Errorf("the answer to a height agrees: %q", last.Text)
	}
}

func TestAHoldWinsOverTheSpring(t *testing.T) {
	farm, fall := twoYears("")
	farm = strings.Replace(farm, "grass: eastern gamagrass}", "grass: eastern gamagrass, hazard_plants: [johnsongrass]}", 1)
	all := rehearsed(t, farm, "2026-08-25", "2027-06-10", fall+`
2027-04-02T07:00 Ana: johnsongrass in creek
2027-04-11T07:00 Ana: frost
2027-04-13T07:00 Luis: dentro creek vacas
`)
	for _, m := range all {
		if m.At > "2027-04-11T08" && m.At < "2027-04-25" && (m.Kind == "too-early" || m.Kind == "green-up" && strings.Contains(m.Text, "Creek")) {
			t.Errorf("beside a hold: %+v", m)
		}
	}
	if len(to(all, "Ana", "hold-animals")) == 0 {
		t.Error("the hold is told")
	}
}

func TestOutsideOfTheFallThereIsOneTextAWeekAndNoneOfSpringWhereItIsTurnedOff(t *testing.T) {
	const replies = `
2027-04-20T07:00 Ana: creek 9 10 9 10 9 10 9 10 9 10
2027-04-21T07:00 Luis: dentro creek vacas
`
	for _, off := range []bool{false, true} {
		farm, fall := twoYears(map[bool]string{true: "tell: {spring: false}\n"}[off])
		weeks, spring := map[string]int{}, 0
		for _, m := range to(rehearsed(t, farm, "2026-08-25", "2027-07-25", fall+replies), "Ana") {
			at, err := time.Parse(time.RFC3339, m.At)
			if err != nil {
				t.Fatal(err)
			}
			if m.Kind == "green-up" || m.Kind == "too-early" || strings.Contains(m.Text, "Turning in after winter") {
				spring++
			}
			free := m.Subject != "" || strings.HasPrefix(string(m.Kind), "answer") || m.Kind == "hold-begins" || m.Kind == "enrolment" || m.Kind == "sign-of-life" && at.Day() <= 7
			if !free && at.Year() == 2027 {
				year, week := at.ISOWeek()
				weeks[fmt.Sprint(year, week)]++
			}
		}
		for week, n := range weeks {
			if n > 1 {
				t.Errorf("week %s has %d texts that nobody asked for", week, n)
			}
		}
		if (spring == 0) != off {
			t.Errorf("turned off %v: %d things said of spring", off, spring)
		}
	}
}

// The first count is the worked example of the Oklahoma State Univ. switchgrass site: 15,
// 14, 20 and 21 of 25 cells are 70 %; by J. Range Manage. 54:653 that is 28.0 plants a
// square metre.
func TestAFrameCountIsAnsweredWithItsErrorAndItsTrend(t *testing.T) {
	all := to(rehearsed(t, farmtest.Text, "2026-05-25", "2027-06-12", `
2026-06-01T07:00 Ana: grid creek 15 14 20 21
2026-06-02T07:00 Ana: grid creek 14 26
2027-06-01T07:00 Ana: grid creek 8, 9, 10, 8
`), "Ana", "answer-recorded", "answer-ask")
	if len(all) != 3 {
		t.Fatalf("%+v", all)
	}
	first, over, later := all[0], all[1], all[2]
	if g := first.Grid; g == nil || g.Percent != 70 || g.PerM2 < 27.99 || g.PerM2 > 28.01 || g.Low < 23.5 || g.Low > 24.5 || g.High < 31 || g.High > 32 || len(first.Facts) != 1 || first.Facts[0].Kind != "grid" {
		t.Errorf("%+v", first)
	}
	if over.Kind != "answer-ask" || over.Grid != nil || !strings.Contains(over.Text, "25 cells") {
		t.Errorf("a throw counts 25 cells at most: %+v", over)
	}
	if later.Grid == nil || later.Grid.Percent != 35 || !strings.Contains(later.Text, "On Jun 1, 2026 it was 70 %: thinner") {
		t.Errorf("a year later: %+v", later)
	}
}
