package store

import (
	"math"
	"testing"
	"time"

	"stubbled/scheduler/ladder"
)

func TestAPassMakesTheQueueWhatIsWantedNow(t *testing.T) {
	n := notice(ladder.HeadsUp, "creek", "Ana")
	with := func(change func(*ladder.Notice)) ladder.Notice { c := n; change(&c); return c }
	later := sep1.Add(time.Hour)
	for _, tt := range []struct {
		name   string
		before func(*testing.T, *Store)
		wanted []ladder.Notice
		now    time.Time
		want   Changes
		state  State
	}{
		{"wanted and never seen is put in", func(*testing.T, *Store) {}, []ladder.Notice{n}, sep1, Changes{Inserted: 1}, Queued},
		{"wanted twice in one pass is put in once", func(*testing.T, *Store) {}, []ladder.Notice{n, n}, sep1, Changes{Inserted: 1}, Queued},
		{"wanted but no longer true is not put in", func(*testing.T, *Store) {}, []ladder.Notice{n}, n.GoodUntil.Add(time.Second), Changes{}, ""},
		{"queued and wanted as it is stays", queue(n), []ladder.Notice{n}, later, Changes{}, Queued},
		{"queued with other facts is refreshed", queue(n), []ladder.Notice{leaving(n, 9)}, later, Changes{Refreshed: 1}, Queued},
		{"queued for another time is refreshed", queue(n), []ladder.Notice{with(func(n *ladder.Notice) { n.NotBefore = later })}, later, Changes{Refreshed: 1}, Queued},
		{"queued and true for longer is refreshed", queue(n), []ladder.Notice{with(func(n *ladder.Notice) { n.GoodUntil = n.GoodUntil.Add(time.Hour) })}, later, Changes{Refreshed: 1}, Queued},
		{"queued and urgent now is refreshed", queue(n), []ladder.Notice{with(func(n *ladder.Notice) { n.Urgent = true })}, later, Changes{Refreshed: 1}, Queued},
		{"queued and no longer wanted is withdrawn", queue(n), nil, later, Changes{Withdrawn: 1}, Withdrawn},
		{"queued and past its time expires", queue(n), nil, n.GoodUntil.Add(time.Second), Changes{Expired: 1}, Expired},
		{"queued and past its time expires though wanted", queue(n), []ladder.Notice{n}, n.GoodUntil.Add(time.Second), Changes{Expired: 1}, Expired},
		{"at the very second it is still true", queue(n), []ladder.Notice{n}, n.GoodUntil, Changes{}, Queued},
		{"withdrawn and wanted again is queued again", withdrawn(n), []ladder.Notice{n}, later, Changes{Revived: 1}, Queued},
		{"expired by a clock that ran ahead and wanted again is queued again", expired(n), []ladder.Notice{n}, later, Changes{Revived: 1}, Queued},
		{"claimed is not touched", settled(n, underWay), nil, later, Changes{}, Sending},
		{"claimed is not refreshed", settled(n, underWay), []ladder.Notice{leaving(n, 9)}, later, Changes{}, Sending},
		{"said is not said again", settled(n, WasSent), []ladder.Notice{n}, later, Changes{}, Sent},
		{"said and no longer wanted stays said", settled(n, WasSent), nil, later, Changes{}, Sent},
		{"refused is not tried again by itself", settled(n, WasRefused), []ladder.Notice{n}, later, Changes{}, Failed},
		{"unknown waits to be repeated and stays", settled(n, NotKnown), []ladder.Notice{n}, later, Changes{}, Queued},
		{"waiting for a retry and wanted stays frozen", settled(n, TryAgain), []ladder.Notice{leaving(n, 9)}, later, Changes{}, Queued},
		{"waiting for a retry and no longer wanted is withdrawn", settled(n, TryAgain), nil, later, Changes{Withdrawn: 1}, Withdrawn},
		{"waiting for a retry and no longer true expires", settled(n, TryAgain), nil, n.GoodUntil.Add(time.Second), Changes{Expired: 1}, Expired},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := fresh(t)
			tt.before(t, s)
			if got := reconcile(t, s, tt.now, tt.wanted...); got != tt.want {
				t.Errorf("changes %+v, want %+v", got, tt.want)
			}
			if got := states(t, s)[n.Key.String()]; got != tt.state {
				t.Errorf("state %q, want %q", got, tt.state)
			}
			if tt.want.Expired > 0 {
				return
			}
			if got := reconcile(t, s, tt.now, tt.wanted...); got.Any() {
				t.Errorf("the same pass again changed %+v", got)
			}
		})
	}
}

