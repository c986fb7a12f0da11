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

func (l *ledger) Claim(ctx context.Context, now time.Time, f store.ClaimFor, word func(*notify.Envelope) error) ([]*store.Message, error) {
	if len(f.Ended) > 0 && l.alone {
		return nil, errors.New("it cannot be claimed")
	}
	all, err := l.Store.Claim(ctx, now, f, word)
	l.asked = append(l.asked, fmt.Sprintf("claim settles=%d some=%d", len(f.Ended), len(all)))
	return all, err
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
	want := []string{"claim settles=0 some=1", "claim settles=1 some=1", "claim settles=1 some=0", "claim settles=0 some=0"}
	if !slices.Equal(l.asked, want) {
		t.Errorf("asked of the store is %q, want %q", l.asked, want)
	}
}

// many are answers to Ana, queued for a carrier.
func many(t *testing.T, carrier notify.Carrier, n int) (*post, *ledger) {
	p := newPost(t)
	l := &ledger{Store: p.store}
	p.courier = notify.NewCourier(notify.CourierOptions{
		Outbox: l, Carriers: []notify.Carrier{carrier}, Jitter: func() float64 { return 0.5 },
		Rules: notify.Rules{Zone: time.UTC, Contacts: []ladder.Contact{{Name: "Ana", Phone: "+15555550142"}}},
	})
	for i := range n {
		p.answer("Ana", fmt.Sprint("creek ", i))
	}
	return p, l
}

func TestALongBurstSharesTransactionsAndKeepsItsOrder(t *testing.T) {
	bag := &mailbag{retry: notify.Safe}
	p, l := many(t, bag, 40)
	p.drain(morning)
	if n := p.inState(store.Sent); n != 40 || len(bag.got) != 40 || len(l.asked) > 8 {
		t.Errorf("%d of 40 are written down as sent, %d were handed over; asked of the store is %q", n, len(bag.got), l.asked)
	}
	all, err := p.store.Fates(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range all { // in the order queued
		if id := bag.got[i].Notices[0].Key; f.Notice.Key != id {
			t.Errorf("%v is said as number %d, before %v", id, i, f.Notice.Key)
		}
	}
}

// What of a burst its carrier did not come to is queued as it was, and is said once.
func TestWhatABreakOfTheCarrierLeavesOfABurstIsSaidOnceLater(t *testing.T) {
	for name, breaks := range map[string]func(stop func()) notify.Outcome{
		"its line is down":                   func(func()) notify.Outcome { return notify.Outcome{State: notify.Temporary, Down: true} },
		"one is refused":                     func(func()) notify.Outcome { return notify.Outcome{State: notify.Permanent} },
		"nobody knows whether one went":      func(func()) notify.Outcome { return notify.Outcome{State: notify.UnknownState} },
		"the program is told to stop":        func(stop func()) notify.Outcome { stop(); return notify.Outcome{} },
		"it takes longer than a whole burst": func(func()) notify.Outcome { time.Sleep(1100 * time.Millisecond); return notify.Outcome{} },
	} {
		t.Run(name, func(t *testing.T) {
			ctx, stop := context.WithCancel(t.Context())
			bag := &mailbag{retry: notify.Safe}
			p, _ := many(t, bag, 20)
			bag.answer = func(_ notify.Envelope, n int) notify.Outcome {
				if n == 10 { // among several claimed together
					return breaks(stop)
				}
				return notify.Outcome{State: notify.Sent}
			}
			if err := p.courier.Drain(ctx, morning); err != nil {
				t.Fatal(err)
			}
			if n := p.inState(store.Sending); n != 0 {
				t.Errorf("%d are under way with nobody", n)
			}
			p.drain(morning.Add(2 * time.Hour))
			said := map[string]int{}
			for _, e := range bag.got {
				said[e.ID]++
			}
			tries, odd := 0, 0
			for _, n := range said {
				if tries += n; n > 1 {
					odd++
				}
			}
			if len(said) != 20 || tries > 21 || odd > 1 {
				t.Errorf("%d of 20 were said, %d times in all", len(said), tries)
			}
		})
	}
}

func TestWhatCannotBeHandedOverTwiceIsSettledBeforeTheNext(t *testing.T) {
	_, l := burst(t, &mailbag{}, false)
	if n := slices.Index(l.asked, "settle"); n != 1 || slices.Contains(l.asked, "claim settles=1 some=1") {
		t.Errorf("asked of the store is %q", l.asked)
	}
}

func TestAnOutcomeIsKeptThoughTheNextCannotBeClaimed(t *testing.T) {
	p, l := burst(t, &mailbag{retry: notify.Safe}, true)
	if len(p.fails) != 0 || !slices.Contains(l.asked, "settle") {
		t.Errorf("asked of the store is %q, failed is %q", l.asked, p.fails)
	}
}
