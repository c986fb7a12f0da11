package store

import (
	"context"
	"time"

	"stubbled/store/disk"
)

func lastSeen(q disk.Querier) (at time.Time, err error) {
	err = q.Row(`SELECT seen_at FROM clock WHERE id = 1`).Scan((*instant)(&at))
	return at, err
}

// LastSeen is the latest time that was certain; zero before the first.
func (t *Tx) LastSeen() (time.Time, error) { return lastSeen(t.db) }

// LastSeen is Tx.LastSeen for those who only look.
func (s *Store) LastSeen(ctx context.Context) (time.Time, error) {
	return lastSeen(s.db.Look(ctx, "read the clock"))
}

// SetSeen keeps a time that is certain. Whether it is, is for the caller to
// know: a clock that jumped must not be kept.
func (t *Tx) SetSeen(at time.Time) error {
	_, err := t.db.Exec(`UPDATE clock SET seen_at = ?, run = ? WHERE id = 1`, at.Unix(), t.s.run)
	return err
}
