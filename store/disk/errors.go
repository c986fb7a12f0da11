package disk

import (
	"errors"
	"fmt"
	"os"
	"syscall"

	"modernc.org/sqlite"
)

// What can be wrong with the database, for errors.Is. The message of an error
// that carries one of them says the mend.
var (
	ErrLocked   = errors.New("another stubbled is running")
	ErrNewer    = errors.New("the database is newer than this program")
	ErrOlder    = errors.New("the database is older than this program")
	ErrNotOurs  = errors.New("this is not a stubbled database")
	ErrFull     = errors.New("the disk is full")
	ErrReadOnly = errors.New("the database cannot be written")
	ErrIO       = errors.New("the disk does not read or write")
	ErrDamaged  = errors.New("the database is damaged")
	ErrBusy     = errors.New("the database is busy")
	ErrNoFile   = errors.New("the database cannot be opened")
	ErrBeside   = errors.New("this process does not own the database")
	ErrLost     = errors.New("what was written last may be lost")
)

// Error is a failure of the database with its cause and what to do about it.
type Error struct {
	Kind error  // one of the Err values
	Op   string // what was being done
	Path string // the database file
	Err  error  // the cause, as the driver told it; may be nil
}

func (e *Error) Error() string {
	s := fmt.Sprintf("%s: %s: %v", e.Path, e.Op, e.Kind)
	if e.Err != nil {
		s += fmt.Sprintf(" (%v)", e.Err)
	}
	if m := mends[e.Kind]; m != "" {
		s += ": " + m
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

// Mend says in words what to do, empty where there is nothing to do.
func (e *Error) Mend() string { return mends[e.Kind] }

// goBack is how a database that cannot be used is replaced.
const goBack = "stop the daemon and run 'stubbled restore' (where it is a service: stubbled-restore), which puts the newest good backup in its place and keeps what is there"

var mends = map[error]string{
	ErrNewer:    "install the version of stubbled that wrote it or a later one, or put a backup of before the upgrade in its place",
	ErrOlder:    "start the daemon of this version once (stubbled run): it makes a backup and brings the database up to date",
	ErrNotOurs:  "name the right file with --db; if this is the right one its beginning is damaged: " + goBack,
	ErrFull:     "free some space on that disk; nothing that was acknowledged is lost, and it goes on by itself",
	ErrReadOnly: "give the user of the daemon the right to write the file and its folder, and see whether the disk is mounted read-only",
	ErrIO:       "the disk may be failing: look at the system log, copy the folder to another disk, and restore the last good backup if it does not read",
	ErrDamaged:  goBack,
	ErrBusy:     "another program holds the database: end it, then try again",
	ErrLost:     "ask everybody what they texted in the last day, compare it with stubbled diary, and text again what is missing",
	ErrNoFile:   "see that the folder exists and that the user of the daemon may enter it",
}

// The primary result codes of SQLite (https://www.sqlite.org/rescode.html)
// that somebody can do something about.
var kinds = map[int]error{
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
		if q.Code() == noRoomForIndex {
			return &Error{Kind: ErrFull, Op: op, Path: path, Err: err}
		}
		if kind := kinds[q.Code()&0xff]; kind != nil {
			return &Error{Kind: kind, Op: op, Path: path, Err: err}
		}
	}
	return fmt.Errorf("%s: %w", op, err)
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
