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
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	for range lockTries {
		if !errors.Is(err, syscall.EWOULDBLOCK) {
			break
		}
		time.Sleep(lockPause)
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	}
	if err != nil {
		defer f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) {
			return nil, &lockedError{path: database, pid: holder(f)}
		}
		return nil, fmt.Errorf("lock %s: %w: the file system of the database must support locks", name, err)
	}
	return f, nil
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
	f, err := os.Open(database + lockEnd)
	if err != nil {
		return 0, false
	}
	defer f.Close()
	if syscall.Flock(int(f.Fd()), syscall.LOCK_SH|syscall.LOCK_NB) == nil {
		return 0, false
	}
	return holder(f), true
}

func holder(f *os.File) int {
	b, _ := io.ReadAll(io.NewSectionReader(f, 0, 64))
	first, _, _ := strings.Cut(string(b), "\n")
	pid, _ := strconv.Atoi(first)
	return pid
}

type lockedError struct {
	path string
	pid  int
}

func (e *lockedError) Error() string {
	who := "another stubbled is running"
	if e.pid > 0 {
		who += fmt.Sprintf(", pid %d", e.pid)
	}
	return fmt.Sprintf("%s: %s: stop it first, or use another file with --db", e.path, who)
}

func (e *lockedError) Unwrap() error { return ErrLocked }
