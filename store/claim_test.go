package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/ladder"
)

func TestWhatIsUrgentIsClaimedFirstThenAnswersThenTheLongestDue(t *testing.T) {
	s := fresh(t)
	early, late, hot, future := notice(ladder.HeadsUp, "creek", "Ana"), notice(ladder.LastLook, "creek", "Ana"), notice(ladder.HoldBegins, "lane", "Ana"), notice(ladder.MovePlan, "creek", "Ana")
	early.NotBefore, hot.Urgent, future.NotBefore = sep1.Add(-time.Hour), true, sep1.Add(time.Minute)
	in := heard(t, s, "1", "Ana", "status", sep1)
	reconcile(t, s, sep1, late, early, hot, future)
	update(t, s, sep1, func(x *Tx) error { _, err := x.Answer(answer(ladder.AnswerStatus, in)); return err })
	var got []string
	for m := claim(t, s, sep1, bySMS(Unsafe)); m != nil; m = claim(t, s, sep1, bySMS(Unsafe)) {
		got = append(got, string(m.Kind))
	}
	if want := "hold-begins answer-status heads-up last-look"; strings.Join(got, " ") != want {
		t.Errorf("got %v, want %s", got, want)
	}
	if at, err := s.NextDue(ctx, sep1); !at.Equal(future.NotBefore) || err != nil {
		t.Errorf("next due %v, %v", at, err)
	}
}

func TestSixPaddocksAreOneText(t *testing.T) {
	s := fresh(t)
	var wanted []ladder.Notice
	for _, p := range []string{"creek", "hill", "lane", "north", "south", "west"} {
		wanted = append(wanted, notice(ladder.ShutToday, p, "Ana"))
	}
	other, mail := notice(ladder.ShutToday, "creek", "Luis"), notice(ladder.ShutToday, "creek", "Ana")
	mail.Medium, mail.Key.Medium = ladder.Mail, ladder.Mail
	reconcile(t, s, sep1, append(wanted, other, mail, notice(ladder.Overdue, "old", "Ana"))...)
	var got []string
	for m := claim(t, s, sep1, bySMS(Unsafe)); m != nil; m = claim(t, s, sep1, bySMS(Unsafe)) {
		got = append(got, m.ToName+": "+m.Text)
		if len(m.Notices) != strings.Count(m.Text, " ") {
			t.Errorf("%q of %d notices", m.Text, len(m.Notices))
		}
	}
	want := "Ana: shut-today creek hill lane north south west|Luis: shut-today creek|Ana: overdue old"
	if strings.Join(got, "|") != want {
		t.Errorf("got  %q\nwant %q", strings.Join(got, "|"), want)
	}
}

func TestADaysWorkLeavesRoomForTheOneRepeat(t *testing.T) {
	for _, tc := range []struct {
		name  string
		kinds []ladder.Kind
		want  string // the kind of each text, and of how many notices
	}{
		{"two texts are two", []ladder.Kind{ladder.ShutToday, ladder.KeepShut}, "shut-today 1, keep-shut 1"},
		{"of four what comes off is one and what is walked another", []ladder.Kind{ladder.KeepShut, ladder.MovePlan, ladder.Overdue, ladder.AskHeight}, "keep-shut 2, overdue 2"},
		{"beside a frost it is all in one", []ladder.Kind{ladder.FreezeSeen, ladder.Overdue, ladder.KeepShut}, "freeze 1, overdue 2"},
		{"a hold is in a text of its own", []ladder.Kind{ladder.HoldBegins, ladder.Overdue, ladder.ShutToday, ladder.KeepShut}, "hold-begins 1, overdue 3"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := fresh(t)
			var wanted []ladder.Notice
			for i, kind := range tc.kinds {
				wanted = append(wanted, notice(kind, fmt.Sprintf("p%d", i), "Ana"))
			}
			reconcile(t, s, sep1, wanted...)
			f := bySMS(Unsafe)
			f.Cap, f.DayStart = 3, sep1.Add(-time.Hour)
			var got []string
			for m := claim(t, s, sep1, f); m != nil; m = claim(t, s, sep1, f) {
				got = append(got, fmt.Sprint(m.Kind, " ", len(m.Notices)))
			}
			if strings.Join(got, ", ") != tc.want {
				t.Errorf("got %q, want %q", strings.Join(got, ", "), tc.want)
			}
		})
	}
}

