package scheduler

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
	"stubbled/store/disk"
)

// Accept keeps what a carrier brought, as the store's Accept does, and in the same
// transaction makes of it what a pass would; heard is false where it is only kept, and
// a pass is still to come: where others wait or it cannot be heard.
func (s *Scheduler) Accept(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time) (heard bool, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.clock.check(now)
	err = s.forgetting(s.store.AcceptAnd(ctx, carrier, got, cursor, now, func(tx *store.Tx) error {
		if heard = false; !s.steady {
			return nil
		}
		waiting, err := tx.Pending()
		if err != nil || len(waiting) > 0 && !s.last(waiting) {
			return err
		}
		heard = true
		_, err = s.hearAndPlan(tx, waiting)
		return err
	}))
	if !s.ofText(ctx, err) {
		return heard, err
	}
	return false, s.store.AcceptAnd(ctx, carrier, got, cursor, now, func(*store.Tx) error { return nil })
}

func (s *Scheduler) hearAndPlan(tx *store.Tx, waiting []store.InRow) (next time.Time, err error) {
	if err := s.hearIn(tx, waiting); err != nil {
		return next, err
	}
	return s.planAll(tx)
}

// last reports whether those that wait are heard where it is planned.
func (s *Scheduler) last(waiting []store.InRow) bool {
	return s.together(waiting) == len(waiting) && waiting[0].Carrier != Earlier
}

// hearTogether is how many texts share one transaction: a burst must not pay the
// disk for each.
const hearTogether = 40

// together is how many of those that wait are heard in the next transaction; what
// is heard as of an earlier moment has one of its own. So has each until a pass of
// this run ended well: where the power goes again and again, or one text ends the
// program, the others are heard.
func (s *Scheduler) together(waiting []store.InRow) int {
	n := slices.IndexFunc(waiting, func(in store.InRow) bool { return in.Carrier == Earlier })
	if n < 0 {
		n = len(waiting)
	}
	if !s.steady {
		n = 1
	}
	return max(1, min(n, hearTogether))
}

func (s *Scheduler) hearIn(tx *store.Tx, some []store.InRow) error {
	for _, in := range some {
		if err := s.hear(tx, in); err != nil {
			return err
		}
	}
	return nil
}

// hearAll hears some texts in one transaction; where one of them fails, each by
// itself.
func (s *Scheduler) hearAll(ctx context.Context, now time.Time, some []store.InRow) error {
	if len(some) > 1 {
		err := s.update(ctx, now, func(tx *store.Tx) error { return s.hearIn(tx, some) })
		if !s.ofText(ctx, err) {
			return err
		}
	}
	for _, in := range some {
		if err := s.hearOne(ctx, now, in); err != nil {
			return err
		}
	}
	return nil
}

// HearEarlier hears what was typed as of an earlier moment, and nothing else.
func (s *Scheduler) HearEarlier(ctx context.Context) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	waiting, err := s.store.Pending(ctx)
	if err != nil {
		return fmt.Errorf("read the inbox: %w", err)
	}
	for _, in := range waiting {
		if in.Carrier == Earlier {
			err = errors.Join(err, s.hearOne(ctx, in.Received, in))
		}
	}
	return err
}

// mostTries is how often a text is tried that cannot be heard.
const mostTries = 3

// hearOne hears one text. One that fails each time must not keep the others
// waiting: after a few tries its sender is told that it could not be read.
func (s *Scheduler) hearOne(ctx context.Context, now time.Time, in store.InRow) error {
	if in.Carrier == Earlier {
		now = in.Received
	}
	err := s.update(ctx, now, func(tx *store.Tx) error { return s.hear(tx, in) })
	if !s.ofText(ctx, err) {
		delete(s.tries, in.Row)
		return err
	}
	if s.tries == nil {
		s.tries = map[int64]int{}
	}
	s.tries[in.Row]++
	s.log.Error("a text could not be heard", "row", in.Row, "try", s.tries[in.Row], "err", err)
	if s.tries[in.Row] < mostTries {
		return nil
	}
	delete(s.tries, in.Row)
	return s.update(ctx, now, func(tx *store.Tx) error { return s.giveUp(tx, in) })
}

// ofText reports whether what failed may be the fault of a text.
func (s *Scheduler) ofText(ctx context.Context, err error) bool {
	var ofDisk *disk.Error
	return err != nil && ctx.Err() == nil && !errors.As(err, &ofDisk)
}

// giveUp marks a text as heard and says that it could not be read.
func (s *Scheduler) giveUp(tx *store.Tx, in store.InRow) error {
	fresh, err := tx.Heard(in.Row)
	c, ok := s.farm.Contact(in.Contact)
	if err != nil || !fresh || !ok || in.Contact == "" {
		return err
	}
	h := hearing{Scheduler: s, tx: tx, in: in, from: *c, now: tx.Now(), by: medium(in.Carrier, *c, in.From), sent: in.Received, day: civil.DateOf(in.Received.In(s.farm.Zone))}
	return h.queue([]ladder.Part{h.questionBack(&diary.Question{Why: diary.Unclear})})
}
