package notify

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store"
	"stubbled/store/panics"
)

func (c *Courier) claim(ctx context.Context, l *lane, now time.Time, ended []store.Ended) ([]*store.Message, error) {
	rules := c.current()
	f := claimFor(l.Carrier, rules, now)
	f.AnswersOnly, f.Ended = !c.Sure(), ended
	if l.together() {
		f.Most = l.most
	}
	all, err := c.Outbox.Claim(ctx, now, f, func(e *Envelope) error { return render(rules, l.Carrier, e) })
	if err != nil {
		return nil, fmt.Errorf("claim: %w", err)
	}
	return all, nil
}

func claimFor(carrier Carrier, r Rules, now time.Time) store.ClaimFor {
	y, m, d := now.In(r.Zone).Date()
	most := 0
	if carrier.Medium() == ladder.Text { // the cap is meant for the phone in a pocket
		most = r.Cap
	}
	return store.ClaimFor{
		Medium:  carrier.Medium(),
		Carrier: carrier.Name(),
		Retry:   carrier.Retry(),
		Address: func(name string) string {
			contact, _ := r.Contact(name)
			return contact.Address(carrier.Medium())
		},
		Quiet: func(name string, at time.Time) bool {
			contact, ok := r.Contact(name)
			return ok && contact.Quiet(at, r.Zone)
		},
		Cap:      most,
		DayStart: time.Date(y, m, d, 0, 0, 0, 0, r.Zone),
	}
}

// How many messages one transaction claims at most, and settles with the next, where
// the same may be handed over twice: a burst would pay the disk for each. They are
// handed over at once or go back, so that nothing becomes untrue meanwhile.
const (
	claimTogether = 40
	giveWithin    = time.Second
)

// together reports whether messages of a carrier share transactions: not where it
// must be waited for before each.
func (l *lane) together() bool {
	_, paced := l.Carrier.(pacer)
	return !paced && l.Retry() == Safe
}

// give hands over what was claimed, one after the other for as long as all goes
// well. What it does not come to is queued again as it was.
func (c *Courier) give(ctx context.Context, l *lane, all []*store.Message, now time.Time) (ended []store.Ended, well bool) {
	going, cancel := context.WithTimeout(ctx, giveWithin)
	defer cancel()
	out, given := Outcome{State: Sent}, 0
	for _, m := range all {
		e := store.Ended{Attempt: m.Attempt, Outcome: Outcome{State: Temporary}}
		if given == 0 || out.State == Sent && going.Err() == nil {
			out = c.deliver(ctx, l.Carrier, m, now)
			given, well, e.Outcome = given+1, c.fares(l, out, now), out
			e.After = max(out.After, Backoff(m.N, c.Jitter()))
		}
		ended = append(ended, e)
	}
	if out.State == Sent && given == len(all) {
		given = min(max(l.most, 2*given), claimTogether)
	}
	l.most = given // as many as it takes
	return ended, well
}

// deliverWithin bounds one handing over, whatever the carrier does.
const deliverWithin = 2 * time.Minute

func (c *Courier) deliver(ctx context.Context, carrier Carrier, m *store.Message, now time.Time) Outcome {
	ctx, cancel := context.WithTimeout(ctx, deliverWithin)
	defer cancel()
	if carrier.Retry() == Unsafe {
		m.Going = func() error { return c.Outbox.Going(context.WithoutCancel(ctx), m.Attempt, now) }
	}
	out, _ := handOver(ctx, carrier, m.Envelope, c.Logger)
	c.Logger.Info("handed over", "carrier", carrier.Name(), "kind", m.Kind, "to", m.ToName, "attempt", m.N,
		"outcome", out.State.String(), "code", out.Code)
	return out
}

// handOver is a carrier's Deliver. Where the carrier falls over a fault of the
// program nobody knows whether it said it; that is the message's fault, and the
// others go on.
func handOver(ctx context.Context, carrier Carrier, e Envelope, log *slog.Logger) (out Outcome, fell bool) {
	fault := panics.Error(log, func() error { out = carrier.Deliver(ctx, e); return nil })
	if fault != nil {
		return Outcome{State: UnknownState, Detail: fault.Error()}, true
	}
	return out, false
}

// fares notes how a carrier is after a message; one in trouble rests.
func (c *Courier) fares(l *lane, out Outcome, now time.Time) (well bool) {
	if out.Down {
		l.downs++
		l.until = now.Add(max(out.After, Backoff(l.downs, c.Jitter())))
		c.Fails(l.Carrier, errors.New(out.Detail))
		return false // the others would fare no better
	}
	l.downs = 0
	if out.State == Sent {
		c.Fails(l.Carrier, nil)
	}
	return true
}

// settle writes outcomes down, where the carrier goes on together with the claim of
// the next.
func (c *Courier) settle(ctx context.Context, l *lane, ended []store.Ended, now time.Time) (next []*store.Message, err error) {
	if l.together() && ctx.Err() == nil && ended[len(ended)-1].State == Sent { // and so all are
		next, err := c.claim(ctx, l, now, ended)
		if err == nil {
			return next, nil
		}
		c.Logger.Warn("the next message is claimed by itself", "carrier", l.Name(), "err", err)
	}
	for _, e := range ended {
		if err := c.Outbox.Settle(context.WithoutCancel(ctx), e.Attempt, e.Outcome, now); err != nil {
			return nil, fmt.Errorf("settle: %w", err)
		}
	}
	return nil, nil
}

// optedOutOf is the message by which the network told of an opt-out, if one did.
func optedOutOf(all []*store.Message, ended []store.Ended) *store.Message {
	for i, e := range ended {
		if e.OptedOut {
			return all[i]
		}
	}
	return nil
}

// optedOut keeps an opt-out that the network knows of and we did not.
func (c *Courier) optedOut(ctx context.Context, m *store.Message, now time.Time) error {
	err := c.Outbox.Update(context.WithoutCancel(ctx), now, func(tx *store.Tx) error {
		_, err := tx.Suppress(m.Address, m.ToName, store.WhyStopped)
		return err
	})
	if err != nil {
		return fmt.Errorf("keep the opt-out that the network told of: %w", err)
	}
	return nil
}
