package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"stubbled/store/disk"
)

// A Fate is what became of one row of the outbox, with the words that it went out
// with; they are empty where none were ever made.
type Fate struct {
	SaidRow
	Subject, Text string
}

const fates = `SELECT ` + outColumns + `, coalesce(m.subject, ''), coalesce(m.words, '') FROM outbox o LEFT JOIN messages m ON m.id = o.message `

// Fates gives everything that was ever to be said, in the order planned.
func (s *Store) Fates(ctx context.Context) ([]Fate, error) {
	return disk.All(s.db.Look(ctx, "read what was said"), scanFate, fates+`ORDER BY o.id`)
}

// FatesSince is Fates of what changed since an instant.
func (s *Store) FatesSince(ctx context.Context, since time.Time) ([]Fate, error) {
	return disk.All(s.db.Look(ctx, "read what was said"), scanFate, fates+`WHERE `+changedSince+` ORDER BY o.id`, since.Unix())
}

func scanFate(r disk.Scanner) (f Fate, err error) {
	f.SaidRow, err = scanMore(r, &f.Subject, &f.Text)
	return f, err
}

// AnswerTo gives when a text was heard, zero where it waits, and its answer; nil
// where it has none.
func (s *Store) AnswerTo(ctx context.Context, carrier, id string) (heard time.Time, answer *Fate, err error) {
	var row int64
	err = s.db.Look(ctx, "read the inbox").Row(`SELECT id, done_at FROM inbox WHERE carrier = ? AND carrier_id = ?`, carrier, id).
		Scan(&row, (*instant)(&heard))
	if err != nil || heard.IsZero() {
		return heard, nil, err
	}
	f, err := scanFate(s.db.Look(ctx, "read an answer").Row(fates+`WHERE o.inbox = ?`, row))
	if errors.Is(err, sql.ErrNoRows) {
		return heard, nil, nil
	}
	return heard, &f, err
}

// NotSaid gives what could not be said since: refused, unknown, expired
// unsaid, and what is held back or tried in vain now. What was merely no
// longer wanted is left out.
func (s *Store) NotSaid(ctx context.Context, since time.Time) ([]SaidRow, error) {
	return disk.All(s.db.Look(ctx, "read what was not said"), scanSaid, `SELECT `+outColumns+` FROM outbox o
		WHERE `+changedSince+` AND (o.state IN ('failed', 'unknown', 'expired') OR o.state = 'queued' AND o.why <> '') ORDER BY o.id`, since.Unix())
}

// Told reports whether what has a key that begins with start was said to
// somebody, as far as can be known, and nothing of it waits.
func (s *Store) Told(ctx context.Context, start string) (bool, error) {
	var said, waits int
	err := s.db.Look(ctx, "look what was said").Row(`SELECT count(*) FILTER (WHERE state IN ('sent', 'unknown')), count(*) FILTER (WHERE state IN ('queued', 'sending'))
		FROM outbox WHERE key >= ?1 AND key < ?1 || char(0x10ffff)`, start).Scan(&said, &waits)
	return said > 0 && waits == 0, err
}
