package store

import (
	"context"
	"errors"
	"time"

	"stubbled/store/disk"
)

// Check writes one row and reads it back: whether the store answers. Where the
// reserve was spent it is filled up again if there is room.
func (s *Store) Check(ctx context.Context) error {
	var wrote, read int64
	err := s.writing(ctx, "self-check", time.Time{}, func(t *Tx) error {
		return t.db.Row(`UPDATE clock SET beat = beat + 1 WHERE id = 1 RETURNING beat`).Scan(&wrote)
	})
	if err != nil {
		return err
	}
	if err := s.db.Look(ctx, "self-check").Row(`SELECT beat FROM clock WHERE id = 1`).Scan(&read); err != nil {
		return err
	}
	if read < wrote {
		return &disk.Error{Kind: disk.ErrIO, Op: "self-check", Path: s.Path(), Err: errors.New("what was written does not read back")}
	}
	s.db.Refill()
	return nil
}

// NextDue is the earliest moment after a given one at which a queued row or a
// retry comes due; zero where there is none.
func (s *Store) NextDue(ctx context.Context, after time.Time) (at time.Time, err error) {
	err = s.db.Look(ctx, "look ahead").Row(`SELECT min(at) FROM (
			SELECT min(not_before) AS at FROM outbox WHERE state = 'queued' AND message IS NULL AND not_before > ?1
			UNION ALL SELECT min(next_at) FROM messages WHERE next_at > ?1)`, after.Unix()).Scan((*instant)(&at))
	return at, err
}

// Backlog is what waits.
type Backlog struct {
	Unheard int // texts that nobody has heard yet
	Due     int // what is due and not said yet
	// Oldest is since when the longest waiting of Due is due; zero where there
	// is none.
	Oldest time.Time
	Flying int // handed over, and no answer yet
}

// Backlog counts what waits at a moment.
func (s *Store) Backlog(ctx context.Context, now time.Time) (b Backlog, err error) {
	err = s.db.Look(ctx, "count what waits").Row(`SELECT
			(SELECT count(*) FROM inbox WHERE done_at IS NULL),
			count(*), min(not_before),
			(SELECT count(*) FROM attempts WHERE outcome IS NULL)
		FROM outbox WHERE state = 'queued' AND not_before <= ?1 AND (good_until IS NULL OR good_until >= ?1)`, now.Unix()).
		Scan(&b.Unheard, &b.Due, (*instant)(&b.Oldest), &b.Flying)
	return b, err
}

// NotSaid gives what could not be said since: refused, unknown, expired
// unsaid, and what is held back or tried in vain now. What was merely no
// longer wanted is left out.
func (s *Store) NotSaid(ctx context.Context, since time.Time) ([]SaidRow, error) {
	return disk.All(s.db.Look(ctx, "read what was not said"), scanSaid, `SELECT `+outColumns+` FROM outbox o
		WHERE o.changed_at >= ? AND (o.state IN ('failed', 'unknown', 'expired') OR o.state = 'queued' AND o.why <> '') ORDER BY +o.id`, since.Unix())
}

// Told reports whether what has a key that begins with start was said to
// somebody, as far as can be known, and nothing of it waits.
func (s *Store) Told(ctx context.Context, start string) (bool, error) {
	var said, waits int
	err := s.db.Look(ctx, "look what was said").Row(`SELECT count(*) FILTER (WHERE state IN ('sent', 'unknown')), count(*) FILTER (WHERE state IN ('queued', 'sending'))
		FROM outbox WHERE key >= ?1 AND key < ?1 || char(0x10ffff)`, start).Scan(&said, &waits)
	return said > 0 && waits == 0, err
}

// requeue says something again that was refused, unknown or expired: it is
// queued once more, worded anew and stays until goodUntil whatever a pass
// wants. What may have arrived is marked as a repeat.
func (t *Tx) requeue(row int64, goodUntil time.Time) error {
	n, err := t.move(Queued, "", `by_hand = 1, good_until = ?, not_before = min(not_before, ?),
			repeats = CASE WHEN state = 'unknown' THEN coalesce(message, repeats) ELSE repeats END, message = NULL`,
		"id = ? AND state IN ('failed', 'unknown', 'expired', 'withdrawn')", instant(goodUntil), t.now.Unix(), row)
	if err == nil && n == 0 {
		err = errors.New("say it again: there is no such row that was not said")
	}
	return err
}

// SayAgain queues what could not be said in the last week once more, to be said
// until goodUntil, and gives how many rows that were. It may be called beside a
// running daemon.
func (s *Store) SayAgain(ctx context.Context, rows []int64, goodUntil, now time.Time) (n int, err error) {
	err = s.writeBeside(ctx, "say it again", now, func(t *Tx) error {
		for _, row := range rows {
			if err := t.requeue(row, goodUntil); err != nil {
				return err
			}
			n++
		}
		return nil
	})
	return n, err
}
