package scheduler

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// texts brings a text of Ana's in, by the machine's clock as it is.
func (o *office) texts(words string, sent time.Time) {
	o.t.Helper()
	ana := o.sched.farm.Contacts[0]
	in := store.In{ID: fmt.Sprint(words, o.clock.boot, sent), From: ana.Phone, Contact: ana.Name, Text: words, Sent: sent}
	if err := o.store.Accept(o.t.Context(), "sms", []store.In{in}, "", o.clock.now); err != nil {
		o.t.Fatal(err)
	}
}

func (o *office) days() (all []string) {
	o.t.Helper()
	err := o.store.EachFact(o.t.Context(), 0, func(f diary.Fact) error {
		all = append(all, fmt.Sprint(f.Kind, " ", f.Paddock, " ", f.Day))
		return nil
	})
	if err != nil {
		o.t.Fatal(err)
	}
	return all
}

// answers are the kinds of answers that may go out now.
func (o *office) answers() (kinds []ladder.Kind) {
	o.t.Helper()
	all, err := o.store.Fates(o.t.Context())
	if err != nil {
		o.t.Fatal(err)
	}
	for _, f := range all {
		n := f.Notice
		if n.Kind.Answer() && !n.NotBefore.After(o.clock.now) && n.GoodUntil.After(o.clock.now) {
			kinds = append(kinds, n.Kind)
		}
	}
	return kinds
}

// Whatever the clock shows meanwhile, a fact has the day on which it was texted.
func TestATextHeardByAWrongClockHasTheRightDay(t *testing.T) {
	sent := time.Date(2026, 8, 21, 14, 0, 0, 0, time.UTC) // a day after the office was last sure
	for name, shows := range map[string]time.Time{
		"1970":         time.Unix(4000, 0),
		"a year ahead": sent.AddDate(1, 0, 0),
		"a month back": sent.AddDate(0, -1, 0),
	} {
		for how, stamp := range map[string]time.Time{
			"with its sender's stamp": sent, "without one": {}, "with a stamp of another year": sent.AddDate(3, 0, 0),
		} {
			t.Run(name+" "+how, func(t *testing.T) {
				o := newOffice(t)
				o.pass()
				o.powerCut(shows)
				o.pass()
				o.texts("off creek", stamp)
				o.minutes(1)
				heard := stamp.Equal(sent)
				want := []ladder.Kind{ladder.AnswerWaits}
				if heard {
					want = []ladder.Kind{ladder.AnswerRecorded}
				}
				if got := o.answers(); !slices.Equal(got, want) {
					t.Errorf("answered %v, want %v", got, want)
				}
				if (len(o.days()) > 0) != heard {
					t.Errorf("in the diary while the clock is wrong: %v", o.days())
				}
				o.minutes(1)
				o.clock.now, o.clock.synced = sent.Add(10*time.Minute), true // the network came
				o.minutes(1)
				if got := o.days(); !slices.Equal(got, []string{"off creek 2026-08-21"}) {
					t.Errorf("the diary has %v", got)
				}
				if got := o.answers(); len(got) > 0 && got[len(got)-1] != ladder.AnswerRecorded {
					t.Errorf("answered %v", got)
				}
			})
		}
	}
}

// Dark for longer than a stamp is believed without a clock: the stamp is once the
// network came, and that the text waits is not said any more.
func TestThatATextWaitsIsNotSaidOnceItIsHeard(t *testing.T) {
	o := newOffice(t)
	o.pass()
	sent := o.clock.now.AddDate(0, 0, 10)
	o.powerCut(sent.AddDate(1, 0, 0))
	o.pass()
	o.texts("off creek", sent)
	o.minutes(1)
	if got := o.answers(); !slices.Equal(got, []ladder.Kind{ladder.AnswerWaits}) {
		t.Fatalf("answered %v", got)
	}
	o.clock.now, o.clock.synced = sent.Add(10*time.Minute), true
	o.minutes(1)
	if got := o.days(); !slices.Equal(got, []string{"off creek 2026-08-30"}) {
		t.Errorf("the diary has %v", got)
	}
	all, err := o.store.Fates(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		if f.Notice.Kind == ladder.AnswerWaits && f.State == store.Queued {
			t.Error("that it waits is still to be said")
		}
	}
}

// Who wants no more messages waits for no clock.
func TestAStopIsHeardByAnyClock(t *testing.T) {
	o := newOffice(t)
	o.pass()
	o.powerCut(time.Unix(4000, 0))
	o.pass()
	o.texts("stop", time.Time{})
	o.minutes(1)
	out, err := o.store.OptOuts(t.Context())
	if err != nil || len(out) == 0 || !slices.Equal(o.answers(), []ladder.Kind{ladder.AnswerStop}) {
		t.Errorf("opted out %v, answered %v, %v", out, o.answers(), err)
	}
}

// No clock that shows a day before this program existed is right, however steadily
// it runs.
func TestAClockOf1970IsNotBelievedInTheEnd(t *testing.T) {
	o := newOffice(t)
	o.pass()
	o.powerCut(time.Unix(4000, 0))
	if o.pass() || o.minutes(90) {
		t.Error("reminders go out in 1970")
	}
}

// The counterpart: by a clock that is sure a text without a stamp is heard at once.
func TestATextWithoutAStampIsHeardByAClockThatIsSure(t *testing.T) {
	o := newOffice(t)
	o.pass()
	o.texts("off creek", time.Time{})
	o.minutes(1)
	if got := o.days(); !slices.Equal(got, []string{"off creek 2026-08-20"}) {
		t.Errorf("the diary has %v", got)
	}
}

// A machine without a battery begins each day in 1970, and answers each time; one
// that is written to without end does not.
func TestAMachineThatAlwaysBeginsIn1970GoesOnAnswering(t *testing.T) {
	o := newOffice(t)
	o.pass()
	sent := o.clock.now
	answers := func() (n int) {
		all, err := o.store.Fates(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range all {
			if f.Notice.Kind.Answer() {
				n++
			}
		}
		return n
	}
	answered := func(texts int) int {
		sent = sent.Add(time.Hour)
		o.powerCut(time.Unix(4000, 0))
		o.pass()
		before := answers()
		for i := range texts {
			o.clock.run(time.Second)
			o.texts(fmt.Sprint("creek ", 5+i), sent)
		}
		o.minutes(1)
		return answers() - before
	}
	for boot := range 30 {
		if n := answered(1); n != 1 {
			t.Fatalf("start %d: %d answers", boot, n)
		}
	}
	if n := answered(40); n != mostAnHour {
		t.Errorf("%d answers to 40 texts", n)
	}
}