func TestARepeatOfADaysWorkIsOneText(t *testing.T) {
	s := fresh(t)
	f := bySMS(Unsafe)
	f.Cap, f.DayStart = 3, sep1.Add(-time.Hour)
	reconcile(t, s, sep1, notice(ladder.ShutToday, "creek", "Ana"), notice(ladder.KeepShut, "hill", "Ana"))
	for m := claim(t, s, sep1, f); m != nil; m = claim(t, s, sep1, f) {
		settle(t, s, m, WasSent, sep1)
	}
	later := sep1.Add(4 * time.Hour)
	reconcile(t, s, later, notice(ladder.ShutToday, "lane", "Ana"), notice(ladder.MovePlan, "mill", "Ana"))
	if m := claim(t, s, later, f); m == nil || len(m.Notices) != 2 {
		t.Errorf("got %+v, want both in the third text of the day", m)
	}
}

func TestEachAnswerIsAMessageOfItsOwn(t *testing.T) {
	s := fresh(t)
	var answered []InRow
	for i := range 3 {
		in := heard(t, s, fmt.Sprint(i), "Ana", fmt.Sprintf("creek %d", i), sep1)
		answered = append(answered, in)
		update(t, s, sep1, func(x *Tx) error { _, err := x.Answer(answer(ladder.AnswerVerdict, in)); return err })
	}
	for i := range 3 {
		m := claim(t, s, sep1, bySMS(Unsafe))
		if m == nil || len(m.Notices) != 1 || m.Notices[0].Inbox != answered[i].Row || !m.Answer || m.InReplyTo != "" {
			t.Errorf("%d: %+v", i, m)
		}
	}
}

func TestAMailIsAnsweredInItsThread(t *testing.T) {
	s := fresh(t)
	must(t, s.Accept(ctx, "email", []In{{ID: "1", Contact: "Ana", Text: "creek 9", MailID: "a@example.org"}}, "", sep1))
	in, err := s.Pending(ctx)
	must(t, err)
	n := answer(ladder.AnswerVerdict, in[0])
	n.Medium = ladder.Mail
	update(t, s, sep1, func(x *Tx) error { _, err := x.Answer(n); return err })
	f := bySMS(Unsafe)
	f.Medium = ladder.Mail
	if m := claim(t, s, sep1, f); m == nil || m.InReplyTo != "a@example.org" {
		t.Errorf("got %+v", m)
	}
}

func TestTheCapHoldsBackOnlyWhatCanWait(t *testing.T) {
	s := fresh(t)
	in := heard(t, s, "1", "Ana", "help", sep1)
	kinds := []ladder.Kind{ladder.FrostSeen, ladder.FreezeSeen, ladder.RestOver, ladder.SeasonResult, ladder.FrostDisputed, ladder.StopTold} // none that stands in one text with others
	var wanted []ladder.Notice
	for _, k := range kinds {
		n := notice(k, "creek", "Ana")
		n.GoodUntil = sep1.AddDate(0, 0, 2)
		wanted = append(wanted, n)
	}
	wanted = append(wanted, notice(ladder.KeepShut, "creek", "Luis"))
	reconcile(t, s, sep1, wanted...)
	update(t, s, sep1, func(x *Tx) error { _, err := x.Answer(answer(ladder.AnswerHelp, in)); return err })
	f := bySMS(Unsafe)
	f.Cap, f.DayStart = 3, sep1.Add(-6*time.Hour)
	said := func(now time.Time) string {
		var got []string
		for m := claim(t, s, now, f); m != nil; m = claim(t, s, now, f) {
			settle(t, s, m, WasSent, now)
			got = append(got, m.ToName+" "+string(m.Kind))
		}
		return strings.Join(got, ", ")
	}
	if got, want := said(sep1), "Ana answer-help, Ana frost, Ana freeze, Ana rest-over, Ana frost-disputed, Ana stop-told, Luis keep-shut"; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	held, err := s.NotSaid(ctx, sep1)
	must(t, err)
	if len(held) != 1 || held[0].Why != WhyCap || held[0].Notice.Kind != ladder.SeasonResult {
		t.Errorf("held back: %+v", held)
	}
	f.DayStart = f.DayStart.AddDate(0, 0, 1)
	if got := said(sep1.AddDate(0, 0, 1)); got != "Ana season-result" {
		t.Errorf("the next day: %s", got)
	}
}

