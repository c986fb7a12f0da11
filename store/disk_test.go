package store

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
	"stubbled/store/disktest"
)

func TestAFullDiskLosesNothingSaysSoAndGoesOnWhenThereIsRoom(t *testing.T) {
	dir := disktest.Small(t, "6m")
	path := filepath.Join(dir, "farm.db")
	s := open(t, path, "r")
	if err := s.Trouble(); err != nil {
		t.Fatalf("trouble on an empty disk: %v", err)
	}
	reconcile(t, s, sep1, notice(ladder.Alarm, "", "Ana"))
	disktest.Fill(t, filepath.Join(dir, "ballast"))
	fi, err := os.Stat(filepath.Join(dir, "ballast"))
	must(t, err)
	must(t, os.Truncate(filepath.Join(dir, "ballast"), fi.Size()-200<<10))

	text := strings.Repeat("creek 14 8 6 8 ", 500)
	acked, full := 0, error(nil)
	for i := 0; i < 2000; i++ {
		if full = s.Accept(ctx, "sms", []In{{ID: fmt.Sprint(i), Text: text}}, fmt.Sprint(i), sep1); full != nil {
			break
		}
		acked++
	}
	if !errors.Is(full, disk.ErrFull) || !strings.Contains(full.Error(), "free some space") || !errors.Is(s.Trouble(), disk.ErrFull) {
		t.Fatalf("got %v, trouble %v", full, s.Trouble())
	}
	// The reserve is enough to say it.
	m := claim(t, s, sep1, bySMS(Unsafe))
	if m == nil {
		t.Fatal("the alarm could not be said")
	}
	settle(t, s, m, WasSent, sep1)
	if !errors.Is(s.Trouble(), disk.ErrFull) {
		t.Errorf("on the reserve all is said to be well: %v", s.Trouble())
	}
	got, err := s.Pending(ctx)
	must(t, err)
	c, err := s.Cursor(ctx, "sms")
	must(t, err)
	if acked == 0 || len(got) != acked || c != fmt.Sprint(acked-1) {
		t.Errorf("%d texts are there, cursor %s; %d were acknowledged", len(got), c, acked)
	}

	disktest.Fill(t, filepath.Join(dir, "ballast"))
	for err = nil; err == nil; acked++ {
		err = s.Accept(ctx, "sms", []In{{ID: fmt.Sprint(acked), Text: text}}, "", sep1)
	}
	acked--
	if !errors.Is(err, disk.ErrFull) {
		t.Errorf("quite full: %v", err)
	}
	must(t, s.Close())
	if s2, err := Open(ctx, path, Options{RunID: "r2", Now: sep1}); err == nil {
		s2.Close() // the log made room at the close
	} else if !errors.Is(err, disk.ErrFull) {
		t.Errorf("started on a full disk: %v", err)
	}
	must(t, os.Remove(filepath.Join(dir, "ballast")))
	s = open(t, path, "r3")
	must(t, s.Accept(ctx, "sms", []In{{ID: "after", Text: text}}, "", sep1))
	must(t, s.Check(ctx))
	if err := s.Trouble(); err != nil {
		t.Errorf("with room again: %v", err)
	}
	if got, err := s.Pending(ctx); err != nil || len(got) != acked+1 {
		t.Errorf("%d texts, want %d (%v)", len(got), acked+1, err)
	}
	if err := s.Backup(ctx, filepath.Join(disktest.Small(t, "64k"), "bak.db")); !errors.Is(err, disk.ErrFull) && !strings.Contains(fmt.Sprint(err), "no space") {
		t.Errorf("a backup to a full disk: %v", err)
	}
}

