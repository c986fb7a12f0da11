package store

import (
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

// Said gives every row of the outbox, in any state, that was planned or
// changed since, oldest first. The rows are shared: they must not be changed.
func (t *Tx) Said(since time.Time) ([]*SaidRow, error) {
	c := &t.s.said
	const stale = 90 * 24 * time.Hour // as much as may lie about unused
	if c.seq == 0 || since.Before(c.from) || since.Sub(c.from) > stale {
		*c = saidCache{from: since, at: map[int64]int{}}
	}
	known := t.seq - 1 // the transaction at hand may change more under its number
	if t.seq == 0 {
		if err := t.db.Row(`SELECT seq FROM clock WHERE id = 1`).Scan(&known); err != nil {
			return nil, err
		}
	}
	// The first time by date; from then on the few that changed, by number.
	which := `o.changed_at >= ?`
	args := []any{c.from.Unix()}
	if c.seq > 0 {
		which, args = `o.seq > ? AND +o.changed_at >= ?`, []any{c.seq, c.from.Unix()}
	}
	err := disk.Each(t.db, func(r disk.Scanner) error {
		s, err := scanSaid(r)
		if err == nil {
			c.put(&s)
		}
		return err
	}, `SELECT `+outColumns+` FROM outbox o WHERE `+which+` ORDER BY +o.id`, args...)
	if err != nil {
		return nil, err
	}
	c.seq = known
	return c.list(since), nil
}

// AskedOf gives what a contact was told since and that is of one of the kinds,
// newest first: the questions that may still be open.
func (t *Tx) AskedOf(contact string, since time.Time, kinds ...ladder.Kind) ([]SaidRow, error) {
	of, err := jsonList(kinds)
	if err != nil {
		return nil, err
	}
	return disk.All(t.db, scanSaid, `SELECT `+outColumns+` FROM outbox o WHERE o.contact = ? AND o.changed_at >= ? AND o.state IN ('sent', 'unknown')
		AND o.kind IN (SELECT value FROM json_each(?)) ORDER BY o.changed_at DESC, +o.id DESC`, contact, since.Unix(), of)
}
