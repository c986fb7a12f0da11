package notify

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"stubbled/store"
)

// A lane is one carrier, which is drained by one at a time. While the carrier is
// in trouble one message at a time tries it, less and less often; all others
// wait, and nothing comes of their waiting.
type lane struct {
	Carrier
	mu    sync.Mutex
	busy  bool
	asked ask // the newest, which whoever drains goes by
	downs int // troubles in a row
	until time.Time
}

// An ask is one call of Drain.
type ask struct {
	ctx context.Context
	now time.Time
	n   int
}

// A pacer is a carrier that hands over only so much in a time. Turn comes back
// when it may be given the next message. It is waited for before one is claimed,
// so that a power cut meanwhile leaves nothing under way, and what has become
// more urgent goes first.
type pacer interface {
	Turn(ctx context.Context) error
}

// ask leaves word that the carrier is to be drained; mine says that nobody does
// so yet.
func (l *lane) ask(ctx context.Context, now time.Time) (mine bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	mine = !l.busy
	l.busy, l.asked = true, ask{ctx, now, l.asked.n + 1}
	return mine
}

func (l *lane) newest() ask {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.asked
}

// done leaves the lane, unless somebody asked since.
func (l *lane) done(with ask) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.busy = l.asked.n != with.n
	return !l.busy
}

// leave leaves the lane where draining it did not come to its end.
func (l *lane) leave() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.busy = false
}

// rests reports whether the carrier is let alone. A clock that was set back since
// is not waited for.
func (l *lane) rests(now time.Time) bool {
	return now.Before(l.until) && l.until.Sub(now) <= mostRest
}

// mostRest is longer than any carrier asks for, or is given.
const mostRest = 25 * time.Hour

// run drains a lane until nothing is due and nobody asked since: what came in
// while it was busy waits for no other beat.
func (c *Courier) run(l *lane) error {
	left := false
	defer func() {
		if !left { // by a fault, or by a fall
			l.leave()
		}
	}()
	for !left {
		with := l.newest()
		more, err := c.next(with.ctx, l, with.now)
		if err != nil {
			return err
		}
		left = !more && l.done(with)
	}
	return nil
}

// next hands over what is most urgent; more is false where nothing is due, or the
// carrier rests.
func (c *Courier) next(ctx context.Context, l *lane, now time.Time) (more bool, err error) {
	if l.rests(now) {
		return false, nil
	}
	if p, ok := l.Carrier.(pacer); ok && p.Turn(ctx) != nil || ctx.Err() != nil {
		return false, nil
	}
	m, err := c.claim(ctx, l.Carrier, now, nil)
	for m != nil && err == nil {
		out, of := c.deliver(ctx, l.Carrier, m, now), m
		rest := out.After
		out.After = max(rest, Backoff(m.N, c.Jitter()))
		if m, err = c.settle(ctx, l.Carrier, m, out, now); err == nil && out.OptedOut {
			err = c.optedOut(ctx, of, now)
		}
		more = c.fares(l, out, rest, now)
	}
	return more && err == nil, err
}

// settle writes an outcome down. Where the same may be handed over twice the next
// message is claimed in the same transaction, or a burst would pay the disk twice
// for each; not where its carrier must be waited for first.
func (c *Courier) settle(ctx context.Context, carrier Carrier, m *store.Message, out Outcome, now time.Time) (next *store.Message, err error) {
	if _, paced := carrier.(pacer); !paced && carrier.Retry() == Safe && out.State == Sent && ctx.Err() == nil {
		next, err := c.claim(ctx, carrier, now, &store.Ended{Attempt: m.Attempt, Outcome: out})
		if err == nil {
			return next, nil
		}
		c.Logger.Warn("the next message is claimed by itself", "carrier", carrier.Name(), "err", err)
	}
	if err := c.Outbox.Settle(context.WithoutCancel(ctx), m.Attempt, out, now); err != nil {
		return nil, fmt.Errorf("settle: %w", err)
	}
	return nil, nil
}

func (c *Courier) claim(ctx context.Context, carrier Carrier, now time.Time, ended *store.Ended) (*store.Message, error) {
	rules := c.current()
	f := claimFor(carrier, rules, now)
	f.AnswersOnly, f.Ended = !c.Sure(), ended
	m, err := c.Outbox.Claim(ctx, now, f, func(e *Envelope) error { return render(rules, carrier, e) })
	if err != nil {
		return nil, fmt.Errorf("claim: %w", err)
	}
	return m, nil
}

// fares notes how a carrier is after a message; one in trouble rests.
func (c *Courier) fares(l *lane, out Outcome, rest time.Duration, now time.Time) (well bool) {
	if out.Down {
		l.downs++
		l.until = now.Add(max(rest, Backoff(l.downs, c.Jitter())))
		c.Fails(l.Carrier, errors.New(out.Detail))
		return false // the others would fare no better
	}
	l.downs = 0
	if out.State == Sent {
		c.Fails(l.Carrier, nil)
	}
	return true
}
