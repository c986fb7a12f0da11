package scheduler

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// froze is an instrument's minimum of a night.
func (k *talk) froze(at, source string, c float64) {
	k.t.Helper()
	when := k.when(at)
	o := diary.Observation{Source: source, Place: source, At: when, Day: civil.DateOf(when), MinC: c}
	if err := k.store.Observe(k.t.Context(), []diary.Observation{o}, when); err != nil {
		k.t.Fatal(err)
	}
}

func TestUndoFrostTakesTheWholeNightBackAndItDoesNotComeAgain(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.froze("2026-10-07 05:00", diary.FromThermometer, 1)
	k.froze("2026-10-07 06:00", diary.FromService, 0.5)
	k.turn("2026-10-07 08:00")
	k.text("2026-10-07 09:00", "Luis", "helada")
	k.text("2026-10-07 10:00", "Ana", "undo frost")
	if got := k.diaryOf(); got != "frost, frost, frost, void, void, void" {
		t.Fatalf("the diary has %q", got)
	}
	k.froze("2026-10-07 07:00", diary.FromRecord, 0)
	k.turn("2026-10-08 09:00")
	if got := strings.Count(k.diaryOf(), "frost"); got != 3 {
		t.Errorf("the station's record brings the frost of that day back")
	}
	k.froze("2026-10-09 05:00", diary.FromThermometer, -1)
	k.turn("2026-10-09 08:00")
	if got := strings.Count(k.diaryOf(), "frost"); got != 4 {
		t.Errorf("a frost of another day is not written down")
	}
}

func TestUndoOfAKindTakesBackTheNewestOfThatKindAndNothingElse(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-10-07 08:00", "Ana", "rain 0.8")
	k.text("2026-10-07 08:10", "Luis", "rain 0.5")
	k.text("2026-10-07 09:00", "Ana", "dry")
	k.text("2026-10-07 10:00", "Ana", "creek 9")
	k.text("2026-10-07 11:00", "Ana", "undo rain")
	if got := k.diaryOf(); got != "rain, rain, dry, reading creek 9, void" {
		t.Fatalf("the diary has %q", got)
	}
	facts := k.facts()
	if last := facts[len(facts)-1]; last.Voids != facts[0].ID {
		t.Errorf("fact %d was taken back, not Ana's rain, which is %d", last.Voids, facts[0].ID)
	}
	k.text("2026-10-07 12:00", "Ana", "undo dry")
	facts = k.facts()
	if last := facts[len(facts)-1]; last.Voids != facts[2].ID {
		t.Errorf("fact %d was taken back, not the drought, which is %d", last.Voids, facts[2].ID)
	}
	k.text("2026-10-07 13:00", "Ana", "undo dry")
	if got := len(k.facts()); got != len(facts) {
		t.Errorf("a second undo of the drought took something else back: %s", k.diaryOf())
	}
}

func TestUndoGoesBackTextByTextForAWeek(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-10-05 08:00", "Ana", "lane 5")
	k.text("2026-10-13 09:00", "Ana", "creek 14, off hill")
	k.text("2026-10-13 09:01", "Luis", "creek 9")
	k.text("2026-10-13 09:02", "Ana", "creek 8")
	k.text("2026-10-13 09:03", "Ana", "status") // writes nothing down
	for i, want := range []string{"reading creek 8", "reading creek 14, off hill", ""} {
		before := len(k.facts())
		k.text(fmt.Sprintf("2026-10-13 09:1%d", i), "Ana", "undo")
		var got []string
		for _, v := range k.facts()[before:] {
			for _, f := range k.facts() {
				if f.ID == v.Voids {
					got = append(got, inShort(f))
				}
			}
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("undo %d takes back %q, want %q", i, got, want)
		}
	}
}

func TestAFrostTakenBackSaysWhatStaysHeld(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-10-07 07:00", "Ana", "frost")
	said := k.text("2026-10-07 07:30", "Ana", "undo")
	i := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.AnswerUndo })
	if i < 0 {
		t.Fatalf("nothing was taken back: %+v", said)
	}
	and := said[i].Facts.(*ladder.UndoFacts).And
	if len(and) != 1 || len(and[0].Facts.(*ladder.StatusFacts).Shuts) != 1 || and[0].Facts.(*ladder.StatusFacts).Shuts[0].Paddock != "lane" {
		t.Errorf("the hold on Lane stays until Ana has looked, and it says %+v", said)
	}
}

func TestAMistakenWordOfFrostDoesNotHideTheThermometers(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.text("2026-10-07 07:00", "Luis", "helada")
	k.text("2026-10-07 07:05", "Luis", "deshacer")
	k.froze("2026-10-07 07:30", diary.FromThermometer, 1)
	k.turn("2026-10-07 08:00")
	if got := k.diaryOf(); got != "frost, void, frost" {
		t.Errorf("the diary has %q", got)
	}
}

