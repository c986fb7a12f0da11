package ladder

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

// A stage is an invented farm that is played through its fall. The frost is by
// hand, Oct 16, so that 45 days put the cutoff on Sep 1 (common practice), and 10
// of 100 falls had 36 F by Sep 10 and 28 F by Oct 1 (1.28 spreads of 20 days). Its
// thermometer misses no night.
type stage struct {
	t      *testing.T
	farm   season.Farm
	people []Contact
	rungs  []Rung
	book   *diary.Book
	said   []*SaidRow
	shun   map[string]bool
	zone   *time.Location
	nextID int64
	lines  []string
	air    *frost.Record // nil where nothing is measured
}

func newStage(t *testing.T) *stage {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Skip("no time zones on this machine")
	}
	egg, _ := grass.Grasses.Find("eastern gamagrass")
	fescue, _ := grass.Grasses.Find("tall fescue")
	john, _ := grass.Hazards.Find("johnsongrass")
	pair, _ := herd.Kinds.Find("cow with calf")
	rule := season.Rule{RestDays: 45, Leave: 8, AtFrost: 18, Min: 6, Begin: 14, Confidence: 0.8, EndsAt: frost.KillingFreeze28F, Spring: season.MonthDay{Month: 4, Day: 1}}
	return &stage{
		t: t, zone: zone, book: diary.NewBook(), shun: map[string]bool{}, rungs: DefaultRungs(), air: warm,
		farm: season.Farm{
			Name: "Quail Fork", Rule: rule, Zone: zone,
			Plan: season.Plan{Threshold: frost.Freeze32F, Hand: &season.Hand{Date: season.MonthDay{Month: 10, Day: 16}, Spread: 20}},
			Paddocks: []season.Paddock{
				{ID: "creek", Name: "Creek", Acres: 22, Grass: egg, Rule: rule},
				{ID: "hill", Name: "Hill", Acres: 12, Grass: egg, Rule: rule},
				{ID: "lane", Name: "Lane", Acres: 30, Grass: fescue, Rule: season.Rule{Spring: rule.Spring}, Hazards: []grass.Hazard{john}},
			},
			Herds: []herd.Herd{{ID: "cows", Head: 38, Kind: pair, WeightLb: 1300, Calving: time.March, Paddock: "creek"}},
		},
		people: []Contact{
			{Name: "Ana", Role: "manager", Phone: "+15555550142", Email: "ana@example.org", QuietHours: QuietHours{From: 21 * 60, To: 6 * 60}},
			{Name: "Luis", Role: "helper", Phone: "+15555550143", Language: "es"},
			{Name: "Ruth", Role: "owner", Phone: "+15555550144"},
			{Name: "Cole", Role: "neighbour", Phone: "+15555550145"},
		},
	}
}

// warm is a thermometer's record without a frost.
var warm = func() *frost.Record {
	var days []frost.Day
	for d := (civil.Date{Year: 2026, Month: 1, Day: 1}); d.Year < 2028; d = d.AddDays(1) {
		one := frost.NoDay(d)
		one.Min = frost.FromC(10)
		days = append(days, one)
	}
	return (&frost.Record{}).With(days...)
}()

func (s *stage) at(text string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", text, s.zone)
	if err != nil {
		s.t.Fatal(err)
	}
	return at
}

// fact writes one fact down as somebody would have texted it.
func (s *stage) fact(at string, f diary.Fact) {
	s.nextID++
	f.ID, f.At = s.nextID, s.at(at)
	if f.Day.IsZero() {
		f.Day = civil.DateOf(f.At)
	}
	if f.By == "" {
		f.By = "Ana"
	}
	s.book.Add(f)
}

func (s *stage) input(now time.Time) Input {
	today := civil.DateOf(now.In(s.zone))
	return Input{
		Now: now, Zone: s.zone, Morning: 6*60 + 30, Farm: s.farm.Name, Contacts: s.people, Rungs: s.rungs,
		Views: season.Look(season.Sight{Farm: &s.farm, Book: s.book, Today: today, Air: s.air}),
		Book:  s.book, Moves: season.Follow(&s.farm, s.book, today), Said: NewSaid(s.said), OptedOut: s.shun,
		Feed: func() *Feed { return nil }, LastPass: func() []Stop { return nil },
		MoveTo: func(string, bool) Sends { return Sends{} }, Changed: func([]Stop) []season.Change { return nil }, Lesson: func(string) *season.Lesson { return nil },
	}
}

