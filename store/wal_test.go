package store

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/store/disk"
)

// mark is the state of the files on the disk when one commit was acknowledged.
type mark struct {
	wal   int64 // length of the log
	facts int
}

// logged writes facts one by one and notes after each how long the log is; it
// gives the files as they are while the program runs.
func logged(t *testing.T, n int) (db, wal []byte, marks []mark) {
	t.Helper()
	s := fresh(t)
	// The whole history stays in the log: nothing is moved to the database.
	_, err := s.db.Write.ExecContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE); PRAGMA wal_autocheckpoint = 0`)
	must(t, err)
	for i := range n {
		record(t, s, reading(fmt.Sprint("p", i), float64(i+1)))
		fi, err := os.Stat(s.Path() + "-wal")
		must(t, err)
		marks = append(marks, mark{fi.Size(), i + 1})
	}
	db, err = os.ReadFile(s.Path())
	must(t, err)
	wal, err = os.ReadFile(s.Path() + "-wal")
	must(t, err)
	return db, wal, marks
}

// reopened lays the files down as a crash left them and opens them.
func reopened(t *testing.T, dir string, db, wal []byte) (*Store, []diary.Fact) {
	t.Helper()
	path := filepath.Join(dir, "farm.db")
	for _, end := range []string{"", "-wal", "-shm", ".lock", "-wal.damaged"} {
		os.Remove(path + end)
	}
	must(t, os.WriteFile(path, db, 0o600))
	if wal != nil {
		must(t, os.WriteFile(path+"-wal", wal, 0o600))
	}
	must(t, os.WriteFile(path+".lock", []byte("4711\nused\nin use\n"), 0o600))
	s, err := Open(ctx, path, Options{RunID: "r2", Now: sep1})
	must(t, err)
	must(t, s.db.Check(ctx))
	return s, facts(t, s)
}

func checkPrefix(t *testing.T, got []diary.Fact, atLeast int, what string) {
	t.Helper()
	if len(got) < atLeast {
		t.Errorf("%s: %d facts, %d were acknowledged", what, len(got), atLeast)
	}
	for i, f := range got {
		if f.Paddock != fmt.Sprint("p", i) || len(f.Heights) != 1 || f.Heights[0] != float64(i+1) {
			t.Errorf("%s: fact %d is %+v", what, i, f)
		}
	}
}

// A power cut leaves the log up to the last sync, and behind it anything.
func TestALogCutOrGarbledBehindTheLastSyncLosesNothingAcknowledged(t *testing.T) {
	const n = 25
	db, wal, marks := logged(t, n)
	dir := t.TempDir()
	tries := rounds()
	if tries > 300 {
		tries = 300
	}
	for i := range tries {
		m := marks[rand.IntN(n-1)] // the sync that the power cut comes after
		tail := len(wal) - int(m.wal)
		torn := bytes.Clone(wal)
		// Of the next commit alone something may be on the disk.
		next := int(marks[m.facts].wal)
		what := ""
		switch i % 4 {
		case 0:
			at := int(m.wal) + rand.IntN(tail+1)
			torn, what = torn[:at], fmt.Sprintf("cut at %d", at)
			if at > next {
				m = marks[m.facts] // that one is whole
			}
		case 1:
			torn = torn[:next]
			for range 1 + rand.IntN(50) {
				torn[int(m.wal)+rand.IntN(next-int(m.wal))] ^= byte(1 + rand.IntN(255))
			}
			what = "garbled"
		case 2:
			torn = append(torn[:m.wal], make([]byte, rand.IntN(20000))...)
			what = "followed by zeros"
		case 3:
			torn = torn[:next]
			hole := int(m.wal) + rand.IntN(next-int(m.wal))
			clear(torn[m.wal:hole])
			what = "with a hole before its end"
		}
		s, got := reopened(t, dir, db, torn)
		checkPrefix(t, got, m.facts, fmt.Sprintf("synced to %d, then %s", m.wal, what))
		if err := s.Loss(); err != nil && i%4 != 0 {
			t.Errorf("a torn last write is no loss: %v", err)
		}
		must(t, s.Close())
	}
}

// A damaged log loses what was acknowledged, and SQLite itself says nothing.
func TestADamagedLogIsSaidAndKept(t *testing.T) {
	const n = 12
	db, wal, marks := logged(t, n)
	dir := t.TempDir()
	for i := range 60 {
		at := rand.IntN(int(marks[n-4].wal))
		if i < 32 {
			at = i
		}
		torn := bytes.Clone(wal)
		torn[at] ^= 0x55
		s, got := reopened(t, dir, db, torn)
		whole := 0
		for _, m := range marks {
			if int(m.wal) <= at {
				whole = m.facts
			}
		}
		checkPrefix(t, got, whole, fmt.Sprintf("damaged at %d", at))
		err := s.Loss()
		if len(got) < n-1 && !errors.Is(err, disk.ErrLost) {
			t.Errorf("%d: damaged at %d, %d of %d facts left, and nothing is said: %v", i, at, len(got), n, err)
		}
		if kept, _ := os.ReadFile(s.Path() + "-wal.damaged"); errors.Is(err, disk.ErrLost) && !bytes.Equal(kept, torn) {
			t.Error("the damaged log was not kept")
		}
		must(t, s.Close())
	}
}

func TestADeletedLogIsSaid(t *testing.T) {
	db, wal, _ := logged(t, 3)
	s, got := reopened(t, t.TempDir(), db, nil)
	if len(got) != 0 || !errors.Is(s.Loss(), disk.ErrLost) {
		t.Errorf("%d facts, %v", len(got), s.Loss())
	}
	path := s.Path()
	must(t, s.Close())
	for range 2 { // until somebody was told
		s = open(t, path, "r")
		if !errors.Is(s.Loss(), disk.ErrLost) {
			t.Error("forgotten by one more start")
		}
		must(t, s.Close())
	}
	s = open(t, path, "r")
	s.Forget()
	must(t, s.Close())
	s = open(t, path, "r")
	if err := s.Loss(); err != nil {
		t.Errorf("told, and not forgotten: %v", err)
	}
	must(t, s.Close())
	s, got = reopened(t, t.TempDir(), db, wal)
	if len(got) != 3 || s.Loss() != nil {
		t.Errorf("with its log: %d facts, %v", len(got), s.Loss())
	}
	path = s.Path()
	must(t, s.Close())
	if exists(path + "-wal") {
		t.Fatal("an orderly end leaves a log")
	}
	s = open(t, path, "r3")
	if err := s.Loss(); err != nil {
		t.Errorf("after an orderly end: %v", err)
	}
}

func TestAKilledDaemonsLogIsLeftByThoseWhoLook(t *testing.T) {
	db, wal, _ := logged(t, 3)
	path := filepath.Join(t.TempDir(), "farm.db")
	must(t, os.WriteFile(path, db, 0o600))
	must(t, os.WriteFile(path+"-wal", wal, 0o600))
	for name, look := range map[string]func() (*Store, error){
		"read":   func() (*Store, error) { return OpenRead(ctx, path) },
		"beside": func() (*Store, error) { return OpenBeside(ctx, path) },
	} {
		s, err := look()
		must(t, err)
		if got := facts(t, s); len(got) != 3 {
			t.Errorf("%s: %d facts", name, len(got))
		}
		if name == "read" {
			must(t, s.Backup(ctx, path+".bak"))
		}
		must(t, s.Close())
		if !exists(path + "-wal") {
			t.Errorf("%s took the log away", name)
		}
	}
	b, err := OpenRead(ctx, path+".bak")
	must(t, err)
	defer b.Close()
	if got := facts(t, b); len(got) != 3 {
		t.Errorf("backup: %d facts", len(got))
	}
}
