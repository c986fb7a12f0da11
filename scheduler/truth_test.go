package scheduler

import (
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

func answered(said []line) *ladder.RecordedFacts {
	for _, l := range said {
		for _, p := range l.Parts() {
			if f, ok := p.Facts.(*ladder.RecordedFacts); ok {
				return f
			}
		}
	}
	return nil
}

func TestTheRestIsCountedFromTheDayTheAnimalsLeft(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-09-20 18:00", "Ana", "off creek")
	for _, l := range k.text("2026-09-21 08:00", "Ana", "status creek") {
		for _, p := range l.Parts() {
			if f, ok := p.Facts.(*ladder.StatusFacts); ok && f.Shuts[0].RestDay != 1 {
				t.Errorf("rest day %d the morning after they left", f.Shuts[0].RestDay)
			}
		}
	}
}

func TestThatRestIsNotOverIsSaidOnlyWhereARestIsRunning(t *testing.T) {
	k := newTalk(t, talkFarm)
	if f := answered(k.text("2026-05-10 07:00", "Ana", "frost")); f == nil || f.RestGoesOn {
		t.Errorf("a frost in May: %+v", f)
	}
	if f := answered(k.text("2026-10-02 07:00", "Ana", "frost")); f == nil || !f.RestGoesOn {
		t.Errorf("a frost in October: %+v", f)
	}
}

func TestBrownTopsBeforeAnyFrostAreNotedAndFrostIsAskedAbout(t *testing.T) {
	k := newTalk(t, talkFarm)
	if f := answered(k.text("2026-09-10 07:00", "Ana", "brown creek")); f == nil || !f.RestGoesOn || f.Recorded[0].Kind != diary.Brown {
		t.Errorf("%+v", f)
	}
	k.text("2026-09-28 07:00", "Ana", "frost")
	if f := answered(k.text("2026-09-29 07:00", "Ana", "brown creek")); f == nil || f.RestGoesOn {
		t.Errorf("after a frost: %+v", f)
	}
}
