package scheduler

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store"
)

func answersIn(said []line) (n int) {
	for _, l := range said {
		if l.Notice.Kind.Answer() {
			n++
		}
	}
	return n
}

// A phone that says 'driving' to every text, and a daemon that is told ours is a
// person: neither is answered without end, and the manager hears of it once.
func TestAMachineThatAnswersIsNotAnsweredWithoutEnd(t *testing.T) {
	for name, machine := range map[string]struct {
		says func(i int) string
		most int
	}{
		"the same each time: twice an hour": {func(int) string { return "I'm driving right now. I'll get back to you when I stop." }, 2},
		"another daemon: 20 an hour":        {func(i int) string { return fmt.Sprintf("Creek: %d in. Text: creek 10 8 %d", i, i) }, 20},
		"stop and start: 20 an hour":        {func(i int) string { return []string{"stop", "start"}[i%2] }, 20},
		"readings are written down":         {func(i int) string { return fmt.Sprint("creek ", 5+i%9) }, 20},
	} {
		k := newTalk(t, talkFarm)
		answers, alarms := 0, 0
		for i := range 94 {
			said := k.text(k.when("2026-08-22 09:00").Add(time.Duration(i)*30*time.Second).Format("2006-01-02 15:04"), "Luis", machine.says(i))
			answers += answersIn(said)
			alarms += len(ofKind(said, ladder.Alarm))
		}
		if answers > machine.most || answers < 2 {
			t.Errorf("%s: %d answers to 94 texts, want at most %d", name, answers, machine.most)
		}
		if alarms += len(ofKind(k.turn("2026-08-22 09:48"), ladder.Alarm)); alarms != 1 {
			t.Errorf("%s: told %d times", name, alarms)
		}
		if strings.HasPrefix(name, "readings") && len(k.facts()) != 94 {
			t.Errorf("%d of 94 readings are in the diary", len(k.facts()))
		}
	}
}

func TestAMachineThatAnswersAllDayGetsSixtyAnswers(t *testing.T) {
	k := newTalk(t, talkFarm)
	answers := 0
	for i := range 200 {
		answers += answersIn(k.text(k.when("2026-08-22 00:00").Add(time.Duration(i)*7*time.Minute).Format("2006-01-02 15:04"), "Luis", fmt.Sprint("creek ", 5+i%9)))
	}
	if answers != 60 {
		t.Errorf("%d answers in a day, want 60", answers)
	}
}

// The counterpart: who reads a farm's paddocks in one round is answered each time,
// and an hour later a silenced one is heard and answered again.
func TestWhoReadsARoundOfPaddocksIsAnsweredEachTime(t *testing.T) {
	k := newTalk(t, talkFarm)
	for i := range 18 {
		at := k.when("2026-08-22 09:00").Add(time.Duration(i) * time.Minute).Format("2006-01-02 15:04")
		if said := k.text(at, "Ana", fmt.Sprintf("%s %d", []string{"creek", "hill", "mill"}[i%3], 9+i)); answersIn(said) != 1 {
			t.Errorf("text %d got %d answers", i, answersIn(said))
		}
	}
	for range 3 {
		k.text("2026-08-22 09:30", "Luis", "out of office until the 14th")
	}
	if n := answersIn(k.text("2026-08-22 11:00", "Luis", "out of office until the 14th")); n != 1 {
		t.Errorf("%d answers after an hour", n)
	}
}

// On the morning after a storm every hand reports a fence; the manager, whom all of it
// was passed on to, is no machine.
func TestWhoWasToldWhatManyOthersTextedIsStillAnswered(t *testing.T) {
	k := newTalk(t, talkFarm)
	passed := 0
	for i := range 25 {
		at := k.when("2026-08-22 06:00").Add(time.Duration(i) * time.Minute).Format("2006-01-02 15:04")
		passed += len(ofKind(k.text(at, "Luis", "fence down "+[]string{"creek", "hill", "mill"}[i%3]), ladder.PassedOn))
	}
	if passed < mostAnHour {
		t.Fatalf("only %d reports were passed on", passed)
	}
	if n := answersIn(k.text("2026-08-22 06:30", "Ana", "creek 9")); n != 1 {
		t.Errorf("Ana's own first text got %d answers", n)
	}
}

