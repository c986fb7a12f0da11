package quiet

import (
	"testing"
	"time"

	"github.com/golang-sql/civil"
)

func TestTheWeekBeginsOnMondayAndTheFallInAugust(t *testing.T) {
	for day, monday := range map[civil.Date]civil.Date{
		{Year: 2026, Month: 6, Day: 1}: {Year: 2026, Month: 6, Day: 1}, {Year: 2026, Month: 6, Day: 7}: {Year: 2026, Month: 6, Day: 1},
		{Year: 2027, Month: 1, Day: 1}: {Year: 2026, Month: 12, Day: 28}, {Year: 2028, Month: 2, Day: 29}: {Year: 2028, Month: 2, Day: 28},
	} {
		if got := Monday(day); got != monday {
			t.Errorf("the week of %s begins on %s, want %s", day, got, monday)
		}
	}
	for month := time.January; month <= time.December; month++ {
		if got := Holds(civil.Date{Year: 2026, Month: month, Day: 15}); got != (month < time.August) {
			t.Errorf("%s: %v", month, got)
		}
	}
}

func TestWhoGivesWayInAWeek(t *testing.T) {
	at := func(day int) time.Time { return time.Date(2026, 6, day, 6, 30, 0, 0, time.UTC) }
	trigger, ahead, frost := Text{"trigger", Drought, at(3)}, Text{"ahead", Ahead, at(2)}, Text{"frost", Asked, at(1)}
	later := Text{"ahead", Ahead, at(5)}
	for _, tc := range []struct {
		name  string
		texts []Text
		had   bool
		want  string
	}{
		{"the trigger goes before all, though it comes later in the week", []Text{frost, ahead, trigger}, false, "trigger"},
		{"the fall ahead goes before a question of frost", []Text{frost, ahead}, false, "ahead"},
		{"of two of one rank the earlier", []Text{later, ahead}, false, "ahead"},
		{"a week that had its text has no other", []Text{trigger}, true, ""},
		{"what is on fire is not counted", []Text{{"hold", Free, at(1)}}, false, ""},
		{"one alone is said", []Text{{"alive", Alive, at(1)}}, false, "alive"},
		{"nothing is nothing", nil, false, ""},
	} {
		one, some := One(tc.texts, tc.had)
		if one.Kind != tc.want || some != (tc.want != "") || some && tc.want == "ahead" && one.Due != at(2) {
			t.Errorf("%s: %+v", tc.name, one)
		}
	}
}