// play says everything that falls due up to and with a moment, jumping from
// moment to moment, and gives it in lines: time, contact, kind, paddock.
func (s *stage) play(from, to string) []string {
	s.lines = nil
	end := s.at(to)
	for now := s.at(from); !now.After(end); {
		in := s.input(now)
		s.sayDue(in)
		_, next := new(Memo).Plan(s.input(now), nil)
		if !next.After(now) {
			s.t.Fatalf("the next moment after %s is %s", now, next)
		}
		now = next
	}
	return s.lines
}

func repeated(n Notice) bool {
	f, ok := n.Facts.(*RungFacts)
	return ok && f.Repeat
}

func dueOf(in Input) []Notice {
	due, _ := new(Memo).Plan(in, nil)
	return due
}

func (s *stage) sayDue(in Input) {
	known := NewSaid(s.said)
	for _, n := range dueOf(in) {
		if _, ok := known.at(n.Key); ok || n.NotBefore.After(in.Now) {
			continue
		}
		s.said = append(s.said, SaidOf(&n, in.Now, false)...)
		mark := ""
		if repeated(n) {
			mark = " again"
		}
		if n.Medium == Mail {
			mark += " mail"
		}
		s.lines = append(s.lines, fmt.Sprintf("%s %s %s %s%s", in.Now.In(s.zone).Format("01-02 15:04"), n.To, n.Kind, n.About().Paddock, mark))
	}
}

const hour = time.Hour

// only keeps the lines that hold every word.
func only(lines []string, words ...string) []string {
	var out []string
	for _, l := range lines {
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(l+" ", w) }) {
			out = append(out, l)
		}
	}
	return out
}

func wantLines(t *testing.T, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
}

func TestAGrazedPaddockIsSpokenOfLouderAndLouder(t *testing.T) {
	s := newStage(t)
	lines := s.play("2026-08-15 00:00", "2026-09-04 12:00")
	wantLines(t, only(lines, " creek"),
		"08-22 06:30 Ana heads-up creek",
		"08-27 06:30 Ana last-look creek",
		"08-30 06:30 Ana move-plan creek",
		"08-30 06:30 Luis move-plan creek",
		"08-30 10:30 Ana move-plan creek again",
		"08-30 10:30 Luis move-plan creek again",
		"09-01 06:30 Ana shut-today creek",
		"09-01 06:30 Ana shut-today creek mail",
		"09-01 06:30 Luis shut-today creek",
		"09-01 10:30 Ana shut-today creek again",
		"09-01 10:30 Luis shut-today creek again",
		"09-02 06:30 Ana overdue creek",
		"09-02 06:30 Luis overdue creek",
		"09-02 06:30 Ruth overdue creek",
		"09-03 06:30 Ana overdue creek",
		"09-03 06:30 Luis overdue creek",
		"09-03 06:30 Ruth overdue creek",
		"09-03 06:30 Cole overdue creek",
		"09-04 06:30 Ana overdue creek",
		"09-04 06:30 Luis overdue creek",
		"09-04 06:30 Ruth overdue creek",
		"09-04 06:30 Cole overdue creek",
	)
}

func TestAfterSevenMorningsItIsMondaysAndThursdays(t *testing.T) {
	s := newStage(t)
	lines := s.play("2026-09-01 00:00", "2026-09-22 12:00")
	var days []string
	for _, l := range only(lines, "Ana overdue creek") {
		days = append(days, l[:5])
	}
	// Sep 2-8 are seven mornings; Sep 10 is a Thursday, Sep 14 a Monday.
	wantLines(t, days, "09-02", "09-03", "09-04", "09-05", "09-06", "09-07", "09-08", "09-10", "09-14", "09-17", "09-21")
}

