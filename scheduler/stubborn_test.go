package scheduler

import (
	"context"
	"errors"
	"path/filepath"
	"testing"
	"time"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/store"
)

// A stubborn store fails the first change of each of its first passes: the one
// that hears.
type stubborn struct {
	*store.Store
	fails int
	calls int
	falls bool // over a fault of the program, rather than to fail
}

func (s *stubborn) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	s.calls++
	if s.fails > 0 && s.calls%2 == 1 {
		s.fails--
		if s.falls {
			return s.Store.Update(ctx, now, func(*store.Tx) error { return decide(nil) })
		}
		return errors.New("a text that cannot be heard")
	}
	return s.Store.Update(ctx, now, decide)
}

func TestATextThatCannotBeHeardDoesNotKeepTheOthersWaiting(t *testing.T) {
	t.Run("it fails", func(t *testing.T) { cannotBeHeard(t, false) })
	t.Run("the program falls over it", func(t *testing.T) { cannotBeHeard(t, true) })
}

func cannotBeHeard(t *testing.T, falls bool) {
	farm, err := config.Demo()
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 8, 20, 15, 0, 0, 0, time.UTC)
	s, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "farm.db"), store.Options{RunID: "test", Now: now})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	sched := New(Options{Store: &stubborn{Store: s, fails: mostTries, falls: falls}, Farm: farm})
	ana := farm.Contacts[0]
	if err := s.Accept(t.Context(), "sms", []store.In{{ID: "1", From: ana.Phone, Contact: ana.Name, Text: "creek 9"}}, "", now); err != nil {
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
	err = s.EachFact(t.Context(), 0, func(f diary.Fact) error {
		if f.Inbox != 0 {
			t.Errorf("something was written of it: %+v", f)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
