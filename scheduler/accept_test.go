package scheduler

import (
	"context"
	"errors"
	"testing"
	"time"

	"stubbled/store"
	"stubbled/store/disk"
)

// A tallied store counts its transactions.
type tallied struct {
	*store.Store
	n int
}

func (s *tallied) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	s.n++
	return s.Store.Update(ctx, now, decide)
}

func (s *tallied) AcceptAnd(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time, then func(*store.Tx) error) error {
	s.n++
	return s.Store.AcceptAnd(ctx, carrier, got, cursor, now, then)
}

// answersTo is how many texts have an answer, and how many wait.
func answersTo(t *testing.T, s *store.Store, ids ...string) (answers, waiting int) {
	t.Helper()
	for _, id := range ids {
		_, answer, err := s.AnswerTo(t.Context(), "sms", id)
		if err != nil {
			t.Fatal(err)
		}
		if answer != nil {
			answers++
		}
	}
	rows, err := s.Pending(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return answers, len(rows)
}

func TestATextIsKeptHeardAndAnsweredInOneTransaction(t *testing.T) {
	farm, file, now := onAFile(t)
	s := &tallied{Store: file}
	sched, ana := New(Options{Store: s, Farm: farm}), farm.Contacts[0]
	accept := func(id, words string) bool {
		t.Helper()
		heard, err := sched.Accept(t.Context(), "sms", []store.In{{ID: id, From: ana.Phone, Contact: ana.Name, Text: words, Sent: now}}, id, now)
		if err != nil {
			t.Fatal(err)
		}
		return heard
	}
	pass := func() {
		t.Helper()
		if _, err := sched.Pass(t.Context(), now); err != nil {
			t.Fatal(err)
		}
	}
	if accept("1", "creek 9 8 10") {
		t.Error("a text is heard with the rest before any pass ended well: if it ends the program the others are never heard")
	}
	pass()
	s.n = 0
	if heard := accept("2", "hill 12 11"); !heard || s.n != 1 {
		t.Errorf("heard: %t, in %d transactions", heard, s.n)
	}
	if answers, waiting := answersTo(t, file, "1", "2"); answers != 2 || waiting != 0 {
		t.Errorf("%d are answered, %d wait", answers, waiting)
	}
	if cursor, err := file.Cursor(t.Context(), "sms"); cursor != "2" {
		t.Errorf("the carrier is read up to %q, %v", cursor, err)
	}
	if heard := accept("2", "hill 12 11"); !heard {
		t.Error("what the carrier brings twice keeps a pass waiting")
	}
	// What waits for another reason is heard before, in the order received.
	if err := file.Accept(t.Context(), Earlier, []store.In{{ID: "3", From: ana.Phone, Contact: ana.Name, Text: "off lane"}}, "", now); err != nil {
		t.Fatal(err)
	}
	if accept("4", "lane 9") {
		t.Error("it is heard before what came before it")
	}
	pass()
	if answers, waiting := answersTo(t, file, "4"); answers != 1 || waiting != 0 {
		t.Errorf("after a pass %d is answered, %d wait", answers, waiting)
	}
}

func TestATextThatCannotBeHeardIsKept(t *testing.T) {
	for name, falls := range map[string]bool{"it fails": false, "the program falls over it": true} {
		t.Run(name, func(t *testing.T) {
			farm, file, now := onAFile(t)
			sched, ana := New(Options{Store: &stubborn{Store: file, falls: falls}, Farm: farm}), farm.Contacts[0]
			if _, err := sched.Pass(t.Context(), now); err != nil {
				t.Fatal(err)
			}
			heard, err := sched.Accept(t.Context(), "sms", []store.In{{ID: "1", From: ana.Phone, Contact: ana.Name, Text: "creek 9"}}, "", now)
			if heard || err != nil {
				t.Errorf("heard: %t, %v", heard, err)
			}
			if answers, waiting := answersTo(t, file, "1"); answers != 0 || waiting != 1 {
				t.Errorf("%d are answered, %d wait", answers, waiting)
			}
		})
	}
}

// A full store writes nothing more.
type full struct{ *store.Store }

func (full) AcceptAnd(context.Context, string, []store.In, string, time.Time, func(*store.Tx) error) error {
	return &disk.Error{Kind: disk.ErrFull, Op: "accept", Err: errors.New("database or disk is full")}
}

func TestATextThatCannotBeKeptIsNotAcknowledged(t *testing.T) {
	farm, file, now := onAFile(t)
	sched := New(Options{Store: full{file}, Farm: farm})
	if heard, err := sched.Accept(t.Context(), "sms", []store.In{{ID: "1", Text: "creek 9"}}, "", now); heard || !errors.Is(err, disk.ErrFull) {
		t.Errorf("heard: %t, %v", heard, err)
	}
}
