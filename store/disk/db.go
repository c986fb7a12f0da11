package disk

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
	"time"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// Options is what Open needs to know besides the path.
type Options struct {
	Now    time.Time    // names the backup before an upgrade
	Logger *slog.Logger // nil: silent
	// Volatile leaves out the sync of each commit: for a rehearsal, whose
	// database goes with it.
	Volatile bool
	// Start is the first write. There must be one in any case: a database that
	// cannot be written is found at the start, and from then on the log is there.
	Start func(context.Context, *DB) error
}

// DB is one open database. It is safe for use by several goroutines.
type DB struct {
	Read  *sql.DB // connections that cannot write
	Write *sql.DB // one connection; nil where only looked at

	path     string
	volatile bool // commits are not synced
	log      *slog.Logger
	lock     *os.File // nil where only looked at, or beside a running daemon

	mu sync.Mutex // one write at a time
	// Kept is the statements compiled once; nil: to be kept.
	Kept map[string]*sql.Stmt

	loss    error
	trouble atomic.Pointer[error] // of the last write; nil where it went well
}

// Open takes the lock, backs the file up and brings it to the newest schema
// where its own is older, checks it and makes the first write. It fails with
// ErrLocked, ErrNewer, ErrNotOurs, ErrDamaged, ErrReadOnly, ErrFull or ErrIO,
// each with the mend in words.
func Open(ctx context.Context, path string, o Options) (*DB, error) {
	d, err := newDB(path, o)
	if err != nil {
		return nil, err
	}
	if d.lock, err = lockFile(d.path); err != nil {
		return nil, err
	}
	reserve := exists(d.reserve())
	err = d.start(ctx, o)
	if errors.Is(err, ErrFull) && reserve { // whoever met it first gave it back
		d.giveBack(err)
		d.closePools()
		d.Kept = map[string]*sql.Stmt{} // they belong to what was closed
		err = d.start(ctx, o)
	}
	if err != nil {
		d.Close()
		return nil, err
	}
	return d, nil
}

// OpenBeside opens the database of a daemon that may be running, for what a
// second process may write. The schema must be the current one.
func OpenBeside(ctx context.Context, path string) (*DB, error) {
	d, err := OpenRead(ctx, path)
	if err != nil {
		return nil, err
	}
	if err = d.openWriter(); err == nil {
		err = d.Explain("open", d.leaveLog(ctx))
	}
	if err != nil {
		d.Close()
		return nil, err
	}
	return d, nil
}

// OpenRead opens the database to look at it. It never writes, takes no lock,
// and may be used beside a running daemon. Another schema is ErrOlder or
// ErrNewer, unless it is allowed.
func OpenRead(ctx context.Context, path string, allowed ...error) (*DB, error) {
	d, err := newDB(path, Options{})
	if err != nil {
		return nil, err
	}
	if err := d.openRead(ctx, allowed); err != nil {
		d.Close()
		return nil, err
	}
	return d, nil
}

func newDB(path string, o Options) (*DB, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("open store %s: %w", path, err)
	}
	if o.Logger == nil {
		o.Logger = slog.New(slog.DiscardHandler)
	}
	return &DB{path: abs, log: o.Logger, volatile: o.Volatile, Kept: map[string]*sql.Stmt{}}, nil
}

func (d *DB) start(ctx context.Context, o Options) error {
	if err := emptied(d.path); err != nil {
		return err
	}
	// The file holds names and phone numbers: it is for its owner alone.
	f, err := os.OpenFile(d.path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return d.explainFile("open", err)
	}
	f.Close()
	if err := d.lookBack(); err != nil {
		return err
	}
	if err := d.atRest(); err != nil {
		return err
	}
	// Looked at first through a connection that cannot write: a file that is
	// not ours stays as it is.
	if err := d.openReaders(""); err != nil {
		return err
	}
	have, err := d.version(ctx)
	if err != nil {
		return err
	}
	if err := d.openWriter(); err != nil {
		return err
	}
	if err := d.migrate(ctx, have, o.Now); err != nil {
		return err
	}
	if err := o.Start(ctx, d); err != nil {
		return err
	}
	if err := d.mark(inUse); err != nil {
		return err
	}
	d.Refill()
	return nil
}

// Path is the database file.
func (d *DB) Path() string { return d.path }

// Size is what the database takes on disk, in bytes, its log included.
func (d *DB) Size() (n int64, err error) {
	for _, end := range []string{"", "-wal"} {
		fi, err := os.Stat(d.path + end)
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err != nil {
			return 0, d.explainFile("size", err)
		}
		n += fi.Size()
	}
	return n, nil
}

// Close releases the database and the lock. It waits for the write in hand.
func (d *DB) Close() error {
	var errs []error
	if d.lock != nil && d.Write != nil {
		errs = append(errs, d.atRest()) // before the log goes
	}
	errs = append(errs, d.closePools())
	if d.lock != nil {
		errs = append(errs, d.lock.Close())
	}
	return errors.Join(errs...)
}

func (d *DB) closePools() error {
	var errs []error
	for _, db := range []*sql.DB{d.Read, d.Write} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	return errors.Join(errs...)
}
