package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"stubbled/store/panics"
)

// Tx is one write transaction with one now: every row of a change agrees.
type Tx struct {
	ctx context.Context
	tx  *sql.Tx
	s   *Store
	now time.Time
	seq int64 // of the outbox rows changed here; 0 until the first
	own map[string]*sql.Stmt
}

// Update runs decide in one write transaction and commits it when decide
// returns nil; otherwise nothing of it stays. Nothing slow may happen inside.
func (s *Store) Update(ctx context.Context, now time.Time, decide func(*Tx) error) error {
	return s.writing(ctx, "write", now, decide)
}

func (s *Store) writing(ctx context.Context, op string, now time.Time, f func(*Tx) error) error {
	if s.lock == nil {
		return fmt.Errorf("%s: %w: only the one who holds the lock may write", op, ErrBeside)
	}
	return s.besideOK(ctx, op, now, f)
}

// besideOK is writing for what a second process may do beside the daemon.
func (s *Store) besideOK(ctx context.Context, op string, now time.Time, f func(*Tx) error) (err error) {
	if s.write == nil {
		return fmt.Errorf("%s: %w: opened only to look", op, ErrBeside)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	defer func() { s.wrote(err) }()
	tx, err := s.begin(ctx)
	if err != nil {
		return s.explain(op, err)
	}
	t := &Tx{ctx: ctx, tx: tx, s: s, now: now}
	done := false
	defer func() {
		if !done {
			s.said.forget()
			err = errors.Join(err, t.rollback())
		}
	}()
	// A fault of the program in one decision is a failure like any other.
	if err := panics.Error(s.log, func() error { return f(t) }); err != nil {
		return s.explain(op, err)
	}
	if err := tx.Commit(); err != nil {
		return s.explain(op, err)
	}
	done = true
	return nil
}

func (s *Store) begin(ctx context.Context) (*sql.Tx, error) {
	if err := s.keep(ctx); err != nil {
		return nil, err
	}
	return s.write.BeginTx(ctx, nil)
}

func (t *Tx) rollback() error {
	if err := t.tx.Rollback(); err != nil && !errors.Is(err, sql.ErrTxDone) {
		return t.s.explain("roll back", err)
	}
	return nil
}

// Now is the time of this transaction.
func (t *Tx) Now() time.Time { return t.now }

// nextSeq numbers the changes of the outbox by transaction.
func (t *Tx) nextSeq() (int64, error) {
	if t.seq != 0 {
		return t.seq, nil
	}
	err := t.row(`UPDATE clock SET seq = seq + 1 WHERE id = 1 RETURNING seq`).Scan(&t.seq)
	return t.seq, err
}

type scanner interface{ Scan(...any) error }

// collect reads all rows and closes them.
func collect[T any](rows *sql.Rows, scan func(scanner) (T, error)) ([]T, error) {
	defer rows.Close()
	var all []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, rows.Err()
}

func unixOrNil(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return t.Unix()
}

func timeOrZero(n sql.NullInt64) time.Time {
	if !n.Valid {
		return time.Time{}
	}
	return time.Unix(n.Int64, 0).UTC()
}

func idOrNil(id int64) any {
	if id == 0 {
		return nil
	}
	return id
}
