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
	most  int // messages that it is given together
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
	all, err := c.claim(ctx, l, now, nil)
	for len(all) > 0 && err == nil {
		var ended []store.Ended
		ended, more = c.give(ctx, l, all, now)
		stopped := optedOutOf(all, ended)
		if all, err = c.settle(ctx, l, ended, now); err == nil && stopped != nil {
			err = c.optedOut(ctx, stopped, now)
		}
	}
	return more && err == nil, err
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

// optedOutOf is the message by which the network told of an opt-out, if one did.
func optedOutOf(all []*store.Message, ended []store.Ended) *store.Message {
	for i, e := range ended {
		if e.OptedOut {
			return all[i]
		}
	}
	return nil
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
