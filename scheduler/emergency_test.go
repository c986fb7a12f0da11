package scheduler

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// writes puts a fact into the diary as if a contact had texted it, and gives what
// is said then.
func (k *talk) writes(at, by string, f diary.Fact) []line {
	k.t.Helper()
	f.At, f.Day, f.By, f.Source = k.when(at), civil.DateOf(k.when(at)), by, diary.FromText
	err := k.store.Update(k.t.Context(), k.when(at), func(tx *store.Tx) error { _, _, err := tx.Record(f); return err })
	if err != nil {
		k.t.Fatal(err)
	}
	return k.turn(at)
}

func TestAnEmergencyIsToldToManagersAndOwnersAtOnceHoursOrNot(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.turn("2026-07-20 12:00")
	said := k.writes("2026-07-20 23:30", "Luis", diary.Fact{Kind: diary.Emergency, Paddock: "lane", Words: "dead cow in lane"})
	if got := strings.Join(ofKind(said, ladder.EmergencyTold), ", "); got != "Ana emergency lane, Ruth emergency lane" {
		t.Fatalf("told at 23:30: %q", got)
	}
	if f := said[0].Facts.(*ladder.EmergencyFacts); f.Words != "dead cow in lane" || f.Who != "Luis" {
		t.Errorf("told %+v", f)
	}
	if again := ofKind(k.play("2026-07-21 00:00", "2026-07-22 12:00"), ladder.EmergencyTold); len(again) > 0 {
		t.Errorf("told again: %v", again)
	}
	if v := k.view("lane"); v.Verdict.Say != season.Wait || v.Verdict.Reason != season.Hurt {
		t.Errorf("lane: %s (%s)", v.Verdict.Say, v.Verdict.Reason)
	}
	if where := moveTo(k.views(), nil, "creek", false, false); slices.Contains(where, "Lane") {
		t.Errorf("a herd may be sent to %v", where)
	}
}

func TestWhoTellsOfAnEmergencyIsNotToldOfItAndWhatIsTakenBackIsNotSaid(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.turn("2026-07-20 12:00")
	if got := ofKind(k.writes("2026-07-20 14:00", "Ana", diary.Fact{Kind: diary.Emergency, Paddock: "creek"}), ladder.EmergencyTold); !slices.Equal(got, []string{"Ruth emergency creek"}) {
		t.Errorf("told %v", got)
	}
	id := k.facts()[len(k.facts())-1].ID
	err := k.store.Update(t.Context(), k.when("2026-07-20 14:05"), func(tx *store.Tx) error {
		_, _, err := tx.TakeBack(id, diary.Fact{At: k.when("2026-07-20 14:05"), Day: civil.DateOf(k.when("2026-07-20 14:05")), By: "Ana"})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := ofKind(k.turn("2026-07-20 14:06"), ladder.TakenBack); !slices.Equal(got, []string{"Ruth taken-back creek"}) {
		t.Errorf("who was told hears that it was taken back: %v", got)
	}
	if v := k.view("creek"); v.Verdict.Reason == season.Hurt {
		t.Error("taken back, and the paddock stays shut")
	}
}

// Two animals were told of and one word taken back: the ground stays shut, and nobody
// may read that it is open.
func TestWhereOneOfTwoEmergenciesIsTakenBackTheGroundIsNamedAsShut(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.turn("2026-07-20 12:00")
	k.text("2026-07-20 14:00", "Luis", "vaca muerta en lane")
	k.text("2026-07-20 14:05", "Luis", "vaca timpanizada en lane")
	said := k.text("2026-07-20 14:10", "Luis", "deshacer")
	i := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.TakenBack })
	if i < 0 {
		t.Fatalf("nobody hears that it was taken back: %+v", said)
	}
	if j := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.AnswerUndo }); len(said[j].Facts.(*ladder.UndoFacts).And) != 1 {
		t.Errorf("Luis does not hear that Lane stays shut: %+v", said[j].Facts)
	}
	if still := said[i].Facts.(*ladder.TakenBackFacts).Shuts; len(still) != 1 || still[0].Paddock != "lane" {
		t.Errorf("an emergency on Lane stands, and what stays shut is %+v", still)
	}
	said = k.text("2026-07-20 14:15", "Luis", "deshacer emergencia")
	if i = slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.TakenBack }); i < 0 {
		t.Fatalf("nobody hears that it was taken back: %+v", said)
	}
	if still := said[i].Facts.(*ladder.TakenBackFacts).Shuts; len(still) > 0 {
		t.Errorf("nothing shuts Lane any more, and it says that %+v stays shut", still)
	}
}

