package store

import (
	"context"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/store/disk"
)

// Store is one open database. It is safe for use by several goroutines.
type Store struct {
	file
	db  *disk.DB
	run string

	opened time.Time
	log    *slog.Logger

	mu   sync.Mutex // one write at a time, and what is kept of what was read
	told toldCache
	air  airCache

	damage  sync.Mutex
	damaged map[int64]string // the facts that are not what was written, by id
}

// file is what its holder may do with the database as a file.
type file interface {
	Path() string
	Size() (int64, error)
	Backup(ctx context.Context, to string) error
	QuickCheck(ctx context.Context) error
	Trouble() error
	Loss() error
	Forget()
	Close() error
}

// Tx is one write transaction with one now: every row of a change agrees.
type Tx struct {
	s     *Store
	db    *disk.Tx
	now   time.Time
	seq   int64                // of the outbox rows changed here; 0 until the first
	far   *farCome             // nil until it was read
	moved bool                 // more than put new rows in the outbox
	new   []diary.Fact         // recorded here, as they would be read
	outs  map[string]time.Time // when each address opted out; nil until it was asked for
}

// Update runs decide in one write transaction and commits it when decide
// returns nil; otherwise nothing of it stays. Nothing slow may happen inside.
func (s *Store) Update(ctx context.Context, now time.Time, decide func(*Tx) error) error {
	return s.writing(ctx, "write", now, decide)
}

func (s *Store) writing(ctx context.Context, op string, now time.Time, f func(*Tx) error) error {
	if !s.db.Own() {
		return fmt.Errorf("%s: %w: only the one who holds the lock may write", op, disk.ErrBeside)
	}
	return s.writeBeside(ctx, op, now, f)
}

// writeBeside is writing for what a second process may do beside the daemon.
func (s *Store) writeBeside(ctx context.Context, op string, now time.Time, f func(*Tx) error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	err := s.db.Update(ctx, op, func(db *disk.Tx) error { return f(&Tx{s: s, db: db, now: now}) })
	if err != nil {
		s.told.forget()
	}
	return err
}

// Now is the time of this transaction.
func (t *Tx) Now() time.Time { return t.now }

// nextSeq numbers the changes of the outbox by transaction.
func (t *Tx) nextSeq() (int64, error) {
	if t.seq != 0 {
		return t.seq, nil
	}
	far, err := t.farCome()
	if err != nil {
		return 0, err
	}
	far.mark.Outbox++
	t.seq = far.mark.Outbox
	_, err = t.db.Exec(`UPDATE clock SET seq = ? WHERE id = 1`, t.seq)
	return t.seq, err
}

// change sets something in rows of the outbox under the number of this
// transaction.
func (t *Tx) change(set, where string, args ...any) (int64, error) {
	t.moved = true
	seq, err := t.nextSeq()
	if err != nil {
		return 0, err
	}
	return t.db.Exec(`UPDATE outbox SET seq = ?, `+set+` WHERE `+where, append([]any{seq}, args...)...)
}