func TestAFrostThatIsEnoughByTheFarmsRuleSaysSoInItsAnswer(t *testing.T) {
	for _, tc := range []struct {
		name, rule string
		over       bool
		told       []string
	}{
		{"rest ends at 32 F", "rest: {ends_at: 32F}\n", true, nil},
		{"rest ends at 28 F", "", false, nil},
		{"one paddock's rule is 32 F", "", false, []string{"Ana rest-over creek"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			farm := tc.rule + talkFarm
			if tc.told != nil {
				farm = strings.Replace(farm, "22 acres", "22 acres, rest: {ends_at: 32F}", 1)
			}
			k := newTalk(t, farm)
			k.text("2026-08-25 08:00", "Ana", "off creek; off hill")
			k.play("2026-10-20 06:30", "2026-10-20 07:00")
			said := k.text("2026-10-20 07:30", "Ana", "frost")
			i := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.AnswerRecorded })
			if i < 0 {
				t.Fatalf("no answer in %v", said)
			}
			if cold := said[i].Facts.(*ladder.RecordedFacts).FrostSeen; (cold != nil && cold.RestOver) != tc.over {
				t.Errorf("the answer says rest is over: %v", !tc.over)
			}
			if got := ofKind(said, ladder.RestOver); !slices.Equal(got, tc.told) {
				t.Errorf("told besides: %v, want %v", got, tc.told)
			}
		})
	}
}

func TestWhereEverybodyOptedOutHealthIsRed(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.sched.SetHealth(ladder.Health{OK: true})
	k.text("2026-08-20 09:00", "Luis", "STOP")
	k.text("2026-08-20 09:05", "Ruth", "STOP")
	said := k.text("2026-08-20 09:10", "Ana", "STOP")
	if len(said) != 1 || said[0].Facts.(*ladder.AnswerFacts).Alarm != ladder.AlarmNobodyLeft {
		t.Errorf("the last one's confirmation says %v", said)
	}
	red := slices.ContainsFunc(k.sched.Troubles(), func(t ladder.Trouble) bool { return t.What == ladder.AlarmNobodyLeft })
	if h := k.sched.wellbeing(); h.OK || !red {
		t.Errorf("nobody is left and health says %+v", h)
	}
	k.text("2026-08-20 10:00", "Ana", "START")
	if h := k.sched.wellbeing(); !h.OK {
		t.Errorf("Ana is back and health says %+v", h)
	}
}

func TestAMailAddressIsOneHoweverItIsWritten(t *testing.T) {
	k := newTalk(t, talkFarm) // Ana@Example.org; the store keeps ana@example.org
	k.text("2026-08-20 09:00", "Ana", "stop")
	if got := ofKind(k.turn("2026-08-20 09:30"), ladder.StopTold); len(got) > 0 {
		t.Errorf("told twice: %v", got)
	}
	said := k.play("2026-08-22 06:30", "2026-08-22 07:00")
	if got := ofKind(said, ladder.HeadsUp); !slices.Equal(got, []string{"Luis heads-up creek", "Luis heads-up hill"}) {
		t.Errorf("in Ana's place it tells %v", got)
	}
}

// A fall's minimum sinks about 0.4 F a day (assumption): a pocket five days early has
// frost at 38 F and not at 38.1 F, and none is told of the farm.
func TestAMinimumUpTo38FIsAFrostInAPocketFiveDaysEarly(t *testing.T) {
	k := newTalk(t, strings.Replace(talkFarm, "hazard_plants: [johnsongrass]}", "hazard_plants: [johnsongrass], frost_offset: -5 days}", 1))
	k.froze("2026-10-03 05:00", diary.FromThermometer, (38.1-32)/1.8)
	k.turn("2026-10-03 08:00")
	if got := k.diaryOf(); got != "" {
		t.Fatalf("38.1 F: the diary has %q", got)
	}
	k.froze("2026-10-05 05:00", diary.FromThermometer, (38.0-32)/1.8)
	said := k.turn("2026-10-05 08:00")
	if got := k.diaryOf(); got != "frost lane" {
		t.Fatalf("38 F: the diary has %q", got)
	}
	if got := ofKind(said, ladder.HoldBegins); !slices.Contains(got, "Ana hold-begins lane") {
		t.Errorf("of the hold is told %v", got)
	}
	if got := ofKind(said, ladder.FrostSeen, ladder.FreezeSeen, ladder.KillingFreeze); len(got) > 0 {
		t.Errorf("a frost of the farm is told: %v", got)
	}
}
