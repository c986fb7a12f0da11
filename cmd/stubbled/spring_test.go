package main

import (
	"strings"
	"testing"

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
