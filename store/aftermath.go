package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"
)

// The lock file says, behind the pid, that the database is in use: the log of
// a database in use is always there, so that one which is gone was deleted.
const inUse = "in use\n"

// lostFor is for how long what was lost is remembered: a person must hear of it
// though the power goes again that night.
const lostFor = 24 * time.Hour

// Aftermath says what an end of the last day left that a person must know, with
// the mend, and when it was found: ErrLost where the log of the last writes was
// deleted or damaged. Nil where nothing was lost, as far as can be told.
func (s *Store) Aftermath() (found time.Time, lost error) { return s.lostAt, s.aftermath }

// lookBack must run before the database is opened, which takes up the log.
func (s *Store) lookBack(now time.Time) error {
	if fi, err := os.Stat(s.path); err == nil && fi.Size() == 0 && exists(s.reserve()) {
		return &Error{Kind: ErrDamaged, Op: "open", Path: s.path, Err: errors.New("it was in use, and is an empty file")}
	}
	wal := s.path + "-wal"
	lost := ""
	if wasInUse(s.lock) && !exists(wal) && exists(s.path) {
		lost = "the last run was cut off and its log, the file ending in -wal, is gone"
	}
	n, err := lostCommits(wal)
	if err != nil {
		return s.explainFile("read the log", err)
	}
	if n > 1 {
		lost = fmt.Sprintf("the log of the last writes is damaged; %d writes behind the damage are lost", n)
		s.keepLog(wal)
	}
	s.remember(lost, now)
	if s.aftermath != nil {
		s.log.Error("something may be lost", "found", s.lostAt, "err", s.aftermath)
	}
	return nil
}

// remember notes a loss beside the database, or finds the one noted before.
func (s *Store) remember(lost string, now time.Time) {
	note := s.path + ".lost"
	s.lostAt = now.Truncate(time.Second)
	if lost != "" {
		if err := os.WriteFile(note, []byte(s.lostAt.Format(time.RFC3339)+" "+lost), 0o600); err != nil {
			s.log.Warn("the loss cannot be noted for the next start", "err", err)
		}
	} else if text, err := os.ReadFile(note); err == nil {
		at, said, _ := strings.Cut(string(text), " ")
		if s.lostAt, err = time.Parse(time.RFC3339, at); err == nil && now.Sub(s.lostAt).Abs() < lostFor {
			lost = said
		} else if err := os.Remove(note); err != nil {
			s.log.Warn("the note of an old loss cannot be removed", "err", err)
		}
	}
	if lost != "" {
		s.aftermath = &Error{Kind: ErrLost, Op: "open", Path: s.path, Err: errors.New(lost)}
	}
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

func wasInUse(lock *os.File) bool {
	b := make([]byte, 64)
	n, _ := lock.ReadAt(b, 0)
	return len(b[:n]) > len(inUse) && string(b[n-len(inUse):n]) == inUse
}

func exists(name string) bool {
	_, err := os.Stat(name)
	return err == nil
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
			if err := t.settle(id, Result{Outcome: NotKnown, NextAt: now, Detail: "the program ended before the carrier answered"}); err != nil {
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
