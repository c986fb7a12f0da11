package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// The lock file says, behind the pid, that the database was used, and that it is
// in use: the log of a database in use is always there, so that one which is gone
// was deleted.
const (
	used  = "used\n"
	inUse = used + "in use\n"
)

// Aftermath says what an end before left that a person must know, with the mend:
// ErrLost where the log of the last writes was deleted or damaged. It is noted
// beside the database until Forget. Nil where nothing was lost, as far as can be
// told.
func (s *Store) Aftermath() error { return s.aftermath }

// Forget ends the Aftermath: whom it concerns was told. Where the note of it
// cannot be removed it is told once more after the next start.
func (s *Store) Forget() {
	s.aftermath = nil
	if err := os.Remove(s.lossNote()); err != nil && !errors.Is(err, os.ErrNotExist) {
		s.log.Warn("the note of a loss that was told cannot be removed", "err", err)
	}
}

// Loss is what is noted as lost of a database, for those who only look; empty
// where nothing is.
func Loss(path string) string {
	noted, err := os.ReadFile(path + lossEnd)
	if err != nil {
		return ""
	}
	return string(noted)
}

const lossEnd = ".lost"

func (s *Store) lossNote() string { return s.path + lossEnd }

// lookBack must run before the database is opened, which takes up the log.
func (s *Store) lookBack() error {
	wal := s.path + "-wal"
	lost := ""
	if markOf(s.lock) == inUse && !exists(wal) && exists(s.path) {
		lost = "the last run was cut off and its log, the file ending in -wal, is gone"
	}
	n, err := lostCommits(wal)
	if err != nil {
		return s.explainFile("read the log", err)
	}
	if n > 1 {
		lost = fmt.Sprintf("the log of the last writes is damaged; %d writes behind the damage are lost", n)
	}
	if err := s.remember(lost); err != nil {
		return err
	}
	if n > 1 {
		s.keepLog(wal)
	}
	if s.aftermath != nil {
		s.log.Error("something may be lost", "err", s.aftermath)
	}
	return nil
}

// remember notes a loss beside the database, or finds the one noted before. One
// that cannot be noted is no start: the next one would not see it.
func (s *Store) remember(lost string) error {
	if lost == "" {
		noted, err := os.ReadFile(s.lossNote())
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			return s.explainFile("look for a loss", err)
		}
		lost = string(noted)
	} else if err := WriteWhole(s.lossNote(), []byte(lost)); err != nil {
		return s.explainFile("note a loss", err)
	}
	if lost != "" {
		s.aftermath = &Error{Kind: ErrLost, Op: "open", Path: s.path, Err: errors.New(lost)}
	}
	return nil
}

// emptied reports a database that is gone or an empty file, though it was used:
// the lock file beside it says so. To go on with a new one would lose everything
// without a word.
func emptied(path string) error {
	fi, err := os.Stat(path)
	what := "gone"
	if err == nil {
		what = "an empty file"
	}
	if err == nil && fi.Size() > 0 || err != nil && !errors.Is(err, os.ErrNotExist) || !usedBefore(path) {
		return nil
	}
	return &Error{Kind: ErrDamaged, Op: "open", Path: path,
		Err: fmt.Errorf("it was in use and is %s; to begin with an empty diary remove %s%s", what, path, lockEnd)}
}

// NeverUsed reports whether a database was not written yet.
func NeverUsed(path string) bool {
	fi, err := os.Stat(path)
	return (errors.Is(err, os.ErrNotExist) || err == nil && fi.Size() == 0) && emptied(path) == nil
}

// keepLog keeps a copy of a damaged log for those who may still read it.
func (s *Store) keepLog(wal string) {
	to := wal + ".damaged"
	if err := copyFile(wal, to); err != nil {
		s.log.Warn("the damaged log cannot be copied", "to", to, "err", err)
		return
	}
	s.log.Info("the damaged log was copied", "to", to)
}

// markOf is what the lock file says behind the pid; empty where there is none.
func markOf(lock io.ReaderAt) string {
	b := make([]byte, 64)
	n, _ := lock.ReadAt(b, 0)
	_, mark, _ := strings.Cut(string(b[:n]), "\n")
	return mark
}

// atRest takes back that the database is in use.
func (s *Store) atRest() error {
	if strings.HasPrefix(markOf(s.lock), used) {
		return writePID(s.lock, used)
	}
	return writePID(s.lock, "")
}

// usedBefore reports whether a database was ever written.
func usedBefore(path string) bool {
	f, err := os.Open(path + lockEnd)
	if err != nil {
		return false
	}
	defer f.Close()
	return strings.HasPrefix(markOf(f), used)
}

// recover turns what another run left under way into unknown outcomes.
func (s *Store) recover(ctx context.Context, now time.Time) error {
	n := 0
	err := s.writing(ctx, "take up the last run", now, func(t *Tx) error {
		rows, err := t.query(`SELECT id FROM attempts WHERE outcome IS NULL AND run <> ?`, s.run)
		if err != nil {
			return err
		}
		open, err := collect(rows, func(r scanner) (id int64, err error) { return id, r.Scan(&id) })
		if err != nil {
			return err
		}
		n = len(open)
		for _, id := range open {
			if err := t.settle(id, Outcome{State: NotKnown, Detail: "the program ended before the carrier answered"}); err != nil {
				return err
			}
		}
		// One write in any case: a database that cannot be written is found
		// at the start, and from here on the log is there.
		_, err = t.exec(`UPDATE clock SET beat = beat + 1, run = ? WHERE id = 1`, s.run)
		return err
	})
	if n > 0 {
		s.log.Warn("the last run ended with messages under way", "unknown", n)
	}
	if err == nil {
		err = writePID(s.lock, inUse)
	}
	return err
}