func TestAFullDiskIsLeftWithoutARestart(t *testing.T) {
	dir := disktest.Small(t, "5m")
	s := open(t, filepath.Join(dir, "farm.db"), "r")
	ballast := filepath.Join(dir, "ballast")
	text := strings.Repeat("x", 8000)
	for i := 0; ; i++ {
		disktest.Fill(t, ballast)
		if err := s.Accept(ctx, "sms", []In{{ID: fmt.Sprint(i), Text: text}}, "", sep1); err != nil && !exists(s.Path()+".reserve") {
			disktest.Fill(t, ballast)
			if err := s.Accept(ctx, "sms", []In{{ID: "full", Text: text}}, "", sep1); errors.Is(err, disk.ErrFull) {
				break
			}
		}
	}
	must(t, os.Remove(ballast))
	must(t, s.Accept(ctx, "sms", []In{{ID: "after", Text: text}}, "", sep1))
	must(t, s.Check(ctx))
	if err := s.Trouble(); err != nil {
		t.Error(err)
	}
	must(t, s.db.Check(ctx))
}

func TestADiskThatCannotBeWrittenIsSaidAndCanBeLookedAt(t *testing.T) {
	dir := disktest.Small(t, "8m")
	path := filepath.Join(dir, "farm.db")
	s := open(t, path, "r")
	record(t, s, reading("creek", 14))
	must(t, s.Close())
	if out, err := exec.Command("mount", "-o", "remount,ro", dir).CombinedOutput(); err != nil {
		disktest.Skip(t, fmt.Sprintf("cannot be mounted read-only here: %v %s", err, out))
	}
	if _, err := Open(ctx, path, Options{RunID: "r", Now: sep1}); !errors.Is(err, disk.ErrReadOnly) || !strings.Contains(err.Error(), "read-only") {
		t.Errorf("got %v", err)
	}
	r, err := OpenRead(ctx, path)
	must(t, err)
	defer r.Close()
	if got := facts(t, r); len(got) != 1 {
		t.Errorf("the diary: %v", got)
	}
	must(t, disk.Verify(ctx, path))
}

// A disk that finds a fault in itself shuts itself while the daemon runs: ext4 does,
// mounted with errors=remount-ro, as Debian mounts the root.
func TestADiskThatShutsItselfIsReadOnlyAndTheMendIsSaid(t *testing.T) {
	image, dir := filepath.Join(t.TempDir(), "image"), t.TempDir()
	for _, c := range [][]string{{"truncate", "-s", "16M", image}, {"mkfs.ext4", "-q", "-F", image}, {"mount", "-o", "loop,errors=remount-ro", image, dir}} {
		if out, err := exec.Command(c[0], c[1:]...).CombinedOutput(); err != nil {
			t.Skipf("no disk of its own can be made here: %v: %v %s", c, err, out)
		}
	}
	t.Cleanup(func() { exec.Command("umount", "-l", dir).Run() })
	s := open(t, filepath.Join(dir, "farm.db"), "r")
	record(t, s, reading("creek", 14))
	device, err := exec.Command("findmnt", "-n", "-o", "SOURCE", dir).Output()
	must(t, err)
	fault := filepath.Join("/sys/fs/ext4", filepath.Base(strings.TrimSpace(string(device))), "trigger_fs_error")
	if err := os.WriteFile(fault, []byte("1"), 0o200); err != nil {
		t.Skip("no fault can be made here:", err)
	}
	err = s.Update(ctx, sep1, func(x *Tx) error { _, _, err := x.Record(reading("hill", 12)); return err })
	if !errors.Is(err, disk.ErrReadOnly) || !strings.Contains(err.Error(), "fsck") {
		t.Errorf("got %v", err)
	}
	if got := facts(t, s); len(got) != 1 {
		t.Errorf("the diary cannot be read: %v", got)
	}
}

func TestAFileThatBelongsToSomebodyElseIsSaid(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root may write any file")
	}
	path := filepath.Join(t.TempDir(), "farm.db")
	must(t, open(t, path, "r").Close())
	must(t, os.Chmod(path, 0o400))
	if _, err := Open(ctx, path, Options{RunID: "r", Now: sep1}); !errors.Is(err, disk.ErrReadOnly) {
		t.Errorf("got %v", err)
	}
}

