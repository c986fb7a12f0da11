package notify

import (
	"context"
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
