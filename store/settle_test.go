package store

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/ladder"
)

func TestWhatBecomesOfAnAttempt(t *testing.T) {
	later := sep1.Add(time.Hour)
	for _, tt := range []struct {
		name  string
		kind  ladder.Kind
		retry Retry
		o     Result
		state State  // at once
		again string // what is said afterwards
		same  bool   // with the same id
	}{
		{"sent is sent", ladder.HeadsUp, Unsafe, WasSent, Sent, "", false},
		{"refused is not tried again", ladder.ShutToday, Safe, WasRefused, Failed, "", false},
		{"a temporary failure is tried again as it is", ladder.HeadsUp, Unsafe, TryAgain, Queued, "heads-up creek", true},
		{"unknown where a retry is safe is tried again as it is", ladder.HeadsUp, Safe, NotKnown, Queued, "heads-up creek", true},
		{"unknown where a retry is not safe: a lesson is not said twice", ladder.LessonsMail, Unsafe, NotKnown, Unknown, "", false},
		{"unknown where a retry is not safe: a heads-up is repeated and marked", ladder.HeadsUp, Unsafe, NotKnown, Queued, "May be a repeat. heads-up creek", false},
		{"unknown where a retry is not safe: an enrolment is repeated and marked", ladder.Enrolment, Unsafe, NotKnown, Queued, "May be a repeat. enrolment creek", false},
		{"unknown where a retry is not safe: the cutoff is repeated and marked", ladder.ShutToday, Unsafe, NotKnown, Queued, "May be a repeat. shut-today creek", false},
		{"unknown where a retry is not safe: a day of rest is repeated and marked", ladder.Overdue, Unsafe, NotKnown, Queued, "May be a repeat. overdue creek", false},
		{"unknown where a retry is not safe: a hazard is repeated and marked", ladder.HoldBegins, Unsafe, NotKnown, Queued, "May be a repeat. hold-begins creek", false},
		{"unknown on the console is never said twice", ladder.ShutToday, Never, NotKnown, Unknown, "", false},
	} {
		for _, crash := range []bool{false, true} {
			if crash && tt.o != NotKnown {
				continue
			}
			name := tt.name
			if crash {
				name += ", found at the next start"
			}
			t.Run(name, func(t *testing.T) {
				path := filepath.Join(t.TempDir(), "farm.db")
				s := open(t, path, "run-1")
				n := notice(tt.kind, "creek", "Ana")
				reconcile(t, s, sep1, n)
				m := claim(t, s, sep1, bySMS(tt.retry))
				if crash {
					goes(t, s, m)
					must(t, s.Close())
					s = open(t, path, "run-2")
				} else {
					settle(t, s, m, tt.o, sep1)
				}
				if got := states(t, s)[n.Key.String()]; got != tt.state {
					t.Errorf("state %s, want %s", got, tt.state)
				}
				if !crash {
					if m := claim(t, s, sep1, bySMS(tt.retry)); m != nil {
						t.Errorf("said again at once: %+v", m)
					}
				}
				reconcile(t, s, later, n)
				again := claim(t, s, later, bySMS(tt.retry))
				text := ""
				if again != nil {
					text = again.Text
				}
				if text != tt.again || again != nil && ((again.ID == m.ID) != tt.same || again.MayRepeat == tt.same) {
					t.Errorf("said %q, want %q: %+v", text, tt.again, again)
				}
				if again == nil || tt.o != NotKnown || tt.retry != Unsafe {
					return
				}
				settle(t, s, again, NotKnown, later)
				if m := claim(t, s, later.Add(time.Hour), bySMS(tt.retry)); m != nil || states(t, s)[n.Key.String()] != Unknown {
					t.Errorf("a third time: %+v, %v", m, states(t, s))
				}
			})
		}
	}
}

// A power cut while a carrier waits, or dials, is no reason to doubt that nothing
// went.
func TestWhatAnUnsafeCarrierHadNotLetGoIsSaidAsIfForTheFirstTime(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	s := open(t, path, "run-1")
	for i, kind := range []ladder.Kind{ladder.LessonsMail, ladder.ShutToday} {
		n := notice(kind, "creek", "Ana")
		reconcile(t, s, sep1, n)
		m := claim(t, s, sep1, bySMS(Unsafe))
		must(t, s.Close())
		s = open(t, path, fmt.Sprint("run-", i+2))
		again := claim(t, s, sep1, bySMS(Unsafe))
		if again == nil || again.ID != m.ID || again.MayRepeat {
			t.Errorf("%s: said %+v, want it unmarked with the same id", kind, again)
			continue
		}
		settle(t, s, again, WasSent, sep1)
	}
}

