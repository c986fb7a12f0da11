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
	Read  *sql.DB   // connections that cannot write
	Write *sql.Conn // the one that writes; nil where only looked at

	writer *sql.DB // of that one connection

	path     string
	volatile bool // commits are not synced
	log      *slog.Logger
	lock     *os.File // nil where only looked at, or beside a running daemon
	itself   *os.File // the locked database file, open for as long as lock is

	mu   sync.Mutex           // one write at a time
	Kept map[string]*sql.Stmt // the statements of who writes, each compiled once

	looks sync.Map // the statements of those who only look

	loss    error
	trouble atomic.Pointer[error] // of the last write; nil where it went well
}

func newDB(path string, o Options) (*DB, error) {
	abs, err := filepath.Abs(behindLinks(path))
	if err != nil {
		return nil, fmt.Errorf("open store %s: %w", path, err)
	}
	if o.Logger == nil {
		o.Logger = slog.New(slog.DiscardHandler)
	}
	return &DB{path: abs, log: o.Logger, volatile: o.Volatile, Kept: map[string]*sql.Stmt{}}, nil
}

// behindLinks is where a database is or will be: what belongs to it lies beside
// it there.
func behindLinks(path string) string {
	if at, err := filepath.EvalSymlinks(path); err == nil {
		return at
	}
	if dir, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		return filepath.Join(dir, filepath.Base(path))
	}
	return path
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

// Own reports whether this process owns the database: it holds the lock.
func (d *DB) Own() bool { return d.lock != nil }

// Explain gives err its kind and mend where the driver's code says so. A nil
// err stays nil; an error that is explained already stays as it is.
func (d *DB) Explain(op string, err error) error { return explain(d.path, op, err) }

// explainFile explains an error of the file system.
func (d *DB) explainFile(op string, err error) error { return fileError(d.path, op, err) }

func (d *DB) closePools() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	var errs []error
	for _, p := range d.Kept { // one that is open would keep its connection open
		errs = append(errs, p.Close())
	}
	d.Kept = map[string]*sql.Stmt{}
	d.looks.Clear() // they belong to what is closed
	if d.Write != nil {
		if err := d.Write.Close(); !errors.Is(err, sql.ErrConnDone) { // it may be closed already
			errs = append(errs, err)
		}
	}
	for _, db := range []*sql.DB{d.Read, d.writer} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	return errors.Join(errs...)
}