func TestAnEmptyPaddockIsSpokenOfTwice(t *testing.T) {
	s := newStage(t)
	lines := s.play("2026-08-15 00:00", "2026-09-20 12:00")
	wantLines(t, only(lines, "keep-shut hill"),
		"08-22 06:30 Ana keep-shut hill", "09-01 06:30 Ana keep-shut hill", "09-01 06:30 Luis keep-shut hill")
	if got := only(lines, "overdue hill"); len(got) > 0 {
		t.Errorf("an empty paddock was called late: %v", got)
	}
}

func TestOnlyOffEndsTheLadder(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-09-02 12:00")
	s.fact("2026-09-02 13:00", diary.Fact{Kind: diary.Reading, Paddock: "creek", Heights: []float64{9, 8}})
	if got := only(s.play("2026-09-02 13:00", "2026-09-03 12:00"), "overdue creek"); len(got) == 0 {
		t.Error("a reading silenced the ladder while animals are in")
	}
	s.fact("2026-09-03 13:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	if got := only(s.play("2026-09-03 13:00", "2026-09-20 12:00"), "overdue creek"); len(got) > 0 {
		t.Errorf("spoken of after off: %v", got)
	}
}

func TestAnAnswerFromAnybodyStopsTheRepeatForEverybody(t *testing.T) {
	for _, kind := range []diary.Kind{diary.Reading, diary.Ack, diary.Later} {
		t.Run(string(kind), func(t *testing.T) {
			s := newStage(t)
			s.play("2026-08-15 00:00", "2026-08-30 08:00")
			s.fact("2026-08-30 08:05", diary.Fact{Kind: kind, Paddock: "creek", Heights: []float64{9}, By: "Cole"})
			if got := only(s.play("2026-08-30 08:05", "2026-08-30 20:00"), "again"); len(got) > 0 {
				t.Errorf("repeated after %s: %v", kind, got)
			}
		})
	}
}

func TestOffBeforeCutoffLeavesOneKeepItShut(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-28 08:00")
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	wantLines(t, only(s.play("2026-08-28 09:00", "2026-09-20 12:00"), " creek", "Ana", "keep"), "09-01 06:30 Ana keep-shut creek")
}

func TestAHerdPutBackDuringRestReopensTheLadder(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-28 09:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	s.play("2026-08-28 09:00", "2026-09-12 08:00")
	s.fact("2026-09-12 09:00", diary.Fact{Kind: diary.On, Paddock: "creek", Herd: "cows"})
	got := only(s.play("2026-09-12 09:00", "2026-09-14 12:00"), "overdue creek")
	wantLines(t, got,
		"09-13 06:30 Ana overdue creek", "09-13 06:30 Luis overdue creek", "09-13 06:30 Ruth overdue creek",
		"09-14 06:30 Ana overdue creek", "09-14 06:30 Luis overdue creek", "09-14 06:30 Ruth overdue creek", "09-14 06:30 Cole overdue creek")
}

func TestAHerdThatTurnedUpElsewhereIsNotTakenForGone(t *testing.T) {
	s := newStage(t)
	s.fact("2026-08-31 09:00", diary.Fact{Kind: diary.On, Paddock: "lane", Herd: "cows"})
	lines := s.play("2026-08-31 09:00", "2026-09-02 12:00")
	if got := only(lines, "shut-today creek"); len(got) == 0 {
		t.Error("nobody said off, and the ladder went quiet")
	}
	s.fact("2026-09-02 13:00", diary.Fact{Kind: diary.Off, Paddock: "creek"})
	if got := only(s.play("2026-09-02 13:00", "2026-09-09 12:00"), "overdue creek"); len(got) > 0 {
		t.Errorf("spoken of after off: %v", got)
	}
}

func TestAContactWhoCannotBeReachedIsSkippedTheSameDay(t *testing.T) {
	s := newStage(t)
	s.shun["+15555550144"] = true // Ruth opted out
	s.play("2026-08-15 00:00", "2026-09-01 23:00")
	got := only(s.play("2026-09-02 06:00", "2026-09-02 08:00"), "overdue creek")
	wantLines(t, got, "09-02 06:30 Ana overdue creek", "09-02 06:30 Luis overdue creek", "09-02 06:30 Cole overdue creek")
	for _, n := range dueOf(s.input(s.at("2026-09-02 07:00"))) {
		if n.Kind == Overdue && !slices.Contains(n.Facts.(*OverdueFacts).Missing, "Ruth") {
			t.Errorf("%s was not told that Ruth could not be reached", n.To)
		}
	}
}

