package notify_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// A ledger is a store that notes what is asked of it, and refuses to claim what
// follows where it is told so.
type ledger struct {
	*store.Store
	asked []string
	alone bool // a claim that settles fails
}

func (l *ledger) Claim(ctx context.Context, now time.Time, f store.ClaimFor, word func(*notify.Envelope) error) (*store.Message, error) {
	if f.Ended != nil && l.alone {
		return nil, errors.New("it cannot be claimed")
	}
	m, err := l.Store.Claim(ctx, now, f, word)
	l.asked = append(l.asked, fmt.Sprintf("claim settles=%t some=%t", f.Ended != nil, m != nil))
	return m, err
}

func (l *ledger) Settle(ctx context.Context, attempt int64, o notify.Outcome, now time.Time) error {
	l.asked = append(l.asked, "settle")
	return l.Store.Settle(ctx, attempt, o, now)
}

// burst is three texts to Ana by a carrier.
func burst(t *testing.T, carrier notify.Carrier, alone bool) (*post, *ledger) {
	p := newPost(t)
	l := &ledger{Store: p.store, alone: alone}
	p.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: l, Carriers: []notify.Carrier{carrier}, Jitter: func() float64 { return 0.5 },
		Rules: notify.Rules{Zone: time.UTC, Contacts: []ladder.Contact{{Name: "Ana", Phone: "+15555550142"}, {Name: "Luis", Phone: "+15555550143"}}},
	})
	p.wants(shut("creek", "Creek", "Ana"), shut("hill", "Hill", "Luis"))
	p.drain(morning)
	if n := p.inState(store.Sent); n != 2 {
		t.Errorf("%d of 2 are written down as sent: %q", n, l.asked)
	}
	return p, l
}

func TestABurstPaysTheDiskOnceForEachTextThatMayBeHandedOverTwice(t *testing.T) {
	bag := &mailbag{retry: notify.Safe}
	_, l := burst(t, bag, false)
	want := []string{"claim settles=false some=true", "claim settles=true some=true", "claim settles=true some=false", "claim settles=false some=false"}
	if !slices.Equal(l.asked, want) {
		t.Errorf("asked of the store is %q, want %q", l.asked, want)
	}
}

func TestWhatCannotBeHandedOverTwiceIsSettledBeforeTheNext(t *testing.T) {
	_, l := burst(t, &mailbag{}, false)
	if n := slices.Index(l.asked, "settle"); n != 1 || slices.Contains(l.asked, "claim settles=true some=true") {
		t.Errorf("asked of the store is %q", l.asked)
	}
}

func TestAnOutcomeIsKeptThoughTheNextCannotBeClaimed(t *testing.T) {
	p, l := burst(t, &mailbag{retry: notify.Safe}, true)
	if len(p.fails) != 0 || !slices.Contains(l.asked, "settle") {
		t.Errorf("asked of the store is %q, failed is %q", l.asked, p.fails)
	}
}