// A page that holds rubbish is found at the start or by the check behind it, and the newest good backup
// is put in the place of the database.
func TestADamagedPageIsFoundAndTheBackupRestored(t *testing.T) {
	dir := t.TempDir()
	path, nightly := filepath.Join(dir, "farm.db"), filepath.Join(dir, "backups")
	s := open(t, path, "r")
	update(t, s, sep1, func(x *Tx) error {
		for i := range 2000 {
			if _, _, err := x.Record(reading(fmt.Sprint("p", i), 14, 8, 6)); err != nil {
				return err
			}
		}
		return nil
	})
	for _, d := range []string{"2026-08-30", "2026-08-31", "2026-09-01"} {
		_, err := s.Nightly(ctx, nightly, day(d), day(d).In(time.UTC))
		must(t, err)
	}
	must(t, s.Close())
	whole, err := os.ReadFile(path)
	must(t, err)
	pages := len(whole) / 4096
	for i := range 10 {
		page := rand.IntN(pages)
		if i == 0 {
			page = 0
		}
		bad := append([]byte(nil), whole...)
		for j := range 4096 {
			bad[page*4096+j] = byte(rand.IntN(256))
		}
		must(t, os.WriteFile(path, bad, 0o600))
		s, err := Open(ctx, path, Options{RunID: "r", Now: sep1})
		if err == nil {
			err = s.QuickCheck(ctx)
			s.Close()
		}
		if err == nil {
			t.Fatalf("page %d of %d is rubbish and nobody noticed", page, pages)
		}
		if !errors.Is(err, disk.ErrDamaged) && !errors.Is(err, disk.ErrNotOurs) || !strings.Contains(err.Error(), "newest good backup") {
			t.Errorf("page %d: %v", page, err)
		}
	}
	// The newest backup is damaged too.
	newest := filepath.Join(nightly, "stubbled-2026-09-01.db")
	must(t, os.WriteFile(newest, whole[:len(whole)/2], 0o600))
	good, bad, err := LatestGood(ctx, nightly, sep1)
	must(t, err)
	if filepath.Base(good.Path) != "stubbled-2026-08-31.db" || len(bad) != 1 || !errors.Is(bad[0], disk.ErrDamaged) {
		t.Fatalf("latest good %+v, bad %v", good, bad)
	}
	if _, err := disk.Restore(ctx, newest, path, sep1); !errors.Is(err, disk.ErrDamaged) {
		t.Errorf("a damaged backup was restored: %v", err)
	}
	aside, err := disk.Restore(ctx, good.Path, path, sep1)
	must(t, err)
	if aside == "" || !exists(aside) {
		t.Errorf("the damaged one was not kept: %q", aside)
	}
	s = open(t, path, "r2")
	if got := facts(t, s); len(got) != 2000 {
		t.Errorf("%d facts", len(got))
	}
	if _, err := disk.Restore(ctx, good.Path, path, sep1); !errors.Is(err, disk.ErrLocked) {
		t.Errorf("restored under a running daemon: %v", err)
	}
}

func TestAWriteWaitsForAnotherProgramThatReadsOrWrites(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	s := open(t, path, "r")
	b, err := OpenBeside(ctx, path)
	must(t, err)
	defer b.Close()
	begun, done := make(chan bool), make(chan error, 1)
	go func() {
		done <- b.writeBeside(ctx, "hold", sep1, func(x *Tx) error {
			close(begun)
			// As long as a slow disk takes; the other one must wait for it.
			time.Sleep(300 * time.Millisecond)
			return x.setCursor("email", "held")
		})
	}()
	<-begun
	must(t, s.Accept(ctx, "sms", []In{{ID: "1"}}, "", sep1))
	must(t, <-done)
	if c, err := s.Cursor(ctx, "email"); c != "held" || err != nil {
		t.Errorf("%q, %v", c, err)
	}
}

// Whoever goes on with a new database has lost everything and does not know it.
func TestAnEmptiedDatabaseIsNoNewOne(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	for name, empty := range map[string]func() error{
		"cut to nothing": func() error { return os.Truncate(path, 0) },
		"gone":           func() error { return os.Remove(path) },
	} {
		must(t, open(t, path, "r").Close())
		must(t, empty())
		for _, look := range []func() (*Store, error){
			func() (*Store, error) { return Open(ctx, path, Options{RunID: "r", Now: sep1}) },
			func() (*Store, error) { return OpenRead(ctx, path) },
			func() (*Store, error) { return OpenBeside(ctx, path) },
		} {
			if _, err := look(); !errors.Is(err, disk.ErrDamaged) || !strings.Contains(err.Error(), "newest good backup") || !strings.Contains(err.Error(), "remove "+path+".lock") {
				t.Errorf("%s: %v", name, err)
			}
		}
		must(t, os.Remove(path+".lock"))
	}
	must(t, open(t, path, "r").Close())
}