// What tries a carrier that is silent is not lost by it, and is repeated after
// what has not been tried; one whose answers alone are lost repeats once.
func TestASilentCarrierLosesNothing(t *testing.T) {
	s := fresh(t)
	all := []ladder.Notice{notice(ladder.LessonsMail, "creek", "Ana"), notice(ladder.FreezeSeen, "creek", "Ana"), notice(ladder.ShutToday, "creek", "Ana")}
	reconcile(t, s, sep1, all...)
	now, said := sep1, ""
	for range 5 {
		m := claim(t, s, now, bySMS(Unsafe))
		said += m.Text + "|"
		must(t, s.Settle(ctx, m.Attempt, Outcome{State: NotKnown, Down: true, After: time.Minute}, now))
		now = now.Add(2 * time.Minute)
	}
	if want := "lessons creek|freeze creek|shut-today creek|May be a repeat. lessons creek|"; !strings.HasPrefix(said, want) {
		t.Errorf("tried with %q, want %q", said, want)
	}
	for key, state := range states(t, s) {
		if state != Queued {
			t.Errorf("%s became %s by waiting", key, state)
		}
	}
}

// A try that failed while the clock stood a year ahead is not waited for a year.
func TestARetryPutOffByAWildClockIsDue(t *testing.T) {
	s := fresh(t)
	n := notice(ladder.ShutToday, "creek", "Ana")
	n.GoodUntil = sep1.AddDate(2, 0, 0)
	reconcile(t, s, sep1, n)
	ahead := sep1.AddDate(1, 0, 0)
	settle(t, s, claim(t, s, ahead, bySMS(Safe)), TryAgain, ahead)
	if m := claim(t, s, ahead, bySMS(Safe)); m != nil {
		t.Errorf("by that clock it is due at once: %+v", m)
	}
	if m := claim(t, s, sep1.Add(time.Hour), bySMS(Safe)); m == nil {
		t.Error("by the right clock it waits for a year")
	}
}

func TestARestartOfTheSameRunLeavesWhatIsUnderWay(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	s := open(t, path, "run-1")
	n := notice(ladder.HeadsUp, "creek", "Ana")
	reconcile(t, s, sep1, n)
	m := claim(t, s, sep1, bySMS(Never))
	must(t, s.Close())
	s = open(t, path, "run-1")
	settle(t, s, m, WasSent, sep1)
	if got := states(t, s)[n.Key.String()]; got != Sent {
		t.Errorf("state %s", got)
	}
}

func TestAnAttemptIsSettledOnce(t *testing.T) {
	s := fresh(t)
	reconcile(t, s, sep1, notice(ladder.HeadsUp, "creek", "Ana"))
	m := claim(t, s, sep1, bySMS(Unsafe))
	if err := s.Settle(ctx, m.Attempt, Outcome{State: 99}, sep1); err == nil {
		t.Error("an outcome that is none")
	}
	settle(t, s, m, WasSent, sep1)
	if err := s.Settle(ctx, m.Attempt, Outcome{State: WasRefused}, sep1); err == nil {
		t.Error("settled twice")
	}
	if err := s.Settle(ctx, 999, Outcome{State: WasSent}, sep1); err == nil {
		t.Error("settled an attempt that is not there")
	}
}

func TestNewsOfAMessageSettlesIt(t *testing.T) {
	for _, tt := range []struct {
		name  string
		kind  ladder.Kind
		o     Result
		r     Report
		state State
		said  string // afterwards
	}{
		{"a mail that bounced was not said", ladder.HeadsUp, WasSent, Report{Permanent: true, Detail: "no such mailbox"}, Failed, ""},
		{"a text that arrived stays sent", ladder.HeadsUp, WasSent, Report{Delivered: true}, Sent, ""},
		{"a delay changes nothing", ladder.HeadsUp, WasSent, Report{}, Sent, ""},
		{"an unknown one that arrived was sent", ladder.HeadsUp, NotKnown, Report{Delivered: true}, Sent, ""},
		{"the repeat of one that arrived is not made", ladder.ShutToday, NotKnown, Report{Delivered: true}, Sent, ""},
		{"the repeat of one that bounced is not made", ladder.ShutToday, NotKnown, Report{Permanent: true}, Failed, ""},
		{"one that waits for a retry and arrived after all", ladder.HeadsUp, TryAgain, Report{Delivered: true}, Sent, ""},
	} {
		for _, byRef := range []bool{false, true} {
			t.Run(tt.name, func(t *testing.T) {
				s := fresh(t)
				n := notice(tt.kind, "creek", "Ana")
				reconcile(t, s, sep1, n)
				m := claim(t, s, sep1, bySMS(Unsafe))
				must(t, s.Settle(ctx, m.Attempt, Outcome{State: tt.o, Ref: "ref-1", After: time.Minute}, sep1))
				r := tt.r
				if byRef {
					r.Ref = "ref-1"
				} else {
					r.EnvelopeID = m.ID
				}
				for range 2 {
					news(t, s, r, sep1.Add(time.Minute))
				}
				if got := states(t, s)[n.Key.String()]; got != tt.state {
					t.Errorf("state %s, want %s", got, tt.state)
				}
				said := ""
				if m := claim(t, s, sep1.Add(time.Hour), bySMS(Unsafe)); m != nil {
					said = m.Text
				}
				if said != tt.said {
					t.Errorf("said %q, want %q", said, tt.said)
				}
			})
		}
	}
	s := fresh(t)
	n := notice(ladder.HeadsUp, "creek", "Ana")
	reconcile(t, s, sep1, n)
	settle(t, s, claim(t, s, sep1, bySMS(Unsafe)), WasSent, sep1)
	for _, r := range []Report{{}, {Ref: "x"}, {EnvelopeID: "x"}} {
		r.Permanent = true
		news(t, s, r, sep1)
		if got := states(t, s)[n.Key.String()]; got != Sent {
			t.Errorf("news of nothing of ours makes ours %s", got)
		}
	}
}

