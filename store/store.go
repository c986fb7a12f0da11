package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"time"

	"modernc.org/sqlite" // also the driver "sqlite"
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

	aftermath error
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
	if err := s.start(ctx, o.Now); err != nil {
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
	return &Store{path: abs, run: o.RunID, log: o.Logger, volatile: o.Volatile}, nil
}

func (s *Store) start(ctx context.Context, now time.Time) error {
	// The file holds names and phone numbers: it is for its owner alone.
	f, err := os.OpenFile(s.path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return s.explainFile("open", err)
	}
	f.Close()
	if err := s.lookBack(); err != nil {
		return err
	}
	if err := writePID(s.lock, ""); err != nil {
		return err
	}
	// Looked at first through a connection that cannot write: a file that is
	// not ours stays as it is.
	if err := s.openReaders(); err != nil {
		return err
	}
	have, err := s.version(ctx, s.read)
	if err != nil {
		return err
	}
	if s.write, err = sql.Open("sqlite", dsn(s.path, "rw")); err != nil {
		return s.explain("open", err)
	}
	s.write.SetMaxOpenConns(1)
	if s.volatile {
		if _, err := s.write.ExecContext(ctx, "PRAGMA synchronous=OFF"); err != nil {
			return s.explain("open", err)
		}
	}
	if err := s.migrate(ctx, have, now); err != nil {
		return err
	}
	return s.recover(ctx, now)
}

func (s *Store) openReaders() (err error) {
	if s.read, err = sql.Open("sqlite", dsn(s.path, "ro")); err != nil {
		return s.explain("open", err)
	}
	s.read.SetMaxOpenConns(4)
	return nil
}

func (s *Store) openBeside(ctx context.Context) error {
	if err := s.openRead(ctx); err != nil {
		return err
	}
	var err error
	if s.write, err = sql.Open("sqlite", dsn(s.path, "rw")); err != nil {
		return s.explain("open", err)
	}
	s.write.SetMaxOpenConns(1)
	return s.explain("open", s.leaveLog(ctx))
}

// leaveLog keeps the last one to close from removing the log: where the daemon
// was cut off, its next start reads in it what happened.
func (s *Store) leaveLog(ctx context.Context) error {
	c, err := s.write.Conn(ctx)
	if err != nil {
		return err
	}
	defer c.Close()
	return c.Raw(func(driver any) error {
		fc, ok := driver.(sqlite.FileControl)
		if !ok {
			return errors.New("the driver cannot keep the log")
		}
		_, err := fc.FileControlPersistWAL("main", 1)
		return err
	})
}

func (s *Store) openRead(ctx context.Context) error {
	if _, err := os.Stat(s.path); err != nil {
		return s.explainFile("open", err)
	}
	if err := s.openReaders(); err != nil {
		return err
	}
	have, err := s.version(ctx, s.read)
	if err != nil {
		return err
	}
	switch want := newest(); {
	case have > want:
		return &Error{Kind: ErrNewer, Op: "open", Path: s.path, Err: fmt.Errorf("schema %d, this program knows %d", have, want)}
	case have < want:
		return &Error{Kind: ErrOlder, Op: "open", Path: s.path, Err: fmt.Errorf("schema %d, this program wants %d", have, want)}
	}
	return nil
}

// dsn is the data source name with the settings that every connection needs.
// Each commit is synced (synchronous=FULL): a message that was acknowledged
// must survive a power cut.
func dsn(path, mode string) string {
	v := url.Values{"mode": {mode}, "_dqs": {"0"}}
	for _, p := range []string{"busy_timeout(5000)", "synchronous(FULL)", "foreign_keys(1)", "trusted_schema(0)", "recursive_triggers(1)", "cell_size_check(1)"} {
		v.Add("_pragma", p)
	}
	if mode != "ro" {
		v.Add("_pragma", "journal_mode(WAL)")
		v.Add("_pragma", "journal_size_limit(16777216)")
		v.Set("_txlock", "immediate")
	}
	u := url.URL{Scheme: "file", Path: path, RawQuery: v.Encode()}
	return u.String()
}

// Path is the database file.
func (s *Store) Path() string { return s.path }

// Close releases the database and the lock. It waits for the write in hand.
func (s *Store) Close() error {
	var errs []error
	if s.lock != nil && s.write != nil {
		errs = append(errs, writePID(s.lock, "")) // before the log goes
	}
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	if s.lock != nil {
		errs = append(errs, s.lock.Close())
	}
	return errors.Join(errs...)
}

// explainFile explains an error of the file system.
func (s *Store) explainFile(op string, err error) error {
	kind := ErrNoFile
	if errors.Is(err, os.ErrPermission) {
		kind = ErrReadOnly
	}
	return &Error{Kind: kind, Op: op, Path: s.path, Err: err}
}