// mail hears a mail with a name above it, and says what follows.
func (k *talk) mail(at, name, words string, how func(*store.In)) []line {
	k.t.Helper()
	c, _ := k.farm.Contact(name)
	k.texts++
	in := store.In{ID: fmt.Sprint("mail", k.texts), From: c.Email, Contact: name, Text: words, Sent: k.when(at)}
	how(&in)
	if err := k.store.Accept(k.t.Context(), "email", []store.In{in}, "", k.when(at)); err != nil {
		k.t.Fatal(err)
	}
	return k.turn(at)
}

const mailFarm = talkFarm + `
  - {name: Cole, role: owner, email: cole@example.org}
`

func (k *talk) optedOut() (all []string) {
	k.t.Helper()
	out, err := k.store.OptOuts(k.t.Context())
	if err != nil {
		k.t.Fatal(err)
	}
	for _, o := range out {
		all = append(all, o.Address)
	}
	slices.Sort(all)
	return all
}

// Whoever can write a name above a mail can silence nobody with it.
func TestAStopByMailGoesAsFarAsItProvesItself(t *testing.T) {
	const anasMail, anasPhone, coles = "ana@example.org", "+15555550142", "cole@example.org"
	unproved := func(in *store.In) { in.StopOnly = true }
	held := func(in *store.In) { in.StopOnly, in.InReplyTo = true, "o-17" }
	proved := func(in *store.In) { in.InReplyTo = "o-17" }
	for _, tt := range []struct {
		name, who string
		how       func(*store.In)
		stops     []string
		by        ladder.Medium
	}{
		{"a name above a mail stops mail alone, and the phone hears of it", "Ana", unproved, []string{anasMail}, ladder.Text},
		{"so does one that holds our token and whose check failed", "Ana", held, []string{anasMail}, ladder.Text},
		{"a mail that proves itself stops everything", "Ana", proved, []string{anasPhone, anasMail}, ladder.Mail},
		{"who has mail alone is asked by mail whether it is so", "Cole", unproved, nil, ladder.Mail},
		{"and the answer to that, with its token, stops it", "Cole", held, []string{coles}, ladder.Mail},
	} {
		k := newTalk(t, mailFarm)
		said := k.mail("2026-08-22 09:00", tt.who, "stop", tt.how)
		if got := k.optedOut(); !slices.Equal(got, tt.stops) {
			t.Errorf("%s: stopped %v, want %v", tt.name, got, tt.stops)
		}
		i := slices.IndexFunc(said, func(l line) bool { return l.Notice.Kind == ladder.AnswerStop })
		if i < 0 || said[i].Notice.Medium != tt.by || said[i].Notice.To != tt.who {
			t.Errorf("%s: said %v, want a word by %s", tt.name, said, tt.by)
		}
		if told := ofKind(said, ladder.StopTold); (len(told) > 0) != (len(tt.stops) == 2 || tt.who == "Cole" && len(tt.stops) == 1) {
			t.Errorf("%s: the others were told %v", tt.name, told)
		}
		again := k.mail("2026-08-22 09:05", tt.who, "stop", tt.how)
		if n := len(ofKind(again, ladder.AnswerStop)); n > 0 && tt.stops != nil {
			t.Errorf("%s: confirmed again", tt.name)
		}
	}
}

func TestAForgedMailSilencesNoReminder(t *testing.T) {
	k := newTalk(t, talkFarm)
	k.mail("2026-08-22 09:00", "Ana", "stop", func(in *store.In) { in.StopOnly = true })
	if due := k.play("2026-08-22 09:30", "2026-09-01 09:00"); !slices.ContainsFunc(due, func(l line) bool {
		return l.Notice.To == "Ana" && l.Notice.Kind == ladder.ShutToday && l.Notice.Medium == ladder.Text
	}) {
		t.Error("the manager's phone is silent after a forged mail")
	}
	if n := len(ofKind(k.text("2026-09-01 10:00", "Ana", "start"), ladder.AnswerStart)); n != 1 || len(k.optedOut()) != 0 {
		t.Errorf("START from the phone brings %d answers, %v still stopped", n, k.optedOut())
	}
}
