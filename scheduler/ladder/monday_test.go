package ladder

import (
	"slices"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// On the stage the cows stand in Creek, which shuts on Tuesday, Sep 1, as Hill does;
// in 2026 the first Mondays of summer and fall are Jun 1, Jul 6, Aug 3 and Sep 7.

func mondayMails(lines []string) (days []string) {
	for _, l := range only(lines, "Ana monday") {
		days = append(days, l[:5])
	}
	return days
}

func TestAMondayWithNothingToDoIsMailedOnceAMonth(t *testing.T) {
	s := newStage(t)
	s.fact("2026-06-10 08:00", diary.Fact{Kind: diary.Off, Paddock: "creek", Herd: "cows"})
	if got := mondayMails(s.play("2026-06-10 09:00", "2026-08-24 12:00")); !slices.Equal(got, []string{"07-06", "08-03"}) {
		t.Errorf("with all ground empty Mondays are mailed on %v, want the first of each month", got)
	}
}

func TestAMondayOnWhichSomethingShutsThatWeekIsMailed(t *testing.T) {
	s := newStage(t)
	if got := mondayMails(s.play("2026-08-24 06:00", "2026-08-31 12:00")); !slices.Contains(got, "08-31") {
		t.Errorf("Creek shuts on Tuesday, and Mondays are mailed on %v", got)
	}
}

func TestAHerdToMoveIsMailedOnMonday(t *testing.T) {
	for _, tc := range []struct {
		in   int // days after the Monday
		want bool
	}{{3, true}, {9, false}} {
		s := newStage(t)
		s.fact("2026-06-10 08:00", diary.Fact{Kind: diary.Off, Paddock: "creek", Herd: "cows"})
		in := s.input(s.at("2026-08-10 09:00"))
		monday := in.Views[0].Today
		in.LastPass = func() []Stop {
			return []Stop{{Paddock: "hill", Herds: []string{"cows"}, In: monday.AddDays(tc.in), Out: monday.AddDays(20)}}
		}
		mailed := slices.ContainsFunc(dueOf(in), func(n Notice) bool { return n.Kind == MondayMail && n.To == "Ana" })
		if mailed != tc.want {
			t.Errorf("a herd that goes to Hill in %d days: mailed %v, want %v", tc.in, mailed, tc.want)
		}
	}
}

// A plan made anew each morning begins with where the herd stands that day: that is no
// move, on a Tuesday as little as on a Monday, whose sign of life said that all is well.
func TestAHerdThatStaysIsNoWorkOnATuesday(t *testing.T) {
	for _, day := range []string{"2026-08-10 09:00", "2026-08-11 09:00"} {
		in := newStage(t).input(newStage(t).at(day))
		today := in.Views[0].Today
		in.LastPass = func() []Stop {
			return []Stop{{Paddock: "creek", Herds: []string{"cows"}, In: today, Out: today.AddDays(21)}}
		}
		if slices.ContainsFunc(dueOf(in), func(n Notice) bool { return n.Kind == MondayMail }) {
			t.Errorf("on %s a mail goes out because the cows stay in Creek", day[:10])
		}
	}
}

func TestASignOfLifeIsNotSentBesideAMailButOnTheFirstMondayOfAMonth(t *testing.T) {
	s := newStage(t)
	s.play("2026-06-10 00:00", "2026-06-12 12:00") // who is writing
	s.fact("2026-06-24 08:00", diary.Fact{Kind: diary.Off, Paddock: "creek", Herd: "cows"})
	var alive []string
	for _, l := range only(s.play("2026-06-25 00:00", "2026-08-03 12:00"), "Ana sign-of-life") {
		alive = append(alive, l[:5])
	}
	// Told of the fall on Friday, Jul 3, which is that week's one text, and on Aug 2; on
	// the other Mondays nothing at all is said.
	if want := []string{"07-13", "07-20", "07-27"}; !slices.Equal(alive, want) {
		t.Errorf("signs of life on %v, want %v", alive, want)
	}
	s = newStage(t)
	s.fact("2026-08-05 08:00", diary.Fact{Kind: diary.Off, Paddock: "creek", Herd: "cows"})
	in := s.input(s.at("2026-08-10 09:00"))
	monday := in.Views[0].Today
	in.LastPass = func() []Stop { return []Stop{{Paddock: "hill", In: monday.AddDays(2), Out: monday.AddDays(9)}} }
	for _, n := range dueOf(in) {
		if n.Kind == SignOfLife {
			t.Error("a sign of life beside the mail of the same morning")
		}
	}
}

func TestTheOwnerGetsOneMondayAMonthAndNoListOfWork(t *testing.T) {
	s := newStage(t)
	s.people[2].Email = "ruth@example.org"
	var days []string
	for _, l := range only(s.play("2026-07-20 00:00", "2026-09-30 12:00"), "Ruth monday") {
		days = append(days, l[:5])
	}
	if !slices.Equal(days, []string{"08-03", "09-07"}) {
		t.Errorf("the owner's Mondays: %v", days)
	}
	for _, n := range dueOf(newMonday(t, "2026-09-07 09:00")) {
		if f, ok := n.Facts.(*FarmFacts); ok && n.Kind == MondayMail && f.Owner != (n.To == "Ruth") {
			t.Errorf("%s gets the mail of an owner: %v", n.To, f.Owner)
		}
	}
}

// newMonday is a Monday on which the owner has mail.
func newMonday(t *testing.T, at string) Input {
	s := newStage(t)
	s.people[2].Email = "ruth@example.org"
	return s.input(s.at(at))
}

func TestWhereNobodyManagesTheOwnerGetsTheListOfWork(t *testing.T) {
	in := newMonday(t, "2026-09-07 09:00")
	in.Contacts = in.Contacts[2:3]
	for _, n := range dueOf(in) {
		if f, ok := n.Facts.(*FarmFacts); ok && n.Kind == MondayMail && f.Owner {
			t.Error("nobody gets the list of work")
		}
	}
}

func TestAHeightIsWantedOnMondayOnlyWhereADecisionHangsOnIt(t *testing.T) {
	s := newStage(t)
	for _, tc := range []struct{ monday, want string }{
		{"2026-06-01 09:00", "creek"},      // the cows stand there
		{"2026-07-06 09:00", "creek"},      // Hill shuts in eight weeks
		{"2026-08-24 09:00", "creek hill"}, // and now in eight days
	} {
		var wanted []string
		for _, s := range (&plan{Input: s.input(s.at(tc.monday)), today: s.input(s.at(tc.monday)).Views[0].Today}).week(s.input(s.at(tc.monday)).Views[0].Today).Shuts {
			if s.Wants == "read" {
				wanted = append(wanted, s.Paddock)
			}
		}
		slices.Sort(wanted)
		if got := strings.Join(wanted, " "); got != tc.want {
			t.Errorf("on %s heights are wanted of %q, want %q", tc.monday[:10], got, tc.want)
		}
	}
}

func TestTheHeightAtCutoffIsAskedWithTheWordThatRestStarts(t *testing.T) {
	s := newStage(t)
	lines := s.play("2026-09-01 00:00", "2026-09-04 12:00")
	wantLines(t, only(lines, "Ana", " hill"), "09-01 06:30 Ana keep-shut hill")
	for _, n := range dueOf(newStage(t).input(s.at("2026-09-01 09:00"))) {
		if f, ok := n.Facts.(*RungFacts); ok && n.Kind == KeepShut && f.Read != (n.To == "Ana") {
			t.Errorf("%s is asked for Hill's height: %v; the manager reads it", n.To, f.Read)
		}
	}
}

func TestAHeightReadJustBeforeCutoffIsNotAskedForAgain(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-29 08:00", diary.Fact{Kind: diary.Reading, Paddock: "hill", Heights: []float64{9, 10, 11}})
	for _, n := range dueOf(s.input(s.at("2026-09-01 09:00"))) {
		if n.Kind == KeepShut && n.Asks() != "" {
			t.Error("Hill was read three days ago and is asked for again")
		}
	}
}

// Frost on Oct 16 and 45 days of rest: the fall ahead is told on Friday, Jul 3.
func TestOfTwoTextsInAWeekOfSummerOneWaits(t *testing.T) {
	s := newStage(t)
	s.play("2026-06-10 00:00", "2026-06-12 12:00") // who is writing
	in := s.input(s.at("2026-06-29 06:30"))
	p := &plan{Input: in, today: civil.DateOf(in.Now)}
	texts := func(kinds ...Kind) (left []Kind) {
		p.notices = nil
		for _, k := range kinds {
			p.notices = append(p.notices, Notice{Kind: k, To: "Ana", Medium: Text, NotBefore: in.Now, Key: Key{Of: ofFarm, Day: "2026-06-29"}})
		}
		p.giveWay()
		for _, n := range p.notices {
			left = append(left, n.Kind)
		}
		return left
	}
	for _, c := range in.Contacts {
		p.people = append(p.people, person{c, p.reach(c)})
	}
	for _, tc := range []struct{ due, said []Kind }{
		{[]Kind{SignOfLife, FrostAsk, FallAhead}, []Kind{FallAhead}},
		{[]Kind{HoldBegins, RestOver, FrostAsk, HoldAnimals}, []Kind{HoldBegins, FrostAsk, HoldAnimals}},
		{[]Kind{SeasonResult, SeasonResult, RestOver}, []Kind{SeasonResult, SeasonResult}}, // of several paddocks, in one text
	} {
		if got := texts(tc.due...); !slices.Equal(got, tc.said) {
			t.Errorf("of %v are left %v, want %v", tc.due, got, tc.said)
		}
	}
	p.comes(p.people[0], FallAhead, s.at("2026-07-03 06:30"))
	if got := texts(SignOfLife); len(got) > 0 {
		t.Errorf("the week is kept for Friday's text, and on Monday is said %v", got)
	}
	p.coming, p.today = nil, p.today.AddDays(-7)
	if p.comes(p.people[0], FallAhead, s.at("2026-07-03 06:30")); !slices.Equal(texts(SignOfLife), []Kind{SignOfLife}) {
		t.Error("the week before is kept for it too")
	}
	if p.today.Month = 8; len(texts(SignOfLife, RestOver)) != 2 {
		t.Error("in August no text gives way")
	}
}