func queue(n ladder.Notice) func(*testing.T, *Store) {
	return func(t *testing.T, s *Store) { reconcile(t, s, sep1, n) }
}

func withdrawn(n ladder.Notice) func(*testing.T, *Store) {
	return func(t *testing.T, s *Store) { queue(n)(t, s); reconcile(t, s, sep1) }
}

func expired(n ladder.Notice) func(*testing.T, *Store) {
	return func(t *testing.T, s *Store) { queue(n)(t, s); reconcile(t, s, sep1.AddDate(1, 0, 0), n) }
}

const underWay Result = -1

// settled claims a notice and settles it, or leaves it under way.
func settled(n ladder.Notice, o Result) func(*testing.T, *Store) {
	return func(t *testing.T, s *Store) {
		queue(n)(t, s)
		m := claim(t, s, sep1, bySMS(Unsafe))
		if m == nil {
			t.Fatal("nothing to claim")
		}
		if o != underWay {
			settle(t, s, m, o, sep1)
		}
	}
}

func TestARevivedNoticeSaysWhatIsTrueNow(t *testing.T) {
	s := fresh(t)
	n := notice(ladder.HeadsUp, "creek", "Ana")
	withdrawn(n)(t, s)
	reconcile(t, s, sep1, leaving(n, 9))
	if m := claim(t, s, sep1, bySMS(Unsafe)); m == nil || leave(m.Notices[0]) != 9 {
		t.Errorf("got %+v", m)
	}
}

func TestAnswersAreExemptFromThePass(t *testing.T) {
	s := fresh(t)
	in := heard(t, s, "1", "Ana", "creek 14", sep1)
	a := answer(ladder.AnswerVerdict, in)
	update(t, s, sep1, func(x *Tx) error {
		for i, want := range []bool{true, false} {
			if fresh, err := x.Answer(a); fresh != want || err != nil {
				t.Errorf("answer %d: %v, %v", i, fresh, err)
			}
		}
		second := a
		second.Key = ladder.AnswerKey(999)
		if fresh, err := x.Answer(second); fresh || err != nil {
			t.Errorf("a text was answered twice: %v", err)
		}
		for name, bad := range map[string]ladder.Notice{"no row": {Key: ladder.AnswerKey(9), Kind: ladder.AnswerHelp}, "no answer": {Key: ladder.AnswerKey(9), Kind: ladder.HeadsUp, Inbox: in.Row}} {
			if _, err := x.Answer(bad); err == nil {
				t.Errorf("%s: taken for an answer", name)
			}
		}
		return nil
	})
	if c := reconcile(t, s, sep1); c.Any() || states(t, s)[a.Key.String()] != Queued {
		t.Errorf("a pass touched it: %+v", c)
	}
	if c := reconcile(t, s, a.GoodUntil.Add(time.Second)); c.Expired != 1 {
		t.Errorf("an answer a day late: %+v", c)
	}
}

