package scheduler

import (
	"testing"

	"stubbled/scheduler/ladder"
)

// TestABareNumberIsTakenOnlyWhereOnePaddockIsAskedAbout: nothing is ever guessed
// into the diary.
func TestABareNumberIsTakenOnlyWhereOnePaddockIsAskedAbout(t *testing.T) {
	for _, tc := range []struct {
		name  string
		play  func(k *talk)
		at    string
		diary string
	}{
		{"the heads-up asks about Creek and Hill", func(k *talk) { k.play("2026-08-22 06:30", "2026-08-22 07:00") }, "2026-08-22 08:00", ""},
		{"Hill was answered, Creek waits; that Mill is to be kept shut asks nothing", func(k *talk) {
			k.play("2026-08-22 06:30", "2026-08-22 07:00")
			k.text("2026-08-22 07:10", "Ana", "hill 12 11")
		}, "2026-08-22 10:00", "reading hill 12 11, reading creek 9"},
		{"two days later it still waits", func(k *talk) {
			k.play("2026-08-22 06:30", "2026-08-22 07:00")
			k.text("2026-08-22 07:10", "Ana", "hill 12 11")
		}, "2026-08-24 10:00", "reading hill 12 11, reading creek 9"},
		{"after 72 hours it does not", func(k *talk) {
			k.play("2026-08-22 06:30", "2026-08-22 07:00")
			k.text("2026-08-22 07:10", "Ana", "hill 12 11")
		}, "2026-08-25 10:00", "reading hill 12 11"},
		{"a question that went out after the text was sent was not what it answers", func(k *talk) {}, "2026-08-22 07:00", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			k := newTalk(t, talkFarm)
			tc.play(k)
			sent := tc.at
			if tc.at == "2026-08-22 07:00" {
				k.play("2026-08-22 06:30", "2026-08-22 06:30")
				sent = "2026-08-22 06:10"
			}
			said := k.text(tc.at, "Ana", "9", sent)
			if got := k.diaryOf(); got != tc.diary {
				t.Errorf("the diary has %q, want %q", got, tc.diary)
			}
			if asked := ask(said) != nil; asked == (tc.diary != "" && tc.at != "2026-08-25 10:00") {
				t.Errorf("asked back: %v", asked)
			}
		})
	}
}

func TestBareNumbersAddPlantsForTwoHours(t *testing.T) {
	for _, tc := range []struct{ name, first, at, diary string }{
		{"within two hours", "creek 9 8", "2026-07-15 09:50", "reading creek 9 8, reading creek 11"},
		{"not after", "creek 9 8", "2026-07-15 10:10", "reading creek 9 8"},
		{"not where the text before read two paddocks", "creek 9 8; hill 12", "2026-07-15 08:20", "reading creek 9 8, reading hill 12"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			k := newTalk(t, talkFarm)
			k.text("2026-07-15 08:00", "Ana", tc.first)
			k.text(tc.at, "Ana", "11")
			if got := k.diaryOf(); got != tc.diary {
				t.Errorf("the diary has %q, want %q", got, tc.diary)
			}
		})
	}
}

func TestAnOkConfirmsTheNewestOpenQuestionAndElseIsANod(t *testing.T) {
	for _, tc := range []struct {
		name, from, at, sent string
		diary                string
		asked                bool
		repeated             int
	}{
		// The move plan of Aug 30 is about Creek and Hill, to Ana and Luis.
		{"to the text about both paddocks", "2026-08-30 06:30", "2026-08-30 08:00", "2026-08-30 08:00", "ack creek, ack hill", false, 0},
		{"with nothing asked", "2026-08-30 06:00", "2026-08-30 06:00", "2026-08-30 06:00", "", false, 4},
		{"twelve hours after the repeat", "2026-08-30 06:30", "2026-08-30 23:00", "2026-08-30 23:00", "", false, 0},
		{"half a day late on its way", "2026-08-30 06:30", "2026-08-30 20:00", "2026-08-30 07:30", "", true, 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			k := newTalk(t, talkFarm)
			k.play(tc.from, tc.at)
			said := k.text(tc.at, "Ana", "ok", tc.sent)
			if asked := ask(said) != nil; asked != tc.asked || len(ofKind(said, ladder.AnswerRecorded)) > 0 {
				t.Errorf("an ok was answered: %v", said)
			}
			if got := k.diaryOf(); got != tc.diary {
				t.Errorf("the diary has %q, want %q", got, tc.diary)
			}
			again := 0
			for _, l := range k.play(tc.at, "2026-08-30 23:30") {
				if f, ok := l.Facts.(*ladder.RungFacts); ok && f.Repeat {
					again++
				}
			}
			if again != tc.repeated {
				t.Errorf("said again %d times, want %d", again, tc.repeated)
			}
		})
	}
}

func TestAQuestionBackIsRememberedForTwelveHours(t *testing.T) {
	for _, tc := range []struct {
		name   string
		before func(k *talk)
		at     string
		diary  string
	}{
		{"the letter alone", func(*talk) {}, "2026-08-22 08:05", "reading hill 9"},
		{"after a look at the status", func(k *talk) { k.text("2026-08-22 08:02", "Ana", "status") }, "2026-08-22 08:05", "reading hill 9"},
		{"hours later", func(*talk) {}, "2026-08-22 19:30", "reading hill 9"},
		{"the next day no more", func(*talk) {}, "2026-08-22 20:30", ""},
		{"not once it was answered in full", func(k *talk) { k.text("2026-08-22 08:02", "Ana", "creek 9") }, "2026-08-22 08:05", "reading creek 9"},
		{"not twice", func(k *talk) { k.text("2026-08-22 08:02", "Ana", "b") }, "2026-08-22 08:05", "reading hill 9"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			k := newTalk(t, talkFarm)
			k.play("2026-08-22 06:30", "2026-08-22 07:00")
			q := ask(k.text("2026-08-22 08:00", "Ana", "9"))
			if q == nil || len(q.Choices) != 2 || q.Choices[1].Name != "Hill" {
				t.Fatalf("asked back %+v, want Creek Bottom or Hill", q)
			}
			tc.before(k)
			k.text(tc.at, "Ana", "b")
			if got := k.diaryOf(); got != tc.diary {
				t.Errorf("the diary has %q, want %q", got, tc.diary)
			}
		})
	}
}

func TestAnAnswerGoesTheWayTheTextCame(t *testing.T) {
	ana := ladder.Contact{Phone: "+15555550142", Email: "Ana@Example.org"}
	if got := medium("email", ana, "ana@example.org"); got != ladder.Mail {
		t.Errorf("a mail is answered by %s", got)
	}
	if got := medium("sms", ana, "+15555550142"); got != ladder.Text {
		t.Errorf("a text is answered by %s", got)
	}
}

func TestALaterThatNamesNoPaddockIsAboutTheNewestQuestion(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.play("2026-08-30 06:30", "2026-08-30 07:00") // move Creek and Hill
	k.text("2026-08-30 08:00", "Ana", "later")
	if got := k.diaryOf(); got != "later creek, later hill" {
		t.Errorf("the diary has %q", got)
	}
}
