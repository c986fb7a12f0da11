package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"syscall"

	"modernc.org/sqlite"
)

// What can be wrong with the database, for errors.Is, each with its mend.
var (
	ErrLocked  = &Fault{What: "another stubbled is running"}
	ErrBeside  = &Fault{What: "this process does not own the database"}
	ErrNotOurs = &Fault{"this is not a stubbled database",
		"name the right file with --db; if this is the right one its beginning is damaged: " + goBack}
	ErrOtherFarm = &Fault{"this is another farm's database",
		"name the right file with --db, or put the database of this farm in its place; if the farm was only renamed, write the old name under farm in the farm file, as was: OLD NAME"}
	ErrNewer = &Fault{"the database is newer than this program",
		"install the version of stubbled that wrote it or a later one, or put a backup of before the upgrade in its place"}
	ErrOlder = &Fault{"the database is older than this program",
		"start the daemon of this version once (stubbled run): it makes a backup and brings the database up to date"}
	ErrFull = &Fault{"the disk is full",
		"free some space on that disk; nothing that was acknowledged is lost, and it goes on by itself"}
	ErrReadOnly = &Fault{"the database cannot be written",
		"give the user of the daemon the right to write the file and its folder, and see whether the disk is mounted read-only: " +
			"one that found a fault in itself shuts itself so, and is mended by fsck"}
	ErrIO = &Fault{"the disk does not read or write",
		"the disk may be failing: look at the system log, copy the folder to another disk, and restore the last good backup if it does not read"}
	ErrDamaged = &Fault{"the database is damaged", goBack}
	ErrFact    = &Fault{"an entry of the diary is damaged and left out", "text again what of it is true, or go back to a backup of before: " + goBack}
	ErrBusy    = &Fault{"the database is busy", "another program holds the database: end it, then try again"}
	ErrNoFile  = &Fault{"the database cannot be opened", "see that the folder exists and that the user of the daemon may enter it"}
	ErrLost    = &Fault{"what was written last may be lost",
		"ask everybody what they texted in the last day, compare it with stubbled diary, and text again what is missing"}
)

// goBack is how a database that cannot be used is replaced.
const goBack = "stop the daemon and run 'stubbled restore' (where it is a service: stubbled-restore), which puts the newest good backup in its place and keeps what is there"

// A Fault is one thing that can be wrong, and what to do about it.
type Fault struct{ What, Mend string }

func (f *Fault) Error() string { return f.What }

// Error is a failure of the database with its cause and what to do about it.
type Error struct {
	Kind *Fault // one of the Err values
	Op   string // what was being done
	Path string // the database file
	Err  error  // the cause, as the driver told it; may be nil
}

func (e *Error) Error() string {
	s := fmt.Sprintf("%s: %s: %v", e.Path, e.Op, e.Kind)
	if e.Err != nil {
		s += fmt.Sprintf(" (%v)", e.Err)
	}
	if e.Kind.Mend != "" {
		s += ": " + e.Kind.Mend
	}
	return s
}

// Unwrap gives both the kind and the cause.
func (e *Error) Unwrap() []error {
	if e.Err == nil {
		return []error{e.Kind}
	}
	return []error{e.Kind, e.Err}
}

// The primary result codes of SQLite (https://www.sqlite.org/rescode.html)
// that somebody can do something about.
var kinds = map[int]*Fault{
	5:  ErrBusy,     // SQLITE_BUSY
	6:  ErrBusy,     // SQLITE_LOCKED
	8:  ErrReadOnly, // SQLITE_READONLY
	10: ErrIO,       // SQLITE_IOERR
	11: ErrDamaged,  // SQLITE_CORRUPT
	13: ErrFull,     // SQLITE_FULL
	14: ErrNoFile,   // SQLITE_CANTOPEN
	26: ErrNotOurs,  // SQLITE_NOTADB
}

// noRoomForIndex is SQLITE_IOERR_SHMSIZE: the index of the log, a file of its
// own, could not be made as large as it must be. Of a disk that is full only
// this one is told as one that fails.
const noRoomForIndex = 10 | 19<<8

func explain(path, op string, err error) error {
	if err == nil {
		return nil
	}
	var done *Error
	if errors.As(err, &done) {
		return err
	}
	var q *sqlite.Error
	if errors.As(err, &q) {
		kind := kinds[q.Code()&0xff]
		switch {
		case q.Code() == noRoomForIndex:
			kind = ErrFull
		case kind == ErrIO && shut(path):
			kind = ErrReadOnly
		}
		if kind != nil {
			return &Error{Kind: kind, Op: op, Path: path, Err: err}
		}
	}
	return fmt.Errorf("%s: %w", op, err)
}

// shut reports whether the disk of a file takes no write: one that shuts itself
// while a file is open on it fails each, and only who makes a file is told why.
func shut(path string) bool {
	f, err := os.CreateTemp(filepath.Dir(path), ".try-*")
	if err == nil {
		f.Close()
		os.Remove(f.Name())
	}
	return errors.Is(err, syscall.EROFS)
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