func TestQuietHoursHoldEverythingButAnswersAndWhatIsUrgent(t *testing.T) {
	s := fresh(t)
	in := heard(t, s, "1", "Ana", "frost", sep1)
	calm, hot := notice(ladder.HoldBegins, "hill", "Ana"), notice(ladder.HoldBegins, "lane", "Ana")
	hot.Urgent = true
	reconcile(t, s, sep1, calm, hot, notice(ladder.HeadsUp, "creek", "Ana"), notice(ladder.HeadsUp, "creek", "Luis"))
	update(t, s, sep1, func(x *Tx) error { _, err := x.Answer(answer(ladder.AnswerRecorded, in)); return err })
	f := bySMS(Unsafe)
	asleep := true
	f.Quiet = func(contact string, _ time.Time) bool { return contact == "Ana" && asleep }
	var got []string
	for range 2 {
		for m := claim(t, s, sep1, f); m != nil; m = claim(t, s, sep1, f) {
			got = append(got, m.ToName+": "+m.Text)
		}
		got, asleep = append(got, "awake"), false
	}
	want := "Ana: hold-begins lane|Ana: answer-recorded |Luis: heads-up creek|awake|Ana: hold-begins hill|Ana: heads-up creek|awake"
	if strings.Join(got, "|") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "|"), want)
	}
}

func TestRemindersWaitWhileTheClockIsNotSureAndAnswersGo(t *testing.T) {
	s := fresh(t)
	in := heard(t, s, "1", "Ana", "help", sep1)
	reconcile(t, s, sep1, notice(ladder.ShutToday, "creek", "Ana"))
	update(t, s, sep1, func(x *Tx) error { _, err := x.Answer(answer(ladder.AnswerHelp, in)); return err })
	f := bySMS(Unsafe)
	f.AnswersOnly = true
	if m := claim(t, s, sep1, f); m == nil || !m.Answer {
		t.Errorf("got %+v", m)
	}
	if m := claim(t, s, sep1, f); m != nil {
		t.Errorf("a reminder went: %+v", m)
	}
}

// A clock that ran a year ahead dated the answer, and the power went before it left.
func TestAnAnswerThatAWildClockDatedIsDueByTheRightOne(t *testing.T) {
	s := fresh(t)
	ahead := sep1.AddDate(1, 0, 0)
	in := heard(t, s, "1", "Ana", "stop", ahead)
	rung := notice(ladder.ShutToday, "creek", "Ana")
	rung.NotBefore, rung.GoodUntil = ahead, ahead.Add(time.Hour)
	reconcile(t, s, ahead, rung)
	update(t, s, ahead, func(x *Tx) error { _, err := x.Answer(answer(ladder.AnswerStop, in)); return err })
	if m := claim(t, s, sep1, bySMS(Unsafe)); m == nil || !m.Answer {
		t.Errorf("got %+v", m)
	}
	if m := claim(t, s, sep1, bySMS(Unsafe)); m != nil {
		t.Errorf("a reminder went a year early: %+v", m)
	}
}

func TestAfterStopNothingGoesButOneConfirmation(t *testing.T) {
	s := fresh(t)
	n := notice(ladder.ShutToday, "creek", "Ana")
	reconcile(t, s, sep1, n, notice(ladder.ShutToday, "creek", "Luis"))
	m := claim(t, s, sep1, bySMS(Unsafe))
	settle(t, s, m, TryAgain, sep1) // frozen for Ana, waiting
	now := sep1.Add(time.Hour)
	stop := func(id string) {
		in := heard(t, s, id, "Ana", "stop", now)
		update(t, s, now, func(x *Tx) error {
			if _, err := x.Suppress(phones["Ana"], "Ana", "stop"); err != nil {
				return err
			}
			_, err := x.Answer(answer(ladder.AnswerStop, in))
			return err
		})
	}
	stop("1")
	var got []string
	for m := claim(t, s, now, bySMS(Unsafe)); m != nil; m = claim(t, s, now, bySMS(Unsafe)) {
		got = append(got, m.ToName+" "+string(m.Kind))
		settle(t, s, m, WasSent, now)
	}
	now = now.Add(time.Hour)
	stop("2")
	if m := claim(t, s, now, bySMS(Unsafe)); m != nil {
		t.Errorf("confirmed twice: %+v", m)
	}
	if want := "Ana answer-stop, Luis shut-today"; strings.Join(got, ", ") != want {
		t.Errorf("got %v, want %s", got, want)
	}
	update(t, s, now, func(x *Tx) error { _, err := x.Allow(phones["Ana"]); return err })
	if m := claim(t, s, now, bySMS(Unsafe)); m == nil || m.ToName != "Ana" {
		t.Errorf("after start: %+v", m)
	}
}

