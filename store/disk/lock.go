package disk

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

const lockEnd = ".lock"

// lockFile takes the lock that the owner of the outbox holds: an flock on a
// file beside the database, which the kernel releases when the process ends in
// any way. The file is never removed, or two could lock two files of one name.
func lockFile(database string) (*os.File, error) {
	name := database + lockEnd
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, fileError(database, "lock", err)
	}
	for tries := 0; ; tries++ {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if !errors.Is(err, syscall.EWOULDBLOCK) || tries == lockTries {
			break
		}
		time.Sleep(lockPause)
	}
	if err != nil {
		defer f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) {
			return nil, locked(database, f)
		}
		return nil, fmt.Errorf("lock %s: %w: the file system of the database must support locks", name, err)
	}
	return f, nil
}

// lockByte is behind everything that SQLite locks of a database file.
const lockByte = 1 << 62

// lockItself takes the lock on the database file itself, whatever path leads to
// it: another name, a link, a lock file that was deleted. It is one of the open
// file, so that it ends with it, and what SQLite locks is of other bytes. Nobody
// may close the file while SQLite has it open: by POSIX that ends every lock of
// SQLite's.
func lockItself(f *os.File) error {
	err := unix.FcntlFlock(f.Fd(), unix.F_OFD_SETLK, &unix.Flock_t{Type: unix.F_WRLCK, Start: lockByte, Len: 1})
	if errors.Is(err, syscall.EAGAIN) || errors.Is(err, syscall.EACCES) {
		return fmt.Errorf("%s: %w, by another path: stop it first, or use another file with --db", f.Name(), ErrLocked)
	}
	if err != nil {
		return fmt.Errorf("lock %s: %w: the file system of the database must support locks", f.Name(), err)
	}
	return nil
}

// Whoever asks whether a daemon runs holds the lock for a moment (Running).
const (
	lockTries = 5
	lockPause = 20 * time.Millisecond
)

// mark writes the pid, for the one who is refused, and what is said behind it;
// that it fails on a full disk is no reason not to run.
func (d *DB) mark(more string) error {
	text := strconv.Itoa(os.Getpid()) + "\n" + more
	_, err := d.lock.WriteAt([]byte(text), 0)
	if err == nil {
		err = d.lock.Truncate(int64(len(text)))
	}
	if err != nil && !errors.Is(err, syscall.ENOSPC) {
		return fmt.Errorf("lock %s: %w", d.lock.Name(), err)
	}
	return nil
}

// Running reports whether a daemon has a database now, and its process; 0 where
// that is not known.
func Running(database string) (pid int, yes bool) {
	f, err := os.Open(behindLinks(database) + lockEnd)
	if err != nil {
		return 0, false
	}
	defer f.Close()
	if syscall.Flock(int(f.Fd()), syscall.LOCK_SH|syscall.LOCK_NB) == nil {
		return 0, false
	}
	pid, _ = readLock(f)
	return pid, true
}

func locked(database string, lock *os.File) error {
	who := ""
	if pid, _ := readLock(lock); pid > 0 {
		who = fmt.Sprintf(", pid %d", pid)
	}
	return fmt.Errorf("%s: %w%s: stop it first, or use another file with --db", database, ErrLocked, who)
}

// readLock gives the process that a lock file names, 0 where none, and what is
// said behind it.
func readLock(lock io.ReaderAt) (pid int, mark string) {
	b := make([]byte, 64)
	n, _ := lock.ReadAt(b, 0)
	first, mark, _ := strings.Cut(string(b[:n]), "\n")
	pid, _ = strconv.Atoi(first)
	return pid, mark
}
