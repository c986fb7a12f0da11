package scheduler

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// feed is what the farm would be told of its fall today.
func (k *talk) feed(day string) *ladder.Feed {
	k.t.Helper()
	today, err := civil.ParseDate(day)
	if err != nil {
		k.t.Fatal(err)
	}
	sight := season.Sight{Farm: &k.farm.Farm, Book: diary.NewBook(k.facts()...), Today: today}
	return feedOf(sight, func() (season.FeedPlan, bool) { return season.Feed(sight) })
}

// Head sold and hay on hand leave less to get; undo brings it back, and hay that is
// fed is gone.
func TestWhatIsToldOfHeadAndHayCountsInTheFeed(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-08-04 13:00", "Ana", "creek 9 9 9 9 9 9 9 9 9 9")
	hay := func() float64 { return k.feed("2026-08-05").HayLb }
	before := hay()
	if before == 0 {
		t.Fatal("the farm is not short: it shows nothing")
	}
	last := before
	for n, words := range []string{"sold 8 cows", "hay 10 bales", "bought 5 bales"} {
		k.text("2026-08-04 13:1"+string(rune('0'+n)), "Ana", words)
		if now := hay(); now >= last {
			t.Errorf("%s: %.0f lb to get, %.0f before", words, now, last)
		} else {
			last = now
		}
	}
	k.text("2026-08-04 13:20", "Ana", "fed 2 bales")
	if hay() <= last {
		t.Errorf("two bales were fed, and %.0f lb are to get, %.0f before", hay(), last)
	}
	k.text("2026-08-04 13:21", "Ana", "cows 38")
	k.text("2026-08-04 13:22", "Ana", "hay 0 bales")
	if got := hay(); got != before {
		t.Errorf("all as before: %.0f lb, want %.0f", got, before)
	}
	k.text("2026-08-04 13:23", "Ana", "undo")
	if got := hay(); got >= before {
		t.Errorf("the hay that was taken away is back: %.0f lb, %.0f without", got, before)
	}
}

// The answer to head sold says how many are left; undo sold brings them back, whatever
// else was told since; hay that is sold is gone.
func TestHeadSoldAreCountedAndTakenBackByTheirKind(t *testing.T) {
	k := newTalk(t, talkFarm)
	counts := func(said []line) string { return fmt.Sprint(said[0].Notice.Facts.(*ladder.RecordedFacts).Counts) }
	if got := counts(k.text("2026-08-04 13:00", "Ana", "sold 8 cows")); got != "[{cows 30}]" {
		t.Errorf("left: %s", got)
	}
	if got := counts(k.text("2026-08-04 13:01", "Ana", "bought 4 heifers")); got != "[{heifers 24}]" {
		t.Errorf("of the heifers: %s", got)
	}
	k.text("2026-08-04 13:02", "Ana", "hay 60 bales")
	k.text("2026-08-04 13:03", "Ana", "undo sold")
	k.text("2026-08-04 13:04", "Ana", "sold 20 bales")
	head, lb := map[string]int{}, 0.0
	book := diary.NewBook(k.facts()...)
	for _, h := range k.farm.HerdsOn(book, civil.Date{Year: 2026, Month: 8, Day: 4}) {
		head[h.ID] = h.Head
	}
	if plan, ok := season.Feed(season.Sight{Farm: &k.farm.Farm, Book: book, Today: civil.Date{Year: 2026, Month: 8, Day: 4}}); ok {
		lb = math.Round(plan.Hay.OnHand / plan.Hay.BaleLb)
	}
	if head["cows"] != 38 || head["heifers"] != 24 || lb != 40 {
		t.Errorf("%v head and %g bales, want 38 cows, 24 heifers and 40 bales", head, lb)
	}
}

// More head than there are go nowhere.
func TestNobodySellsMoreThanThereAre(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-08-04 13:00", "Ana", "sold 30 cows")
	q := ask(k.text("2026-08-04 13:05", "Ana", "sold 30 cows"))
	if q == nil || q.Why != diary.TooMany || q.Word != "8" || len(k.facts()) != 1 {
		t.Errorf("asked %+v, in the diary %v", q, k.facts())
	}
}

