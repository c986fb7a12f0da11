package rehearsal

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/config"
)

// freely are the kinds that no week keeps back: who is writing, what is on fire, the
// beginning of a hold. What a text brings on is not unasked.
var freely = []string{"enrolment", "hold-begins", "hold-animals", "hold-unsure", "wait-animals", "frost-warning", "emergency"}

// unasked are the texts that nobody asked for of each contact and week, outside of
// August to December.
func unasked(t *testing.T, played string) map[string][]string {
	t.Helper()
	weeks := map[string][]string{}
	for line := range strings.Lines(played) {
		var m struct{ At, To, Kind, Subject string }
		if err := json.Unmarshal([]byte(line), &m); err != nil {
			t.Fatalf("%v in %s", err, line)
		}
		at, err := time.Parse(time.RFC3339, m.At)
		if err != nil {
			continue // a line that is no message
		}
		monday := at.AddDate(0, 0, -(int(at.Weekday())+6)%7)
		life := m.Kind == "sign-of-life" && monday.Day() <= 7
		if m.To == "" || m.Subject != "" || life || at.Month() >= time.August || strings.HasPrefix(m.Kind, "answer") || slices.Contains(freely, m.Kind) {
			continue
		}
		week := m.To + ", week of " + monday.Format("Jan 2, 2006")
		weeks[week] = append(weeks[week], m.At+" "+m.Kind)
	}
	return weeks
}

func TestFromJanuaryToJulyNobodyGetsMoreThanOneUnaskedTextAWeek(t *testing.T) {
	demo, err := config.Demo()
	if err != nil {
		t.Fatal(err)
	}
	byHand := byHand(t)
	for _, tc := range []struct {
		name          string
		farm          *config.Farm
		replies       string
		from, to      string
		atLeast, year int
	}{
		{"the demo farm, where nobody answers", demo, "", "2026-11-20", "2027-07-31", 10, 0},
		{"the demo farm in a dry year, where they text", demo, spring, "2027-01-01", "2027-07-31", 10, 2012},
		{"a farm with a date by hand", byHand, "", "2027-01-01", "2027-07-31", 20, 0},
		{"sixty paddocks, nobody answers", largeFarm(t, 60), "", "2026-11-20", "2027-07-31", 20, 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			script := filepath.Join(t.TempDir(), "replies.txt")
			if err := os.WriteFile(script, []byte(tc.replies), 0o600); err != nil {
				t.Fatal(err)
			}
			weeks := unasked(t, said(t, Options{Farm: tc.farm, From: tc.from, To: tc.to, Replies: script, StationYear: tc.year, JSON: true}))
			if len(weeks) < tc.atLeast {
				t.Errorf("in only %d weeks anything is said", len(weeks))
			}
			for week, texts := range weeks {
				if len(texts) > 1 {
					t.Errorf("%s: %d unasked texts: %s", week, len(texts), strings.Join(texts, ", "))
				}
			}
		})
	}
}

// spring is what the people of the demo farm text from April to July.
const spring = `2027-04-20T08:00 Ana: creek 6 7 5 8
2027-05-10T08:00 Ana: creek 15 14 16 15 14 13 16 15 14 15
2027-05-11T09:00 Luis: pase las vacas a creek
2027-05-20T12:00 Ana: rain 0.4
2027-06-02T08:00 Ana: creek 12 11 12 10 9 12
2027-06-20T08:00 Ana: n40 14 13 15 14
2027-07-05T08:00 Ana: hill 9 8 10
`
