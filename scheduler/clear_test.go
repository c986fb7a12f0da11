package scheduler

import (
	"slices"
	"strings"
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season/shut"
)

// causesIn are what an answer asks back to lift.
func causesIn(said []line) (all []ladder.Cleared) {
	for _, l := range said {
		for _, p := range l.Parts() {
			if f, ok := p.Facts.(*ladder.QuestionFacts); ok {
				all = append(all, f.Causes...)
			}
		}
	}
	return all
}

func TestAClearIsAskedBackOnceWithEveryCauseThatStandsAndItsDay(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-10-01 07:00", "Ana", "frost")
	k.text("2026-10-03 07:00", "Luis", "rebrote lane")
	said := k.text("2026-10-04 09:00", "Ana", "clear lane")
	if q := ask(said); q == nil || q.Why != diary.Lift || len(q.Choices) != 1 {
		t.Fatalf("asked %+v", q)
	}
	got := causesIn(said)
	if len(got) != 2 || got[0].Why != shut.Frost || got[0].N != 3 || got[0].Of != 14 || got[1].Why != shut.Regrowth || got[1].Of != 0 {
		t.Errorf("causes %+v", got)
	}
	if k.diaryOf() != "frost, regrowth lane" {
		t.Errorf("written down unasked: %s", k.diaryOf())
	}
	k.text("2026-10-04 09:02", "Ana", "a")
	if k.diaryOf() != "frost, regrowth lane, clear lane" {
		t.Errorf("after the letter: %s", k.diaryOf())
	}
}

func TestTheSameClearAgainLiftsAndANodDoesNot(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-10-01 07:00", "Ana", "frost")
	k.text("2026-10-04 09:00", "Ana", "clear lane")
	k.text("2026-10-04 09:01", "Ana", "ok")
	k.text("2026-10-04 09:02", "Ana", "yes")
	for _, f := range k.facts() {
		if f.Kind == diary.Clear {
			t.Fatal("a nod lifts a hold")
		}
	}
	k.text("2026-10-04 09:40", "Ana", "clear lane")
	if facts := k.facts(); facts[len(facts)-1].Kind != diary.Clear {
		t.Errorf("said twice: %s", k.diaryOf())
	}
}

func TestWhereNothingStandsAClearSaysSo(t *testing.T) {
	k := newTalk(t, talkFarm)
	if q := ask(k.text("2026-07-04 09:00", "Ana", "clear lane")); q == nil || q.Why != diary.NothingShut || len(q.Choices) > 0 {
		t.Errorf("asked %+v", q)
	}
	if k.diaryOf() != "" {
		t.Errorf("written down: %s", k.diaryOf())
	}
}

// Ground that is short of its plants' safe height is opened by a height alone: that no
// hold stands would be read as that it is safe.
func TestWhereNoLookLiftsWhatShutsTheGroundAClearSaysWhatDoes(t *testing.T) {
	k := newTalk(t, strings.Replace(talkFarm, "grass: tall fescue, hazard_plants: [johnsongrass]", "grass: johnsongrass", 1))
	k.text("2026-07-04 09:00", "Ana", "lane 12 12 13 12 12")
	said := k.text("2026-07-04 09:05", "Ana", "clear lane")
	i := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.AnswerAsk })
	if i < 0 {
		t.Fatalf("no answer: %+v", said)
	}
	if w := said[i].Facts.(*ladder.QuestionFacts).Wait; w == nil || w.Why != shut.Low {
		t.Errorf("what shuts Lane is %+v", w)
	}
}

func TestTheOwnerLiftsAHoldOnlyWhereNoManagerCouldBeReachedForADay(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-10-01 07:00", "Luis", "helada")
	if q := ask(k.text("2026-10-02 08:00", "Ruth", "clear lane")); q == nil || q.Why != diary.NotAllowed {
		t.Fatalf("Ana can be reached, and the owner is asked %+v", q)
	}
	k.text("2026-10-02 09:00", "Ana", "stop")
	ana, _ := k.farm.Contact("Ana")
	k.suppress("2026-10-02 09:01", ana.Name, ana.Email)
	if q := ask(k.text("2026-10-03 08:00", "Ruth", "clear lane")); q == nil || q.Why != diary.NotAllowed {
		t.Errorf("23 hours after she opted out the owner is asked %+v", q)
	}
	if q := ask(k.text("2026-10-03 09:30", "Ruth", "clear lane")); q == nil || q.Why != diary.Lift {
		t.Errorf("a day after she opted out the owner is asked %+v", q)
	}
}
