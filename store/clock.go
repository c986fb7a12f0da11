package store

import (
	"context"
	"database/sql"
	"time"
)

// LastSeen is the latest time that was certain; zero before the first.
func (t *Tx) LastSeen() (time.Time, error) {
	var n sql.NullInt64
	err := t.row(`SELECT seen_at FROM clock WHERE id = 1`).Scan(&n)
	return timeOrZero(n), err
}

// SetSeen keeps a time that is certain. Whether it is, is for the caller to
// know: a clock that jumped must not be kept.
func (t *Tx) SetSeen(at time.Time) error {
	_, err := t.exec(`UPDATE clock SET seen_at = ?, run = ? WHERE id = 1`, at.Unix(), t.s.run)
	return err
}

// LastSeen is Tx.LastSeen for those who only look.
func (s *Store) LastSeen(ctx context.Context) (time.Time, error) {
	var n sql.NullInt64
	err := s.read.QueryRowContext(ctx, `SELECT seen_at FROM clock WHERE id = 1`).Scan(&n)
	return timeOrZero(n), s.explain("read the clock", err)
}
