package daemon

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/notify"
	"stubbled/store"
)

// A tallied store counts the texts that are only kept, and those that are heard with it.
type tallied struct {
	*store.Store
	kept, heard atomic.Int64
}

func (s *tallied) Accept(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time) error {
	s.kept.Add(1)
	return s.Store.Accept(ctx, carrier, got, cursor, now)
}

func (s *tallied) AcceptAnd(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time, then func(*store.Tx) error) error {
	s.heard.Add(1)
	return s.Store.AcceptAnd(ctx, carrier, got, cursor, now, then)
}

func talliedOffice(t *testing.T) (*office, *tallied) {
	o, s := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 07:00"), &tallied{}
	o.d.store.Close()
	o.d.Through = func(file *store.Store) Store { s.Store = file; return s }
	if err := o.d.open(t.Context()); err != nil {
		t.Fatal(err)
	}
	o.turn("2026-08-22 07:00")
	return o, s
}

func TestATextThatTheDaemonWaitsForIsHeardAsItIsKept(t *testing.T) {
	o, s := talliedOffice(t)
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- o.d.loop(ctx) }()
	for i := 0; s.heard.Load() == 0; i++ {
		if i > 60 {
			t.Fatal("every text is kept by itself")
		}
		time.Sleep(time.Duration(1+i) * 20 * time.Millisecond) // the loop comes to wait, on a slow machine too
		o.says("Ana", "creek 9 8 "+strings.Repeat("9 ", i))
	}
	waiting, err := o.d.store.Pending(t.Context())
	if err != nil || len(waiting) != 0 {
		t.Errorf("it waits though it was kept: %v, %v", waiting, err)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if got := o.screen.String(); !strings.Contains(got, "TAKE THEM OFF Creek Bottom. 8.5 in") {
		t.Errorf("it says\n%s", got)
	}
}

func TestATextThatComesDuringATurnIsKeptAtOnce(t *testing.T) {
	o, s := talliedOffice(t)
	o.says("Ana", "creek 9 8 10") // nobody waits for it
	if s.kept.Load() != 1 || s.heard.Load() != 0 || len(o.d.wake) != 1 {
		t.Errorf("%d kept, %d heard, %d turns asked for", s.kept.Load(), s.heard.Load(), len(o.d.wake))
	}
}

func TestATurnThatFailsKeepsTheTextThatItWasGiven(t *testing.T) {
	o, s := talliedOffice(t)
	o.d.proof = &proof{done: make(chan struct{}), err: errors.New("a page is damaged")}
	close(o.d.proof.done)
	b := &brought{through: s, carrier: "sms", got: []notify.Received{{ID: "1", Text: "creek 9"}}, now: o.clock.Time, kept: make(chan error, 1)}
	if err := o.d.turn(t.Context(), b); err == nil {
		t.Fatal("the turn goes well")
	}
	waiting, err := o.d.store.Pending(t.Context())
	if told := <-b.kept; told != nil || err != nil || len(waiting) != 1 {
		t.Errorf("%v told, %d wait, %v", told, len(waiting), err)
	}
}
