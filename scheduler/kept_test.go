package scheduler

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// kept are the grounds of the kept plan, in order.
func (k *talk) kept() (grounds []string) {
	k.t.Helper()
	plan, err := k.store.KeptPlan(k.t.Context())
	if err != nil {
		k.t.Fatal(err)
	}
	stops, _ := Kept(plan)
	for _, s := range stops {
		grounds = append(grounds, fmt.Sprint(s.Herds, s.Ground))
	}
	return grounds
}

// On Aug 27 the creek is eaten down, and the mill has grass that is lost on Sep 1: the
// plan sends the cows there, and so does the rung of five days before, not to the lane.
func TestTheRungSendsThemWhereThePlanDoes(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.play("2026-08-20 06:00", "2026-08-26 12:00")
	k.text("2026-08-26 13:00", "Ana", "creek 8.5 8.5 8.5 8.5 8.5 8.5 8.5 8.5 8.5 8.5")
	k.text("2026-08-26 13:05", "Ana", "mill 16 16 16 16 16 16 16 16 16 16")
	said := k.play("2026-08-26 14:00", "2026-08-27 12:00")
	i := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.LastLook && l.Notice.About().Paddock == "creek" })
	if i < 0 {
		t.Fatalf("no last look at the creek: %v", said)
	}
	f := said[i].Notice.Facts.(*ladder.RungFacts)
	if len(f.MoveTo) == 0 || f.MoveTo[0] != "Mill" {
		t.Errorf("sent to %v, want Mill first", f.MoveTo)
	}
	next := slices.IndexFunc(f.Pass, func(s ladder.Stop) bool { return s.Paddock == "mill" && slices.Contains(s.Herds, "cows") })
	if next < 0 {
		t.Errorf("the last pass of the same text: %+v", f.Pass)
	}
}

// A plan that was made is kept over a new start, and over a height that changes little.
func TestAPlanIsKeptOverANewStart(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.play("2026-08-01 06:00", "2026-08-03 12:00") // a Monday mail speaks of it
	before := k.kept()
	if len(before) < 3 {
		t.Fatalf("no plan was kept: %v", before)
	}
	k.sched = New(Options{Store: k.store, Farm: k.farm})
	k.text("2026-08-04 13:00", "Ana", "mill 14.5 14.5 14.5 14.5 14.5 14.5 14.5 14.5 14.5 14.5")
	k.play("2026-08-05 06:00", "2026-08-10 12:00")
	after := k.kept()
	if last := before[len(before)-1]; !slices.Contains(after, before[0]) || !slices.Contains(after, before[1]) || after[0] != before[0] {
		t.Errorf("kept %v, before %v (last %s)", after, before, last)
	}
}

// Where the answer takes a herd off, it names the ground of the kept plan.
func TestTheAnswerThatTakesThemOffSaysWhereTo(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.play("2026-08-01 06:00", "2026-08-03 12:00")
	said := k.text("2026-08-04 13:00", "Ana", "creek 6 6 6 6 6 6 6 6 6 6 6 6 6 6 6 6 6 6 6 6")
	i := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.AnswerVerdict })
	if i < 0 {
		t.Fatalf("no verdict: %v", said)
	}
	to := said[i].Notice.Facts.(*ladder.VerdictFacts).MoveTo
	next := ""
	for _, g := range k.kept() {
		if id, ok := strings.CutPrefix(g, "[cows]"); ok && id != "creek" && next == "" {
			next = id
		}
	}
	if p, ok := k.farm.Paddock(next); !ok || len(to) == 0 || to[0] != p.Name {
		t.Errorf("sent to %v, and the plan kept is %v", to, k.kept())
	}
}

// What is asked of ground that must be empty says where they can go, as the texts of that
// morning do.
func TestAHeightAskedOfGroundThatMustBeEmptySaysWhereTo(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.play("2026-08-31 06:00", "2026-09-02 12:00")
	said := k.text("2026-09-02 13:00", "Ana", "how tall is creek")
	i := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.AnswerStatus })
	if i < 0 {
		t.Fatalf("no answer: %v", said)
	}
	if to := said[i].Notice.Facts.(*ladder.StatusFacts).Shuts[0].MoveTo; len(to) == 0 || to[0] == "Creek Bottom" {
		t.Errorf("sent to %v", to)
	}
}

// In November the plan that is kept is next summer's: it is no answer to where next.
func TestNextSummersPlanIsNoAnswerToWhereNext(t *testing.T) {
	k := newTalk(t, talkFarm)
	stops := []herd.Stop{{Ground: "hill", Herds: []string{"cows"}, In: civil.Date{Year: 2027, Month: 7, Day: 3}, Out: civil.Date{Year: 2027, Month: 7, Day: 20}}}
	views := season.Look(season.Sight{Farm: &k.farm.Farm, Book: diary.NewBook(), Today: civil.Date{Year: 2026, Month: 11, Day: 9}})
	if next := nextStops(stops, views, ""); len(next) > 0 {
		t.Errorf("sent to %v", next)
	}
	views = season.Look(season.Sight{Farm: &k.farm.Farm, Book: diary.NewBook(), Today: civil.Date{Year: 2027, Month: 6, Day: 20}})
	if next := nextStops(stops, views, ""); len(next) != 1 {
		t.Errorf("two weeks before it nothing is next: %v", next)
	}
}
