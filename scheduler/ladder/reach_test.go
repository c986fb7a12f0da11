package ladder

import (
	"slices"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

func TestWhereTheManagerOptedOutSomebodyStandsIn(t *testing.T) {
	s := newStage(t)
	s.shun["+15555550142"], s.shun["ana@example.org"] = true, true
	wantLines(t, only(s.play("2026-08-15 00:00", "2026-08-30 08:00"), " creek"),
		"08-22 06:30 Luis heads-up creek", "08-27 06:30 Luis last-look creek", "08-30 06:30 Luis move-plan creek")
	for _, n := range dueOf(s.input(s.at("2026-08-30 08:00"))) {
		if n.Kind == MovePlan && !slices.Contains(n.Facts.(*RungFacts).Missing, "Ana") {
			t.Errorf("%s is not told that Ana could not be reached", n.To)
		}
	}
}

// Who keeps a farm may call themselves what they like: without a manager the first of
// the file hears what a manager does, beside the helper who hears it too.
func TestOnAFarmWithoutAManagerTheFirstOfTheFileHearsEveryRung(t *testing.T) {
	s := newStage(t)
	s.people[0].Role = "boss"
	wantLines(t, only(s.play("2026-08-28 00:00", "2026-08-30 08:00"), "move-plan creek"), "08-30 06:30 Ana move-plan creek", "08-30 06:30 Luis move-plan creek")
}

func TestWhoIsLeftIsToldThatTheManagerOptedOut(t *testing.T) {
	s := newStage(t)
	s.people = s.people[:2] // Ana and Luis, the helper
	s.shun["+15555550142"], s.shun["ana@example.org"] = true, true
	in := s.input(s.at("2026-08-20 09:00"))
	in.OptOuts = []OptOut{{Contact: "Ana", At: s.at("2026-08-20 08:55")}}
	told := slices.ContainsFunc(dueOf(in), func(n Notice) bool { return n.Kind == StopTold && n.To == "Luis" })
	if !told {
		t.Error("Luis is the only one left, and nobody tells him")
	}
}

func TestATextRefusedForGoodGoesByMailTheSameDay(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-22 06:00")
	s.said = append(s.said, &SaidRow{Key: ParseKey("creek/2026-09-01/-/10/0/Ana/text"), To: "Ana", Medium: Text, Kind: HeadsUp, Paddock: "creek", At: s.at("2026-08-22 06:31"), Refused: true})
	wantLines(t, only(s.play("2026-08-22 06:35", "2026-08-22 08:00"), "heads-up creek"), "08-22 06:35 Ana heads-up creek mail")
	in := s.input(s.at("2026-08-23 07:00"))
	if slices.ContainsFunc(dueOf(in), func(n Notice) bool { return n.Kind == HeadsUp && n.Medium == Mail }) {
		t.Error("the next day the phone is not tried again")
	}
}

func TestWhoseTextIsRefusedIsSkippedTheSameDayAndNamed(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-09-02 06:00")
	s.said = append(s.said, &SaidRow{Key: ParseKey("creek/2026-09-01/-/day1/0/Ruth/text"), To: "Ruth", Medium: Text, Kind: Overdue, Paddock: "creek", At: s.at("2026-09-02 06:31"), Refused: true})
	in := s.input(s.at("2026-09-02 06:32"))
	var told []string
	for _, n := range dueOf(in) {
		if n.Kind == Overdue {
			told = append(told, n.To)
			if !slices.Contains(n.Facts.(*OverdueFacts).Missing, "Ruth") {
				t.Errorf("%s is not told that Ruth could not be reached", n.To)
			}
		}
	}
	if !slices.Equal(told, []string{"Ana", "Luis", "Cole"}) {
		t.Errorf("told %v, want Cole in Ruth's place", told)
	}
}

func down(s *stage, at string) Input {
	in := s.input(s.at(at))
	in.Alarms = []Trouble{{What: AlarmSMSDown, Since: s.at("2026-09-02 05:00"), Medium: Text}}
	return in
}

func TestWhatCannotWaitGoesByMailWhileTextsFail(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-09-01 20:00")
	s.sayDue(down(s, "2026-09-02 06:30"))
	wantLines(t, only(s.lines, "09-02", "Ana overdue"), "09-02 06:30 Ana overdue creek mail")
	s.lines = nil
	s.sayDue(s.input(s.at("2026-09-02 09:00"))) // texts go again
	if got := only(s.lines, "Ana overdue creek"); len(got) > 0 {
		t.Errorf("told by mail, and again by text: %v", got)
	}
}

// What presses is called where the farm has calls, and texted where a call is of
// no use: refused today, its carrier down, opted out.
func TestACallFallsBackToAText(t *testing.T) {
	s := newStage(t)
	now := s.at("2026-09-30 05:00")
	key := Key{Of: "lane", Day: "2026-08-31", Cause: Cause{Kind: "frost"}, Rung: "hold"}
	refused := &SaidRow{Key: key, To: "Ana", Medium: Call, At: now.Add(-time.Hour), Refused: true}
	for name, tt := range map[string]struct {
		change func(*Input)
		want   Medium
	}{
		"called":                  {func(*Input) {}, Call},
		"a farm without calls":    {func(in *Input) { in.Calls = false }, Text},
		"a call that was refused": {func(in *Input) { in.Said = NewSaid([]*SaidRow{refused}) }, Text},
		"calls do not go out":     {func(in *Input) { in.Alarms = []Trouble{{What: AlarmCallsDown, Medium: Call}} }, Text},
		"calls and texts do not go out": {func(in *Input) {
			in.Alarms = []Trouble{{What: AlarmCallsDown, Medium: Call}, {What: AlarmSMSDown, Medium: Text}}
		}, Mail},
		"refused calls, texts go not out": {func(in *Input) { in.Said, in.Alarms = NewSaid([]*SaidRow{refused}), []Trouble{{Medium: Text}} }, Mail},
	} {
		in := s.input(now)
		in.Calls = true
		tt.change(&in)
		p := &plan{Input: in, today: civil.DateOf(now)}
		ana := in.Contacts[slices.IndexFunc(in.Contacts, func(c Contact) bool { return c.Name == "Ana" })]
		p.tell(p.called(person{ana, p.reach(ana)}), HoldBegins, key, &PaddockFacts{}, span{now, now.Add(time.Hour), true})
		if len(p.notices) != 1 || p.notices[0].Medium != tt.want || p.notices[0].Key.Medium != tt.want {
			t.Errorf("%s: %+v, want by %s", name, p.notices, tt.want)
		}
	}
}

func TestWhatCanWaitWaitsForTheTexts(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-21 20:00")
	s.sayDue(down(s, "2026-08-22 06:30"))
	if got := only(s.lines, "heads-up creek mail"); len(got) > 0 {
		t.Errorf("ten days ahead: %v", got)
	}
}

func TestWhatCouldNotBeSaidForThreeDaysIsWordedAnew(t *testing.T) {
	s := newStage(t)
	headsUp := func(at string) (n Notice) {
		for _, n := range dueOf(s.input(s.at(at))) {
			if n.Kind == HeadsUp && n.To == "Ana" {
				return n
			}
		}
		t.Fatalf("no heads-up on %s", at)
		return n
	}
	first, later := headsUp("2026-08-22 06:30"), headsUp("2026-08-25 09:00")
	if first.Key == later.Key || OnPaddock(later.Facts).Days != 7 {
		t.Errorf("three days on, words made for %d days would go out as %s", OnPaddock(first.Facts).Days, later.Key)
	}
	s.sayDue(s.input(s.at("2026-08-25 09:00")))
	s.lines = nil
	s.sayDue(s.input(s.at("2026-08-26 09:00")))
	if got := only(s.lines, "Ana heads-up"); len(got) > 0 {
		t.Errorf("said on the third day, and again on the fourth: %v", got)
	}
}

func TestAnAlarmGoesToWhoeverHasAnotherWay(t *testing.T) {
	s := newStage(t)
	s.people[0].Email = ""
	s.people[2].Email = "ruth@example.org"
	s.sayDue(down(s, "2026-09-02 05:10"))
	wantLines(t, only(s.lines, "alarm"), "09-02 05:10 Ruth alarm  mail")
}

func TestATroubleThatComesAndGoesIsToldOnceADay(t *testing.T) {
	s := newStage(t)
	for hour := range 48 {
		now := s.at("2026-06-10 00:00").Add(time.Duration(hour) * time.Hour)
		in := s.input(now)
		in.Alarms = []Trouble{{What: AlarmSMSDown, Since: now, Medium: Text}}
		s.sayDue(in)
	}
	if got := only(s.lines, "Ana alarm"); len(got) != 2 {
		t.Errorf("in two days of a modem that comes and goes Ana hears %v", got)
	}
}

func TestASignOfLifeIsNotSentBesideAnotherText(t *testing.T) {
	s := newStage(t)
	// Frost on Oct 8 puts the heads-up on Friday, Aug 14; on Oct 11 on Monday, Aug 17.
	s.farm.Plan.Hand.Date.Day = 11
	if got := only(s.play("2026-08-10 00:00", "2026-08-17 12:00"), "Ana sign-of-life", "08-17"); len(got) > 0 {
		t.Errorf("beside the heads-up of the same morning: %v", got)
	}
	s = newStage(t)
	s.play("2026-06-10 00:00", "2026-06-12 12:00") // who is writing
	wantLines(t, only(s.play("2026-06-18 00:00", "2026-06-22 12:00"), "sign-of-life"), "06-22 06:30 Ana sign-of-life ")
}

func TestAFarmOfOneContactHearsEverything(t *testing.T) {
	s := newStage(t)
	s.people = []Contact{{Name: "Ruth", Role: "boss", Phone: "+15555550144"}}
	got := only(s.play("2026-08-15 00:00", "2026-09-03 12:00"), " creek")
	wantLines(t, got,
		"08-22 06:30 Ruth heads-up creek", "08-27 06:30 Ruth last-look creek", "08-30 06:30 Ruth move-plan creek",
		"08-30 10:30 Ruth move-plan creek again", "09-01 06:30 Ruth shut-today creek", "09-01 10:30 Ruth shut-today creek again",
		"09-02 06:30 Ruth overdue creek", "09-03 06:30 Ruth overdue creek")
}

func TestALadderWithOtherDays(t *testing.T) {
	s := newStage(t)
	s.rungs = []Rung{
		{Before: 21, Tell: []string{"owner"}}, {Before: 7, Tell: []string{"manager"}},
		{Before: 1, Tell: []string{"helper"}, RepeatAfter: time.Hour},
	}
	got := only(s.play("2026-08-01 00:00", "2026-09-02 12:00"), " creek")
	wantLines(t, got,
		"08-11 06:30 Ruth heads-up creek", "08-25 06:30 Ana heads-up creek",
		"08-31 06:30 Luis move-plan creek", "08-31 07:30 Luis move-plan creek again",
		"09-02 06:30 Ana overdue creek", "09-02 06:30 Luis overdue creek")
	if got := only(s.play("2026-08-01 00:00", "2026-09-20 12:00"), " hill", "keep-shut"); len(got) > 1 {
		t.Errorf("an empty paddock: %v", got)
	}
}

func TestAFarmWithoutHerdsHearsTheFullLadder(t *testing.T) {
	s := newStage(t)
	s.farm.Herds = nil
	got := only(s.play("2026-08-15 00:00", "2026-09-02 12:00"), "Ana", " hill")
	wantLines(t, got,
		"08-22 06:30 Ana heads-up hill", "08-27 06:30 Ana last-look hill", "08-30 06:30 Ana move-plan hill",
		"08-30 10:30 Ana move-plan hill again", "09-01 06:30 Ana shut-today hill", "09-01 06:30 Ana shut-today hill mail",
		"09-01 10:30 Ana shut-today hill again", "09-02 06:30 Ana overdue hill")
	s.fact("2026-09-02 13:00", diary.Fact{Kind: diary.Off, Paddock: "hill"})
	if got := only(s.play("2026-09-02 13:00", "2026-09-10 12:00"), "overdue hill"); len(got) > 0 {
		t.Errorf("spoken of after off: %v", got)
	}
}