func TestWhatCouldNotBeSaidIsShownWithTheReasonAndCanBeSaidAgain(t *testing.T) {
	s := fresh(t)
	refused, lost, fine, unwanted := notice(ladder.HeadsUp, "creek", "Ana"), notice(ladder.SeasonResult, "creek", "Ana"), notice(ladder.MovePlan, "creek", "Ana"), notice(ladder.KeepShut, "creek", "Ana")
	unwanted.NotBefore = sep1.Add(time.Hour)
	reconcile(t, s, sep1, refused, lost, fine, unwanted)
	for _, r := range []Outcome{{State: WasRefused, Code: "550 5.1.1"}, {State: NotKnown, Detail: "the line broke"}, {State: WasSent}} {
		must(t, s.Settle(ctx, claim(t, s, sep1, bySMS(Unsafe)).Attempt, r, sep1))
	}
	reconcile(t, s, sep1)
	unsaid, err := s.NotSaid(ctx, sep1.Add(-time.Hour))
	must(t, err)
	if len(unsaid) != 2 || unsaid[0].Why != "550 5.1.1" || unsaid[1].Why != "the line broke" || unsaid[1].State != Unknown {
		t.Fatalf("got %+v", unsaid)
	}
	if none, _ := s.NotSaid(ctx, sep1.Add(time.Hour)); len(none) != 0 {
		t.Errorf("since later: %+v", none)
	}
	var got []string
	for _, u := range unsaid {
		update(t, s, sep1, func(x *Tx) error { return x.requeue(u.ID, sep1.Add(time.Hour)) })
		got = append(got, claim(t, s, sep1, bySMS(Unsafe)).Text)
	}
	if want := "heads-up creek|May be a repeat. season-result creek"; strings.Join(got, "|") != want {
		t.Errorf("said again: %q, want %q", got, want)
	}
}

func TestWhatSomebodyWasAskedIsKnown(t *testing.T) {
	s := fresh(t)
	in := heard(t, s, "1", "Ana", "creek 14", sep1)
	told, other := notice(ladder.ShutToday, "creek", "Luis"), notice(ladder.ShutToday, "creek", "Bea")
	update(t, s, sep1, func(x *Tx) error { _, err := x.Answer(answer(ladder.AnswerVerdict, in)); return err })
	reconcile(t, s, sep1, told, other)
	for range 2 { // the answer, then Luis
		settle(t, s, claim(t, s, sep1, bySMS(Unsafe)), WasSent, sep1)
	}
	update(t, s, sep1, func(x *Tx) error {
		asked := func(of string) (all []ToldRow) {
			must(t, x.AskedOf(of, false, sep1, sep1, func(r ToldRow) (bool, error) { all = append(all, r); return true, nil }))
			return all
		}
		got := asked("Luis")
		if len(got) != 1 || got[0].Kind != told.Kind || got[0].Paddock != "creek" {
			t.Fatalf("asked of Luis: %+v", got)
		}
		if n, err := got[0].Notice(); err != nil || n.About() != told.About() {
			t.Errorf("asked of Luis: %+v, %v", n, err)
		}
		if got := asked("Bea"); len(got) != 0 {
			t.Errorf("asked of Bea: %+v", got)
		}
		n := 0
		must(t, x.AskedOf("Ana", true, sep1.Add(-time.Hour), sep1.Add(-time.Minute), func(ToldRow) (bool, error) { n++; return true, nil }))
		if n != 0 {
			t.Error("what was said later is among what had been said")
		}
		return nil
	})
}

func TestWhatEndedIsSettledThoughNothingElseIsDue(t *testing.T) {
	s := fresh(t)
	n := notice(ladder.HeadsUp, "creek", "Ana")
	reconcile(t, s, sep1, n)
	m := claim(t, s, sep1, bySMS(Safe))
	f := bySMS(Safe)
	f.Ended = []Ended{{m.Attempt, Outcome{State: WasSent}}}
	if next := claim(t, s, sep1, f); next != nil || states(t, s)[n.Key.String()] != Sent {
		t.Errorf("claimed %+v; %v", next, states(t, s))
	}
	if _, err := s.Claim(ctx, sep1, f, func(*Envelope) error { return nil }); err == nil {
		t.Error("it was settled twice")
	}
}
