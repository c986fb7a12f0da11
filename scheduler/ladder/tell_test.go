package ladder

import (
	"testing"
	"time"
)

func TestWhatIsOverIsNoReasonToLookAgain(t *testing.T) {
	now := time.Date(2026, time.August, 20, 12, 0, 0, 0, time.UTC)
	for name, tc := range map[string]struct {
		until time.Time
		added bool
	}{"true still": {now.Add(time.Hour), true}, "true for good": {time.Time{}, true}, "over": {now.AddDate(0, -1, 0), false}, "over now": {now, false}} {
		p := &plan{Input: Input{Now: now, Zone: time.UTC}, people: []person{{Contact: Contact{Name: "Ana", QuietHours: QuietHours{From: 21 * 60, To: 6 * 60}}}}}
		p.want(Notice{To: "Ana", Medium: Text, NotBefore: now.AddDate(0, -2, 0), GoodUntil: tc.until, Facts: &FarmFacts{}})
		if added, looks := len(p.notices) == 1, !p.next.IsZero(); added != tc.added || looks != tc.added {
			t.Errorf("%s: wanted %t, looked at again %t (%s)", name, added, looks, p.next)
		}
	}
}
