package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

func TestABackupIsMadeWhileTheDaemonWrites(t *testing.T) {
	s := fresh(t)
	stop, done := make(chan bool), make(chan int)
	go func() {
		n := 0
		for {
			select {
			case <-stop:
				done <- n
				return
			default:
				n++
				s.Accept(ctx, "sms", []In{{ID: fmt.Sprint(n), Text: "creek 14"}}, fmt.Sprint(n), sep1)
			}
		}
	}()
	for i := range 3 {
		to := filepath.Join(filepath.Dir(s.Path()), fmt.Sprint("bak", i))
		before, err := s.Pending(ctx)
		must(t, err)
		must(t, s.Backup(ctx, to))
		must(t, disk.Verify(ctx, to))
		b, err := OpenRead(ctx, to)
		must(t, err)
		got, err := b.Pending(ctx)
		must(t, err)
		c, err := b.Cursor(ctx, "sms")
		must(t, err)
		if len(got) < len(before) || len(got) > 0 && c != got[len(got)-1].ID {
			t.Errorf("backup %d has %d texts and cursor %s; %d were there when it began", i, len(got), c, len(before))
		}
		b.Close()
	}
	close(stop)
	<-done
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(s.Path()), "*.part*")); len(left) != 0 {
		t.Errorf("left lying about: %v", left)
	}
}

func TestABackupNeverReplacesAFile(t *testing.T) {
	s := fresh(t)
	to := filepath.Join(t.TempDir(), "bak")
	must(t, os.WriteFile(to, []byte("mine"), 0o600))
	if err := s.Backup(ctx, to); err == nil {
		t.Error("it was replaced")
	}
	if err := s.Backup(ctx, filepath.Join(t.TempDir(), "none", "bak")); err == nil {
		t.Error("a backup to nowhere")
	}
	if b, _ := os.ReadFile(to); string(b) != "mine" {
		t.Errorf("now %q", b)
	}
	if err := disk.Verify(ctx, to); !errors.Is(err, disk.ErrNotOurs) {
		t.Errorf("a text verifies: %v", err)
	}
	must(t, s.Backup(ctx, to+"2"))
	b, err := os.ReadFile(to + "2")
	must(t, err)
	must(t, os.WriteFile(to+"3", b[:len(b)-4096], 0o600))
	if err := disk.Verify(ctx, to+"3"); !errors.Is(err, disk.ErrDamaged) {
		t.Errorf("half a backup verifies: %v", err)
	}
}

func TestRestoringBesideALogThatWasLeftBehindTakesTheBackupAlone(t *testing.T) {
	db, wal, _ := logged(t, 5)
	dir := t.TempDir()
	path, bak := filepath.Join(dir, "farm.db"), filepath.Join(dir, "bak")
	s := open(t, filepath.Join(dir, "other.db"), "r")
	record(t, s, reading("only", 9))
	must(t, s.Backup(ctx, bak))
	must(t, os.WriteFile(path, db, 0o600))
	must(t, os.WriteFile(path+"-wal", wal, 0o600))
	aside, err := disk.Restore(ctx, bak, path, sep1)
	must(t, err)
	r := open(t, path, "r2")
	if got := facts(t, r); len(got) != 1 || got[0].Paddock != "only" {
		t.Errorf("restored: %+v", got)
	}
	old := open(t, aside, "r3")
	if got := facts(t, old); len(got) != 5 {
		t.Errorf("set aside: %+v", got)
	}
}

func TestNightlyMakesOneADayAndTouchesNoOtherFile(t *testing.T) {
	s := fresh(t)
	dir := filepath.Join(t.TempDir(), "backups")
	if days, err := Copies(ctx, dir); len(days) != 0 || err != nil {
		t.Errorf("before the first: %v, %v", days, err)
	}
	must(t, os.MkdirAll(dir, 0o700))
	for _, name := range []string{"stubbled-2020-02-30.db", "stubbled-old.db", "notes.txt", "stubbled-2020-01-05.db.part"} {
		must(t, os.WriteFile(filepath.Join(dir, name), nil, 0o600))
	}
	for d := day("2026-08-01"); d.Before(day("2026-08-20")); d = d.AddDays(1) {
		for range 2 {
			path, err := s.Nightly(ctx, dir, d, d.In(time.UTC))
			must(t, err)
			if !exists(path) {
				t.Errorf("%s is not there", path)
			}
		}
	}
	days, err := Copies(ctx, dir)
	must(t, err)
	// Aug 6 to 19 are 14; Monday Aug 3 besides.
	if len(days) != 15 || days[0].Day != day("2026-08-19") || days[14].Day != day("2026-08-03") {
		t.Errorf("%v", days)
	}
	if all, _ := os.ReadDir(dir); len(all) != 15+4 {
		t.Errorf("%d files", len(all))
	}
}

func TestThePicturesOfOldMailsGoAndTheirWordsStay(t *testing.T) {
	s := fresh(t)
	reconcile(t, s, sep1, notice(ladder.HeadsUp, "creek", "Ana"), notice(ladder.LastLook, "creek", "Ana"))
	words := func(e *Envelope) error {
		e.Text, e.HTML, e.Files = "words", "<img>", []File{{Name: "a.png", Data: make([]byte, 50_000)}}
		return nil
	}
	for _, o := range []Result{WasSent, TryAgain} {
		settle(t, s, first(t, s, sep1, bySMS(Unsafe), words), o, sep1)
	}
	left := func() (n, html int) {
		must(t, s.db.Read.QueryRow(`SELECT count(files), sum(html <> '') FROM messages WHERE words = 'words'`).Scan(&n, &html))
		return n, html
	}
	for _, tt := range []struct {
		day  string
		want int
	}{{"2026-11-20", 2}, {"2026-12-20", 1}} { // the other one may still be sent
		_, err := s.Nightly(ctx, filepath.Join(t.TempDir(), "b"), day(tt.day), day(tt.day).In(time.UTC))
		must(t, err)
		if n, html := left(); n != tt.want || html != tt.want {
			t.Errorf("%s: %d files, %d HTML, want %d", tt.day, n, html, tt.want)
		}
	}
	must(t, s.db.Check(ctx))
}

func TestTheSizeCountsTheLog(t *testing.T) {
	s := fresh(t)
	must(t, s.Check(ctx))
	fi, err := os.Stat(s.Path())
	must(t, err)
	if n, err := s.Size(); err != nil || n <= fi.Size() {
		t.Errorf("%d of a file of %d (%v)", n, fi.Size(), err)
	}
}