// The very first start found the disk full.
func TestAFirstStartThatFailedIsNoUse(t *testing.T) {
	dir := disktest.Small(t, "1m")
	path, ballast := filepath.Join(dir, "farm.db"), filepath.Join(dir, "ballast")
	disktest.Fill(t, ballast)
	for range 2 {
		if _, err := Open(ctx, path, Options{RunID: "r", Now: sep1}); !errors.Is(err, disk.ErrFull) {
			t.Fatalf("got %v", err)
		}
	}
	if !disk.NeverUsed(path) {
		t.Error("nothing was written yet, and it counts as used")
	}
	must(t, os.Remove(ballast))
	must(t, open(t, path, "r").Close())
	if disk.NeverUsed(path) {
		t.Error("it was used")
	}
}

// cutOff ends a store as a power cut does; of its files it leaves those that end
// so.
func cutOff(t *testing.T, s *Store, ends ...string) {
	t.Helper()
	left := map[string][]byte{}
	for _, end := range ends {
		data, err := os.ReadFile(s.Path() + end)
		must(t, err)
		left[end] = data
	}
	must(t, s.Close())
	for end, data := range left {
		must(t, os.WriteFile(s.Path()+end, data, 0o600))
	}
}

// Cut off, and the disk full to the last byte: the first write finds it out.
func TestAStartAfterAPowerCutSpendsTheReserve(t *testing.T) {
	dir := disktest.Small(t, "6m")
	path := filepath.Join(dir, "farm.db")
	s := open(t, path, "r")
	cutOff(t, s, "", "-wal", "-shm", ".lock")
	disktest.Fill(t, filepath.Join(dir, "ballast"))
	s = open(t, path, "r2")
	must(t, s.Accept(ctx, "sms", []In{{ID: "1", Text: "creek 14 8 6 8"}}, "", sep1))
	must(t, s.Check(ctx))
}

// The service ended well, somebody filled the disk, and it is started: there is
// no room for the index of the log.
func TestAStartOnAFullDiskSpendsTheReserve(t *testing.T) {
	dir := disktest.Small(t, "6m")
	path := filepath.Join(dir, "farm.db")
	must(t, open(t, path, "r").Close())
	disktest.Fill(t, filepath.Join(dir, "ballast"))
	s := open(t, path, "r2")
	if !errors.Is(s.Trouble(), disk.ErrFull) {
		t.Errorf("trouble: %v", s.Trouble())
	}
	must(t, s.Close())
	disktest.Fill(t, filepath.Join(dir, "ballast"))
	if _, err := Open(ctx, path, Options{RunID: "r3", Now: sep1}); !errors.Is(err, disk.ErrFull) || !strings.Contains(err.Error(), "free some space") {
		t.Errorf("without a reserve: %v", err)
	}
}

// Somebody deleted the log to make room. There is none for the note of it.
func TestALossOnAFullDiskIsNotForgotten(t *testing.T) {
	dir := disktest.Small(t, "6m")
	path := filepath.Join(dir, "farm.db")
	s := open(t, path, "r")
	cutOff(t, s, "", ".lock")
	must(t, os.Remove(path+".reserve"))
	ballast := filepath.Join(dir, "ballast")
	disktest.Fill(t, ballast)
	for range 2 {
		if _, err := Open(ctx, path, Options{RunID: "r2", Now: sep1}); !errors.Is(err, disk.ErrFull) {
			t.Fatalf("got %v", err)
		}
	}
	must(t, os.Remove(ballast))
	if s := open(t, path, "r3"); !errors.Is(s.Loss(), disk.ErrLost) {
		t.Errorf("with room again: %v", s.Loss())
	}
}