// Each fence down is told to the managers, once, and not to who told it.
func TestAFenceDownIsToldToTheManagers(t *testing.T) {
	k := newTalk(t, talkFarm)
	told := ofKind(append(k.text("2026-08-04 13:00", "Luis", "fence down creek"), k.play("2026-08-04 13:01", "2026-08-04 14:00")...), ladder.PassedOn)
	if len(told) != 1 {
		t.Errorf("told %v, want the manager once", told)
	}
	if told := ofKind(k.text("2026-08-04 14:10", "Luis", "fence down hill"), ladder.PassedOn); len(told) != 1 {
		t.Errorf("of the second fence of a day told %v, want the manager once", told)
	}
	if told := ofKind(k.text("2026-08-04 15:00", "Ana", "fence down creek"), ladder.PassedOn); len(told) > 0 {
		t.Errorf("the manager is told what she told: %v", told)
	}
	ana, _ := k.farm.Contact("Ana")
	k.suppress("2026-08-04 16:00", ana.Name, ana.Phone) // as a carrier does that hears her stop
	said := slices.DeleteFunc(k.text("2026-08-04 17:00", "Luis", "fence down mill"), func(l line) bool { return l.Notice.Kind != ladder.PassedOn })
	if len(said) != 1 || said[0].Notice.Medium != ladder.Mail {
		t.Errorf("to a manager whose phone takes no texts it is mailed; said: %v", said)
	}
}

// What is asked is answered and leaves nothing behind: no fact, no plan, and a queue as
// it was. The next ground is that of the plan that was told.
func TestWhatIsAskedLeavesNothingBehind(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.play("2026-08-01 06:00", "2026-08-03 12:00") // a Monday mail speaks of the plan
	plan := k.kept()
	facts := len(k.facts())
	for n, words := range []string{"where next", "where next cows", "feed", "when frost", "when creek", "how tall is creek", "days creek"} {
		said := k.text("2026-08-04 13:0"+string(rune('0'+n)), "Ana", words)
		if len(said) != 1 || said[0].Notice.Kind != ladder.AnswerAsked && said[0].Notice.Kind != ladder.AnswerStatus {
			t.Errorf("%s: %v", words, said)
		}
	}
	if got := k.kept(); !slices.Equal(got, plan) || len(k.facts()) != facts {
		t.Errorf("%d facts, %d before; the plan is %v, and was %v", len(k.facts()), facts, got, plan)
	}
	said := k.text("2026-08-04 14:00", "Ana", "where next cows")
	f := said[0].Notice.Facts.(*ladder.AskedFacts)
	if len(f.Pass) == 0 || !slices.Contains(plan, fmt.Sprint([]string{"cows"}, f.Pass[0].Paddock)) || f.Pass[0].Paddock == "creek" {
		t.Errorf("the cows go to %+v next, and the plan is %v", f.Pass, plan)
	}
	said = k.text("2026-08-04 14:01", "Ana", "when frost")
	if f := said[0].Notice.Facts.(*ladder.AskedFacts); f.Frost.String() != "2026-10-16" {
		t.Errorf("frost on %s, want the planned 2026-10-16", f.Frost)
	}
}

// 'Frost last night' is noted for the evening it began on: the dispute of it names that
// same day.
func TestADisputeNamesTheDayThatTheFrostWasNotedFor(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.turn("2026-10-12 06:30")
	noted := civil.Date{}
	for _, l := range k.text("2026-10-12 08:00", "Ana", "frost last night") {
		if f, ok := l.Facts.(*ladder.RecordedFacts); ok {
			noted = f.Recorded[0].Day
		}
	}
	told := 0
	for _, l := range k.text("2026-10-12 09:00", "Luis", "no frost") {
		if f, ok := l.Facts.(*ladder.DisputeFacts); ok {
			if told++; f.Day != noted {
				t.Errorf("noted for %s, disputed for %s", noted, f.Day)
			}
		}
	}
	if told == 0 {
		t.Error("nobody is told of it")
	}
}