func TestAStrangersEmergencyIsPassedOnThreeADayAndNeverAnswered(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.turn("2026-07-20 12:00")
	facts := len(k.facts())
	var said []line
	for i := range 5 {
		at := k.when("2026-07-20 13:00").AddDate(0, 0, i/4)
		in := store.InRow{Row: int64(i + 1), Received: at, In: store.In{ID: fmt.Sprint(i), From: "+15555550199", Text: "dead cow by the road"}}
		kept := in.In
		kept.Text = "" // heard by this test and not by the pass
		if err := k.store.Accept(t.Context(), "sms", []store.In{kept}, "", at); err != nil {
			t.Fatal(err)
		}
		err := k.store.Update(t.Context(), at, func(tx *store.Tx) error { return k.sched.passOn(tx, in) })
		if err != nil {
			t.Fatal(err)
		}
		said = append(said, k.turn(at.Format("2006-01-02 15:04"))...)
	}
	count := map[string]int{}
	for _, l := range said {
		if l.Notice.Kind != ladder.PassedOn {
			continue
		}
		count[l.Notice.To]++
		if f := l.Facts.(*ladder.PassedFacts); f.Words != "dead cow by the road" || f.Who != "+15555550199" {
			t.Errorf("passed on %+v", f)
		}
	}
	if count["Ana"] != 4 || count["Ruth"] != 4 || len(count) != 2 { // three on the first day, one on the next
		t.Errorf("passed on %v", count)
	}
	if n := len(k.facts()); n != facts {
		t.Errorf("%d facts were written down", n-facts)
	}
}

func (k *talk) views() []season.View {
	k.t.Helper()
	return season.Look(k.sched.sight(diary.NewBook(k.facts()...), civil.DateOf(k.when("2026-07-22 12:00"))))
}

func (k *talk) view(id string) *season.View { return viewOf(k.views(), id) }

func TestAHerdThatGoesToToxicFescueInTheColdIsSpokenOfOnceAFall(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.turn("2026-10-01 12:00")
	on := func(at string) bool {
		said := k.text(at, "Ana", "on lane cows")
		for _, l := range said {
			if f, ok := l.Facts.(*ladder.RecordedFacts); ok {
				return f.Fescue
			}
		}
		t.Fatalf("no answer at %s: %v", at, said)
		return false
	}
	if on("2026-10-01 13:00") {
		t.Error("spoken of in warm weather")
	}
	k.text("2026-10-20 07:00", "Ana", "frost")
	k.text("2026-10-20 08:00", "Ana", "off lane")
	if !on("2026-11-10 08:00") {
		t.Error("not spoken of when they go there in the cold")
	}
	k.text("2026-11-12 08:00", "Ana", "off lane")
	if on("2026-11-20 08:00") {
		t.Error("spoken of a second time")
	}
}

func TestAStrangerIsPassedOnOnlyInAnEmergencyInEitherLanguage(t *testing.T) {
	for text, passed := range map[string]bool{"dead cow in lane": true, "vaca muerta en lane": true, "creek 9 8 11": false, "you won a prize": false} {
		k := newTalk(t, talkFarm)
		k.turn("2026-07-20 12:00")
		in := store.In{ID: "1", From: "+15555550199", Text: text}
		if err := k.store.Accept(t.Context(), "sms", []store.In{in}, "", k.when("2026-07-20 13:00")); err != nil {
			t.Fatal(err)
		}
		got := ofKind(k.turn("2026-07-20 13:00"), ladder.PassedOn)
		if (len(got) == 2) != passed || len(k.facts()) > 0 {
			t.Errorf("%q: passed on to %v, %d facts", text, got, len(k.facts()))
		}
	}
}