func TestANoticeThatCannotBeKeptDoesNotHoldUpTheOthers(t *testing.T) {
	s := fresh(t)
	good := notice(ladder.HeadsUp, "creek", "Ana")
	nan, nobody, asked, keyless := notice(ladder.HeadsUp, "hill", "Ana"), notice(ladder.HeadsUp, "lane", ""), notice(ladder.AnswerHelp, "west", "Ana"), notice(ladder.HeadsUp, "x", "Ana")
	nan, keyless.Key = leaving(nan, math.NaN()), ladder.Key{}
	for _, want := range []Changes{{Inserted: 1, Refused: 4}, {Refused: 4}} {
		if c := reconcile(t, s, sep1, nan, nobody, asked, keyless, good); c != want || c.Any() != (want.Inserted > 0) {
			t.Errorf("got %+v, want %+v", c, want)
		}
	}
	good = leaving(good, math.Inf(1))
	if c := reconcile(t, s, sep1, good); c != (Changes{Refused: 1}) {
		t.Errorf("refreshed with a number that is none: %+v", c)
	}
}

func TestARetryOfWhichPartIsNotTrueAnyMoreIsWordedAnew(t *testing.T) {
	creek, hill := notice(ladder.HeadsUp, "creek", "Ana"), notice(ladder.HeadsUp, "hill", "Ana")
	for _, tt := range []struct {
		name  string
		o     Result
		retry Retry
		text  string
	}{
		{"one that cannot have arrived", TryAgain, Unsafe, "heads-up hill"},
		{"one that may have arrived stays whole", NotKnown, Safe, "heads-up creek hill"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := fresh(t)
			reconcile(t, s, sep1, creek, hill)
			m := claim(t, s, sep1, bySMS(tt.retry))
			settle(t, s, m, tt.o, sep1)
			reconcile(t, s, sep1, hill) // creek is off
			again := claim(t, s, sep1.Add(time.Hour), bySMS(tt.retry))
			if again == nil || again.Text != tt.text || (again.ID == m.ID) != (again.Text == m.Text) {
				t.Errorf("got %+v, want %q", again, tt.text)
			}
		})
	}
}

func TestWhatMayHaveArrivedAndIsNotWantedAnyMoreStaysUnknown(t *testing.T) {
	n := notice(ladder.ShutToday, "creek", "Ana")
	for _, retry := range []Retry{Safe, Unsafe} {
		s := fresh(t)
		reconcile(t, s, sep1, n)
		settle(t, s, claim(t, s, sep1, bySMS(retry)), NotKnown, sep1)
		if states(t, s)[n.Key.String()] != Queued {
			t.Errorf("%s: %v", retry, states(t, s))
		}
		reconcile(t, s, sep1)
		if got := states(t, s)[n.Key.String()]; got != Unknown {
			t.Errorf("%s: %s", retry, got)
		}
		if m := claim(t, s, sep1.Add(time.Hour), bySMS(retry)); m != nil {
			t.Errorf("%s: said again: %+v", retry, m)
		}
		reconcile(t, s, sep1, n)
		if got := states(t, s)[n.Key.String()]; got != Unknown {
			t.Errorf("%s: wanted again: %s", retry, got)
		}
	}
}

func TestWhatAPersonPutBackStaysWhateverAPassWants(t *testing.T) {
	s := fresh(t)
	n := notice(ladder.SeasonResult, "creek", "Ana")
	settled(n, WasRefused)(t, s)
	unsaid, err := s.NotSaid(ctx, sep1)
	must(t, err)
	until := sep1.Add(48 * time.Hour)
	update(t, s, sep1, func(x *Tx) error { return x.requeue(unsaid[0].ID, until) })
	if c := reconcile(t, s, sep1); c.Any() {
		t.Errorf("a pass changed it: %+v", c)
	}
	m := claim(t, s, until, bySMS(Unsafe))
	if m == nil || m.MayRepeat {
		t.Fatalf("got %+v", m)
	}
	settle(t, s, m, WasSent, until)
	if err := s.Update(ctx, until, func(x *Tx) error { return x.requeue(unsaid[0].ID, until) }); err == nil {
		t.Error("what was said was put back")
	}
}
