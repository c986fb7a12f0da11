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
	err = s.db.Near(ctx, "look ahead", func(q disk.Querier) error {
		return q.Row(`SELECT min(at) FROM (
			SELECT min(not_before) AS at FROM outbox WHERE state = 'queued' AND message IS NULL AND not_before > ?1
			UNION ALL SELECT min(next_at) FROM messages WHERE next_at > ?1)`, after.Unix()).Scan((*instant)(&at))
	})
	return at, err
}

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

// NextEnd is when the first of what is queued stops being true; zero where none does.
func (t *Tx) NextEnd() (at time.Time, err error) {
	err = t.db.Row(`SELECT min(good_until) FROM outbox INDEXED BY outbox_due WHERE state = 'queued' AND good_until >= ?`, t.now.Unix()).Scan((*instant)(&at))
	return at, err
}

// A Mark is how far the database has come: as long as it is the same nothing that
// decides what is said has changed in it, but the inbox.
type Mark struct {
	Outbox, Fact int64 // the last change of the outbox, the newest fact
	News         int64 // rises with what is observed, and who opts out
}

// farCome is how far the database has come, and the plan it keeps. Within a
// transaction nobody else changes them: they are read once.
type farCome struct {
	mark Mark
	plan string
}

const farColumns = `seq, news, max((SELECT coalesce(max(id), 0) FROM facts), (SELECT coalesce(max(seq), 0) FROM sqlite_sequence WHERE name = 'facts')), plan`

func readFar(r disk.Scanner) (*farCome, error) {
	var f farCome
	err := r.Scan(&f.mark.Outbox, &f.mark.News, &f.mark.Fact, &f.plan)
	return &f, err
}

func (t *Tx) farCome() (*farCome, error) {
	if t.far != nil {
		return t.far, nil
	}
	far, err := readFar(t.db.Row(`SELECT ` + farColumns + ` FROM clock WHERE id = 1`))
	if err == nil {
		t.far = far
	}
	return far, err
}

// Mark is how far it has come with this transaction.
func (t *Tx) Mark() (Mark, error) {
	far, err := t.farCome()
	return far.mark, err
}

// Mark is that of one who only looks.
func (s *Store) Mark(ctx context.Context) (Mark, error) {
	far, err := readFar(s.db.Look(ctx, "look what is new").Row(`SELECT ` + farColumns + ` FROM clock WHERE id = 1`))
	return far.mark, err
}

// noteNews notes that what a Mark tells of changed.
func (t *Tx) noteNews() error {
	t.far = nil
	_, err := t.db.Exec(`UPDATE clock SET news = news + 1 WHERE id = 1`)
	return err
}

// SetSeen keeps a time that is certain. Whether it is, is for the caller to
// know: a clock that jumped must not be kept.
func (t *Tx) SetSeen(at time.Time) error {
	_, err := t.db.Exec(`UPDATE clock SET seen_at = ?, run = ? WHERE id = 1`, at.Unix(), t.s.run)
	return err
}