func TestLaterPutsARungOffByADay(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-22 07:00")
	s.fact("2026-08-22 08:00", diary.Fact{Kind: diary.Later, Paddock: "creek"})
	wantLines(t, only(s.play("2026-08-22 08:00", "2026-08-26 12:00"), "Ana heads-up creek"), "08-23 08:00 Ana heads-up creek")
}

func TestLaterNeverReachesPastTheMorningOfCutoff(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-30 07:00")
	s.fact("2026-08-30 08:00", diary.Fact{Kind: diary.Later, Paddock: "creek", Wait: 10 * 24 * time.Hour})
	got := only(s.play("2026-08-30 08:00", "2026-09-01 08:00"), "Ana", " creek")
	wantLines(t, got, "09-01 06:30 Ana shut-today creek", "09-01 06:30 Ana shut-today creek mail")
}

func TestLaterAfterCutoffHoldsUntilMorningAndTellsSomebodyElse(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-09-01 07:00")
	s.fact("2026-09-01 08:00", diary.Fact{Kind: diary.Later, Paddock: "creek", Wait: 3 * 24 * time.Hour})
	got := only(s.play("2026-09-01 08:00", "2026-09-02 08:00"), " creek")
	wantLines(t, got,
		"09-01 08:00 Ruth overdue creek",
		"09-02 06:30 Ana overdue creek", "09-02 06:30 Luis overdue creek", "09-02 06:30 Ruth overdue creek")
}

func TestAfterAPowerCutOnlyTheLatestRungIsSaid(t *testing.T) {
	for _, tc := range []struct{ name, on, want string }{
		{"three days dark before the last look", "2026-08-28 14:00", "08-28 14:00 Ana last-look creek"},
		{"three days dark over the cutoff", "2026-09-03 14:00", "09-03 14:00 Ana overdue creek"},
		{"three weeks dark", "2026-09-11 14:00", "09-11 14:00 Ana overdue creek"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := newStage(t)
			wantLines(t, only(s.play(tc.on, tc.on), "Ana", " creek"), tc.want)
		})
	}
}

func TestAMovedCutoffIsSaidFirst(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-27 08:00")
	s.farm.Paddocks[0].Rule.RestDays = 42 // now Sep 4
	now := s.at("2026-08-27 09:00")
	var told civil.Date
	for _, n := range dueOf(s.input(now)) {
		if n.Kind == HeadsUp && n.To == "Ana" {
			told = OnPaddock(n.Facts).WasCutoff
		}
	}
	if told != (civil.Date{Year: 2026, Month: 9, Day: 1}) {
		t.Errorf("the text begins with a change from %s, want Sep 1", told)
	}
	wantLines(t, only(s.play("2026-08-27 09:00", "2026-08-27 10:00"), "Ana", " creek"), "08-27 09:00 Ana heads-up creek")
}

func TestACutoffMovedFarAwayIsToldOnce(t *testing.T) {
	s := newStage(t)
	s.play("2026-08-15 00:00", "2026-08-27 08:00")
	s.farm.Paddocks[0].Rule.RestDays = 30 // now Sep 16
	wantLines(t, only(s.play("2026-08-27 09:00", "2026-08-30 10:00"), " creek"),
		"08-27 09:00 Ana cutoff-moved creek", "08-27 09:00 Ruth cutoff-moved creek")
}

func TestKeysAreUniqueAndHoldNothingTwice(t *testing.T) {
	s := newStage(t)
	for now := s.at("2026-06-25 07:00"); now.Before(s.at("2027-03-01 00:00")); now = now.Add(11 * time.Hour) {
		seen := map[Key]bool{}
		for _, n := range dueOf(s.input(now)) {
			if seen[n.Key] {
				t.Fatalf("%s: %s is wanted twice", now, n.Key)
			}
			seen[n.Key] = true
			if n.NotBefore.After(now.Add(12*time.Hour)) || !n.GoodUntil.IsZero() && !n.GoodUntil.After(now) {
				t.Errorf("%s: %s is wanted from %s to %s", now, n.Key, n.NotBefore, n.GoodUntil)
			}
		}
	}
}