func TestAContactWithoutAnAddressIsHeldBackAndNamed(t *testing.T) {
	s := fresh(t)
	n := notice(ladder.ShutToday, "creek", "Nobody")
	reconcile(t, s, sep1, n)
	for range 2 {
		if m := claim(t, s, sep1, bySMS(Unsafe)); m != nil {
			t.Fatalf("claimed %+v", m)
		}
	}
	held, err := s.NotSaid(ctx, sep1)
	must(t, err)
	if len(held) != 1 || held[0].Why != WhyNoAddress {
		t.Errorf("got %+v", held)
	}
	if c := reconcile(t, s, sep1, n); c.Any() {
		t.Errorf("the pass made of it %+v", c)
	}
	reconcile(t, s, n.GoodUntil.Add(time.Second))
	if held, _ = s.NotSaid(ctx, sep1); len(held) != 1 || held[0].State != Expired || held[0].Why != WhyNoAddress {
		t.Errorf("afterwards: %+v", held)
	}
}

func TestARetryIsTheSameToTheByte(t *testing.T) {
	s := fresh(t)
	reconcile(t, s, sep1, notice(ladder.HeadsUp, "creek", "Ana"))
	once := first(t, s, sep1, bySMS(Unsafe), func(e *Envelope) error {
		e.MessageID, e.Subject, e.Text, e.HTML, e.InReplyTo = "x@example.org", "s", "t\r\n", "<p>", "y@example.org"
		e.Files = []File{{Name: "a.png", Type: "image/png", CID: "c", Data: []byte{0, 255, 1}}}
		return nil
	})
	next := sep1.Add(10 * time.Minute)
	must(t, s.Settle(ctx, once.Attempt, Outcome{State: TryAgain, After: 10 * time.Minute, Code: "451", Detail: "greylisted"}, sep1))
	if m := claim(t, s, next.Add(-time.Second), bySMS(Unsafe)); m != nil {
		t.Fatal("too early")
	}
	if at, _ := s.NextDue(ctx, sep1); !at.Equal(next) {
		t.Errorf("next due %v", at)
	}
	again := first(t, s, next, bySMS(Unsafe), func(*Envelope) error { return errors.New("worded again") })
	if again.N != 2 || again.Attempt == once.Attempt {
		t.Errorf("attempt %d, %d", again.N, again.Attempt)
	}
	again.N, again.Attempt = once.N, once.Attempt
	got, err := json.Marshal(again)
	must(t, err)
	want, err := json.Marshal(once)
	must(t, err)
	if !bytes.Equal(got, want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if once.ID == "" || strings.ContainsAny(once.ID, "/ @<>") || once.ID != strings.ToLower(once.ID) {
		t.Errorf("id %q", once.ID)
	}
}

func TestARetryGoesToTheAddressOfToday(t *testing.T) {
	for _, tt := range []struct {
		name string
		o    Result
		want bool
	}{{"one that cannot have arrived is worded anew for it", TryAgain, true}, {"one that may have arrived waits", NotKnown, false}} {
		t.Run(tt.name, func(t *testing.T) {
			s := fresh(t)
			reconcile(t, s, sep1, notice(ladder.HeadsUp, "creek", "Ana"))
			first := claim(t, s, sep1, bySMS(Safe))
			settle(t, s, first, tt.o, sep1)
			f := bySMS(Safe)
			f.Address = func(string) string { return "+15555550199" }
			m := claim(t, s, sep1.Add(time.Hour), f)
			if (m != nil) != tt.want || m != nil && (m.Address != "+15555550199" || m.ID == first.ID) {
				t.Errorf("got %+v", m)
			}
		})
	}
}

func TestANoticeThatCannotBeWordedDoesNotHoldUpTheOthers(t *testing.T) {
	s := fresh(t)
	bad := notice(ladder.HeadsUp, "creek", "Ana")
	bad.NotBefore = sep1.Add(-time.Hour)
	panics := notice(ladder.LastLook, "creek", "Ana")
	reconcile(t, s, sep1, bad, panics, notice(ladder.ShutToday, "creek", "Ana"))
	m := first(t, s, sep1, bySMS(Unsafe), func(e *Envelope) error {
		switch e.Kind {
		case ladder.HeadsUp:
			return errors.New("no words")
		case ladder.LastLook:
			panic("a bug")
		}
		return plain(e)
	})
	if m == nil || m.Kind != ladder.ShutToday {
		t.Errorf("got %+v", m)
	}
	unsaid, err := s.NotSaid(ctx, sep1)
	must(t, err)
	if len(unsaid) != 2 || !strings.Contains(unsaid[0].Why, "no words") || !strings.Contains(unsaid[1].Why, "a bug") {
		t.Errorf("not said: %+v", unsaid)
	}
}
