package ladder

import (
	"testing"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"
)

// Every shape that was ever stored, as text: a row of an older version must stay
// the row that it was.
func TestAKeyOfEveryShapeIsReadAndWrittenAsItWas(t *testing.T) {
	for _, c := range []struct {
		text string
		want Key
	}{
		{"creek/2026-09-01/-/10/0/Ana/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{Kind: "-"}, Rung: "10", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"creek/2026-09-01/on12/2/late3/Ana/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{"on", 12}, Rung: "2", Repeat: "late3", Contact: "Ana", Medium: Text}},
		{"creek/2026-09-01/on12/2/later40/Ana/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{"on", 12}, Rung: "2", Repeat: "later40", Contact: "Ana", Medium: Text}},
		{"creek/2026-09-01/empty/0/0/Ana/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{Kind: "empty"}, Rung: "0", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"creek/2026-09-01/-/0/0/Ana/text/again", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{Kind: "-"}, Rung: "0", Repeat: "0", Contact: "Ana", Medium: Text, Again: true}},
		{"creek/2026-09-01/on12/day3/0/Ruth/mail", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{"on", 12}, Rung: "day3", Repeat: "0", Contact: "Ruth", Medium: Mail}},
		{"creek/2026-09-01/later9/next/0/Ruth/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{"later", 9}, Rung: "next", Repeat: "0", Contact: "Ruth", Medium: Text}},
		{"creek/2026-09-01/use/ask2/0/Ana/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{Kind: "use"}, Rung: "ask2", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"creek/2026-09-01/use/out31/0/Ana/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{Kind: "use"}, Rung: "out31", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"creek/2026-09-01/-/height/mid-rest/Ana/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{Kind: "-"}, Rung: "height", Repeat: "mid-rest", Contact: "Ana", Medium: Text}},
		{"lane/2026-10-07/hold5/hold-begins/1/Ana/text", Key{Of: "lane", Day: "2026-10-07", Cause: Cause{"hold", 5}, Rung: "hold-begins", Repeat: "1", Contact: "Ana", Medium: Text}},
		{"creek/2026-10-20/freeze7/over/0/Ana/text", Key{Of: "creek", Day: "2026-10-20", Cause: Cause{"freeze", 7}, Rung: "over", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"creek/2027-01-01/year/result/0/Ana/text", Key{Of: "creek", Day: "2027-01-01", Cause: Cause{Kind: "year"}, Rung: "result", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"lane/2026-10-02/forecast/0/0/Ana/text", Key{Of: "lane", Day: "2026-10-02", Cause: Cause{Kind: "forecast"}, Rung: "0", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"creek/2026-09-04/2026-09-01/moved/0/Ana/text", Key{Of: "creek", Day: "2026-09-04", Cause: Cause{Kind: "2026-09-01"}, Rung: "moved", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"farm/2026/-/60/0/Ana/mail", Key{Of: "farm", Day: "2026", Cause: Cause{Kind: "-"}, Rung: "60", Repeat: "0", Contact: "Ana", Medium: Mail}},
		{"farm/killing-freeze/7/0/0/Ana/text", Key{Of: "farm", Day: "killing-freeze", Cause: Cause{Fact: 7}, Rung: "0", Repeat: "0", Contact: "Ana", Medium: Text}},
		{"farm/2026-09-07/monday/Ana", Key{Of: "farm", Day: "2026-09-07", Cause: Cause{Kind: "monday"}, Contact: "Ana"}},
		{"farm/2026-09-07/alive/Ana", Key{Of: "farm", Day: "2026-09-07", Cause: Cause{Kind: "alive"}, Contact: "Ana"}},
		{"creek/2027-01-15/lessons/Ana", Key{Of: "creek", Day: "2027-01-15", Cause: Cause{Kind: "lessons"}, Contact: "Ana"}},
		{"enrol/Ana/+15555550142", Key{Of: "enrol", Contact: "Ana", What: "+15555550142"}},
		{"farm-file/0a1b2c/Ana", Key{Of: "farm-file", What: "0a1b2c", Contact: "Ana"}},
		{"alarm/sms-down/2026-09-01T06:30/Ana/mail", Key{Of: "alarm", What: "sms-down", Day: "2026-09-01T06:30", Contact: "Ana", Medium: Mail}},
		{"opted-out/Luis/1788260000/Ana", Key{Of: "opted-out", What: "Luis", Day: "1788260000", Contact: "Ana"}},
		{"taken-back/12/Ana", Key{Of: "taken-back", Cause: Cause{Fact: 12}, Contact: "Ana"}},
		{"answer/12", AnswerKey(12)},
		{"answer/waits12", WaitsKey(12)},
		{"farm/2026-09-07/passed2/Ana", PassedKey(civil.Date{Year: 2026, Month: 9, Day: 7}, 2, "Ana")},
		{"farm/2026-09-07/note12/Ana", NoteKey(civil.Date{Year: 2026, Month: 9, Day: 7}, 12, "Ana")},
		{"creek/2026-09-01/0/heads-up/1/Ana/text", Key{Of: "creek", Day: "2026-09-01", Cause: Cause{Kind: "0"}, Rung: "heads-up", Repeat: "1", Contact: "Ana", Medium: Text}},
		{"of a later version/x", Key{Of: "of a later version/x"}},
	} {
		if got := ParseKey(c.text); got != c.want || got.String() != c.text {
			t.Errorf("%s: read as %+v, written as %s", c.text, got, got)
		}
	}
}

func TestWhatIsBegunWithoutAContactBeginsTheKeysOfATrouble(t *testing.T) {
	if got := (Key{Of: ofAlarm, What: "sms-down", Day: "2026-09-01T06:30"}).String(); got != "alarm/sms-down/2026-09-01T06:30" {
		t.Error(got)
	}
}

func TestNoKeyIsLostByReadingIt(t *testing.T) {
	part := rapid.SampledFrom([]string{"", "0", "1", "on12", "on012", "12", "-", "2026-09-01", "creek", "Ana", "text", "again", ofFarm, ofAlarm, ofEnrolment, ofFarmFile, ofOptOut, ofTakenBack, ofAnswer, "99999999999999999999"})
	rapid.Check(t, func(r *rapid.T) {
		text := join(rapid.SliceOfN(part, 1, 9).Draw(r, "parts")...)
		if got := ParseKey(text).String(); got != text {
			r.Fatalf("%q is written as %q", text, got)
		}
	})
}

// What the ladder makes is what it reads back, or it would say it again.
func TestEveryKeyOfAFallIsReadAsItWasMade(t *testing.T) {
	s := newStage(t)
	s.play("2026-06-20 00:00", "2027-02-01 00:00")
	for _, r := range s.said {
		if got := ParseKey(r.Key.String()); got != r.Key {
			t.Errorf("%s is read as %+v, made as %+v", r.Key, got, r.Key)
		}
	}
	if len(s.said) < 20 {
		t.Fatalf("a whole fall, and only %d things said", len(s.said))
	}
}
