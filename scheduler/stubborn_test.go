package scheduler

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/store"
)

// A stubborn store cannot write what a text says of the creek.
type stubborn struct {
	*store.Store
	falls bool // over a fault of the program, rather than to fail
}

func (s *stubborn) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	return s.Store.Update(ctx, now, s.balks(decide))
}

func (s *stubborn) AcceptAnd(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time, then func(*store.Tx) error) error {
	return s.Store.AcceptAnd(ctx, carrier, got, cursor, now, s.balks(then))
}

func (s *stubborn) balks(decide func(*store.Tx) error) func(*store.Tx) error {
	return func(tx *store.Tx) error {
		if err := decide(tx); err != nil {
			return err
		}
		facts, err := tx.FactsAfter(0)
		if !slices.ContainsFunc(facts, func(f diary.Fact) bool { return f.Inbox != 0 && f.Paddock == "creek" }) {
			return err
		}
		if s.falls {
			panic("index out of range")
		}
		return errors.New("a text that cannot be heard")
	}
}

// onAFile is the demo farm with a database on a file, and the time there.
func onAFile(t *testing.T) (*config.Farm, *store.Store, time.Time) {
	t.Helper()
	farm, err := config.Demo()
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 8, 20, 15, 0, 0, 0, time.UTC)
	s, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "farm.db"), store.Options{RunID: "test", Now: now})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return farm, s, now
}

func TestATextThatCannotBeHeardDoesNotKeepTheOthersWaiting(t *testing.T) {
	t.Run("it fails", func(t *testing.T) { cannotBeHeard(t, false) })
	t.Run("the program falls over it", func(t *testing.T) { cannotBeHeard(t, true) })
}

func cannotBeHeard(t *testing.T, falls bool) {
	farm, s, now := onAFile(t)
	sched := New(Options{Store: &stubborn{Store: s, falls: falls}, Farm: farm})
	ana := farm.Contacts[0]
	if err := s.Accept(t.Context(), "sms", []store.In{
		{ID: "1", From: ana.Phone, Contact: ana.Name, Text: "hill 9"}, {ID: "2", From: ana.Phone, Contact: ana.Name, Text: "creek 9"},
		{ID: "3", From: ana.Phone, Contact: ana.Name, Text: "off lane"},
	}, "", now); err != nil {
		t.Fatal(err)
	}
	for range mostTries {
		if _, err := sched.Pass(t.Context(), now); err != nil {
			t.Fatalf("the pass stopped: %v", err)
		}
		now = now.Add(time.Minute)
	}
	waiting, err := s.Pending(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(waiting) != 0 {
		t.Error("it still waits")
	}
	var of []string
	err = s.EachFact(t.Context(), 0, func(f diary.Fact) error {
		if f.Inbox != 0 {
			of = append(of, f.Paddock)
		}
		return nil
	})
	if err != nil || !slices.Equal(of, []string{"hill", "lane"}) {
		t.Errorf("written down is what was said of %v, %v; want that of the two others", of, err)
	}
}

// A flickering store loses its power whenever a third text is heard in one life.
type flickering struct {
	*store.Store
	before int
	gone   bool
}

func (s *flickering) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	return s.Store.Update(ctx, now, func(tx *store.Tx) error {
		if err := decide(tx); err != nil {
			return err
		}
		facts, err := tx.FactsAfter(0)
		if s.gone = s.gone || len(facts) > s.before+2; s.gone {
			return context.Canceled
		}
		return err
	})
}

func TestWhereThePowerGoesAgainAndAgainTheTextsAreHeard(t *testing.T) {
	farm, s, now := onAFile(t)
	ana, all := farm.Contacts[0], []store.In{}
	for n := range 9 {
		all = append(all, store.In{ID: fmt.Sprint(n), From: ana.Phone, Contact: ana.Name, Text: fmt.Sprintf("creek %d", 7+n), Sent: now})
	}
	if err := s.Accept(t.Context(), "sms", all, "", now); err != nil {
		t.Fatal(err)
	}
	heard := 0
	for life := range 6 {
		sched := New(Options{Store: &flickering{Store: s, before: heard}, Farm: farm})
		_, err := sched.Pass(t.Context(), now)
		if waiting, _ := s.Pending(t.Context()); len(waiting) == 0 && err == nil {
			return
		}
		heard = 0
		if err := s.EachFact(t.Context(), 0, func(diary.Fact) error { heard++; return nil }); err != nil {
			t.Fatal(err)
		}
		if heard < min(9, 2*(life+1)) {
			t.Fatalf("after %d lives %d texts are heard", life+1, heard)
		}
	}
	t.Error("texts still wait")
}
