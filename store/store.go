package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// Options is what Open needs to know besides the path.
type Options struct {
	RunID  string       // names this run of the program in the attempts; required
	Now    time.Time    // the start, to date what the last run left open; required
	Logger *slog.Logger // nil: silent
	// Volatile leaves out the sync of each commit: for a rehearsal, whose
	// database goes with it.
	Volatile bool
}

// Store is one open database. It is safe for use by several goroutines.
type Store struct {
	path     string
	run      string
	volatile bool // commits are not synced
	log      *slog.Logger
	lock     *os.File // nil where only looked at, or beside a running daemon
	write    *sql.DB  // one connection; nil where only looked at
	read     *sql.DB

	mu   sync.Mutex // one write at a time, and said
	said saidCache
	kept map[string]*sql.Stmt // nil: to be kept

	aftermath error
	trouble   atomic.Pointer[error] // of the last write; nil where it went well
}

// Open takes the lock, backs the file up and migrates it where its schema is
// older, checks it, and turns what the last run left under way into unknown
// outcomes. It fails with ErrLocked, ErrNewer, ErrNotOurs, ErrDamaged,
// ErrReadOnly, ErrFull or ErrIO, each with the mend in words.
func Open(ctx context.Context, path string, o Options) (*Store, error) {
	if o.RunID == "" || o.Now.IsZero() {
		return nil, errors.New("open store: a run id and the time are needed")
	}
	s, err := newStore(path, o)
	if err != nil {
		return nil, err
	}
	if s.lock, err = lockFile(s.path); err != nil {
		return nil, err
	}
	reserve := exists(s.reserve())
	err = s.start(ctx, o.Now)
	if errors.Is(err, ErrFull) && reserve { // whoever met it first gave it back
		s.giveBack(err)
		s.closePools()
		s.kept = map[string]*sql.Stmt{} // they belong to what was closed
		s.said.forget()
		err = s.start(ctx, o.Now)
	}
	if err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

// OpenBeside opens the database of a daemon that may be running, to put
// something in its inbox: Accept and all that only looks. The schema must be
// the current one.
func OpenBeside(ctx context.Context, path string) (*Store, error) {
	s, err := newStore(path, Options{RunID: "beside"})
	if err != nil {
		return nil, err
	}
	if err := s.openBeside(ctx); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

// OpenRead opens the database to look at it. It never writes, takes no lock,
// and may be used beside a running daemon.
func OpenRead(ctx context.Context, path string) (*Store, error) {
	s, err := newStore(path, Options{})
	if err != nil {
		return nil, err
	}
	if err := s.openRead(ctx); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

func newStore(path string, o Options) (*Store, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("open store %s: %w", path, err)
	}
	if o.Logger == nil {
		o.Logger = slog.New(slog.DiscardHandler)
	}
	return &Store{path: abs, run: o.RunID, log: o.Logger, volatile: o.Volatile, kept: map[string]*sql.Stmt{}}, nil
}

func (s *Store) start(ctx context.Context, now time.Time) error {
	if err := emptied(s.path); err != nil {
		return err
	}
	// The file holds names and phone numbers: it is for its owner alone.
	f, err := os.OpenFile(s.path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return s.explainFile("open", err)
	}
	f.Close()
	if err := s.lookBack(); err != nil {
		return err
	}
	if err := s.atRest(); err != nil {
		return err
	}
	// Looked at first through a connection that cannot write: a file that is
	// not ours stays as it is.
	if err := s.openReaders(""); err != nil {
		return err
	}
	have, err := s.version(ctx, s.read)
	if err != nil {
		return err
	}
	if err := s.openWriter(); err != nil {
		return err
	}
	if err := s.migrate(ctx, have, now); err != nil {
		return err
	}
	if err := s.recover(ctx, now); err != nil {
		return err
	}
	s.refill()
	return nil
}

// Path is the database file.
func (s *Store) Path() string { return s.path }

// Close releases the database and the lock. It waits for the write in hand.
func (s *Store) Close() error {
	var errs []error
	if s.lock != nil && s.write != nil {
		errs = append(errs, s.atRest()) // before the log goes
	}
	errs = append(errs, s.closePools())
	if s.lock != nil {
		errs = append(errs, s.lock.Close())
	}
	return errors.Join(errs...)
}

func (s *Store) closePools() error {
	var errs []error
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	return errors.Join(errs...)
}

// explainFile explains an error of the file system.
func (s *Store) explainFile(op string, err error) error {
	return fileError(s.path, op, err)
}

func fileError(path, op string, err error) error {
	kind := ErrNoFile
	switch {
	case errors.Is(err, os.ErrPermission), errors.Is(err, syscall.EROFS):
		kind = ErrReadOnly
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		kind = ErrFull
	case errors.Is(err, syscall.EIO):
		kind = ErrIO
	}
	return &Error{Kind: kind, Op: op, Path: path, Err: err}
}
