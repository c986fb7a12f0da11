package store

import (
	"bufio"
	"context"
	"database/sql"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"stubbled/store/disk"
)

// TestMain lets the test binary play a second process.
func TestMain(m *testing.M) {
	switch os.Getenv("STUBBLED_TEST_CHILD") {
	case "hold":
		childHold()
	case "work":
		childWork()
	}
	os.Exit(m.Run())
}

func child(t *testing.T, role string, env ...string) *exec.Cmd {
	t.Helper()
	exe, err := os.Executable()
	must(t, err)
	c := exec.Command(exe, "-test.run=^$")
	c.Env = append(os.Environ(), append(env, "STUBBLED_TEST_CHILD="+role)...)
	c.Stderr = os.Stderr
	return c
}

func childHold() {
	s, err := Open(ctx, os.Getenv("STUBBLED_TEST_DB"), Options{RunID: "other", Now: sep1})
	if err != nil {
		panic(err)
	}
	os.Stdout.WriteString("held\n")
	bufio.NewReader(os.Stdin).ReadString('\n') // until the parent is done
	s.Close()
	os.Exit(0)
}

func TestASecondDaemonOnTheSameDatabaseIsRefusedAndToldWhoRuns(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	c := child(t, "hold", "STUBBLED_TEST_DB="+path)
	in, err := c.StdinPipe()
	must(t, err)
	out, err := c.StdoutPipe()
	must(t, err)
	must(t, c.Start())
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "held\n" {
		t.Fatalf("the other process said %q, %v", line, err)
	}
	_, err = Open(ctx, path, Options{RunID: "me", Now: sep1})
	want := "another stubbled is running, pid " + strconv.Itoa(c.Process.Pid)
	if !errors.Is(err, disk.ErrLocked) || !strings.Contains(err.Error(), want) {
		t.Errorf("got %v, want %q", err, want)
	}

	beside, err := OpenBeside(ctx, path)
	must(t, err)
	must(t, beside.Accept(ctx, "keyboard", []In{{ID: "1", Contact: "Ana", Text: "creek 14 8"}}, "", sep1))
	if err := beside.Update(ctx, sep1, func(*Tx) error { return nil }); !errors.Is(err, disk.ErrBeside) {
		t.Errorf("beside a daemon the diary was written: %v", err)
	}
	must(t, beside.Close())

	in.Close()
	must(t, c.Wait())
	s := open(t, path, "me")
	if got, err := s.Pending(ctx); err != nil || len(got) != 1 || got[0].Text != "creek 14 8" {
		t.Errorf("typed beside the daemon: got %v, %v", got, err)
	}
}

// Whatever path leads to it, it is one database.
func TestASecondDaemonByAnotherPathIsRefused(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "farm.db")
	must(t, open(t, path, "r").Close())
	c := child(t, "hold", "STUBBLED_TEST_DB="+path)
	in, err := c.StdinPipe()
	must(t, err)
	out, err := c.StdoutPipe()
	must(t, err)
	must(t, c.Start())
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "held\n" {
		t.Fatalf("the other process said %q, %v", line, err)
	}
	elsewhere := t.TempDir()
	soft, hard, folder := filepath.Join(elsewhere, "soft.db"), filepath.Join(elsewhere, "hard.db"), filepath.Join(elsewhere, "folder")
	must(t, os.Symlink(path, soft))
	must(t, os.Link(path, hard))
	must(t, os.Symlink(dir, folder))
	refused := func(name, path string) {
		t.Helper()
		s, err := Open(ctx, path, Options{RunID: "me", Now: sep1})
		if !errors.Is(err, disk.ErrLocked) || !strings.Contains(err.Error(), "stop it first") {
			t.Errorf("by %s: %v", name, err)
		}
		if err == nil {
			s.Close()
		}
		bak := filepath.Join(elsewhere, "bak.db")
		os.Remove(bak)
		r, err := OpenRead(ctx, path)
		must(t, err)
		must(t, r.Backup(ctx, bak))
		must(t, r.Close())
		if _, err := disk.Restore(ctx, bak, path, sep1); !errors.Is(err, disk.ErrLocked) {
			t.Errorf("restored by %s: %v", name, err)
		}
	}
	refused("a symbolic link", soft)
	if pid, runs := disk.Running(soft); !runs || pid != c.Process.Pid {
		t.Errorf("who looks by a link finds process %d, %v", pid, runs)
	}
	refused("a link to its folder", filepath.Join(folder, "farm.db"))
	refused("another name of the file", hard)
	must(t, os.Remove(path+".lock"))
	refused("its own path, the lock file deleted", path)

	in.Close()
	must(t, c.Wait())
	s := open(t, soft, "me") // nobody has it now
	record(t, s, reading("creek", 14))
	must(t, s.Close())
	if got := facts(t, open(t, path, "me")); len(got) != 1 {
		t.Errorf("written by the link, read by the path: %+v", got)
	}
}

func TestTheDatabaseOfAnotherFarmIsRefusedUnlessItWasRenamed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	must(t, open(t, path, "r").Close()) // from before it held a name
	opens := func(f Farm) error {
		s, err := Open(ctx, path, Options{RunID: "r", Now: sep1, Farm: f})
		if err == nil {
			must(t, s.Close())
		}
		r, look := OpenRead(ctx, path, f)
		if look == nil {
			r.Close()
		}
		if (err == nil) != (look == nil) {
			t.Errorf("%+v: it opens with %v, and to look with %v", f, err, look)
		}
		return err
	}
	must(t, opens(Farm{Name: "Quail Fork"}))
	must(t, opens(Farm{Name: "quail fork"}))
	must(t, opens(Farm{}))
	err := opens(Farm{Name: "Bar Seven"})
	if !errors.Is(err, disk.ErrOtherFarm) || !strings.Contains(err.Error(), `"Quail Fork"`) || !strings.Contains(err.Error(), `"Bar Seven"`) || !strings.Contains(err.Error(), "was:") {
		t.Errorf("another farm: %v", err)
	}
	if err := opens(Farm{Name: "Bar Seven", Was: "Bar Six"}); !errors.Is(err, disk.ErrOtherFarm) {
		t.Errorf("another farm that was renamed: %v", err)
	}
	must(t, opens(Farm{Name: "Bar Seven", Was: "Quail Fork"}))
	must(t, opens(Farm{Name: "Bar Seven"}))
	if err := opens(Farm{Name: "Quail Fork"}); !errors.Is(err, disk.ErrOtherFarm) {
		t.Errorf("by the old name: %v", err)
	}
	s, err := Open(ctx, path, Options{RunID: "r", Now: sep1, Farm: Farm{Name: "Bar Seven"}})
	must(t, err)
	defer s.Close()
	if err := s.Take(ctx, Farm{Name: "Quail Fork"}); !errors.Is(err, disk.ErrOtherFarm) {
		t.Errorf("edited while it runs: %v", err)
	}
	must(t, s.Take(ctx, Farm{Name: "Bar Eight", Was: "Bar Seven"}))
}

func TestTheLockEndsWithTheStore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	for range 3 {
		s, err := Open(ctx, path, Options{RunID: "r", Now: sep1})
		must(t, err)
		must(t, s.Close())
	}
}

func TestADatabaseThatCannotBeUsedIsRefusedWithTheMend(t *testing.T) {
	dir := t.TempDir()
	make := func(name, sqlText string) string {
		path := filepath.Join(dir, name)
		db, err := sql.Open("sqlite", "file:"+path)
		must(t, err)
		defer db.Close()
		_, err = db.Exec(sqlText)
		must(t, err)
		return path
	}
	newer := filepath.Join(dir, "newer.db")
	must(t, open(t, newer, "r").Close())
	make("newer.db", `INSERT INTO goose_db_version (version_id, is_applied) VALUES (999, 1)`)
	text := filepath.Join(dir, "text.db")
	must(t, os.WriteFile(text, []byte(strings.Repeat("creek 14 8 6 8\n", 500)), 0o600))

	for _, tt := range []struct {
		name, path string
		want       error
		says       string
	}{
		{"a newer program wrote it", newer, disk.ErrNewer, "install the version"},
		{"another program's database", make("other.db", `CREATE TABLE cows (id)`), disk.ErrNotOurs, "--db"},
		{"another program that counts its schema the same way", make("goose.db",
			`CREATE TABLE goose_db_version (id INTEGER, version_id INTEGER, is_applied INTEGER); INSERT INTO goose_db_version VALUES (1, 1, 1)`), disk.ErrNotOurs, "--db"},
		{"a text file", text, disk.ErrNotOurs, "--db"},
		{"a folder that is not there", filepath.Join(dir, "none", "farm.db"), nil, "no such file"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			before, _ := os.ReadFile(tt.path)
			_, err := Open(ctx, tt.path, Options{RunID: "r", Now: sep1})
			if err == nil || tt.want != nil && !errors.Is(err, tt.want) || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %v, want %v and %q in it", err, tt.want, tt.says)
			}
			if after, _ := os.ReadFile(tt.path); string(after) != string(before) {
				t.Error("it was changed all the same")
			}
			if _, err := OpenRead(ctx, tt.path); err == nil {
				t.Error("opened for reading")
			}
		})
	}
}

func TestLookingNeverWrites(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	if _, err := OpenRead(ctx, path); !errors.Is(err, disk.ErrNoFile) {
		t.Errorf("a database that is not there: %v", err)
	}
	if exists(path) {
		t.Fatal("looking made a file")
	}
	s := open(t, path, "r")
	update(t, s, sep1, func(x *Tx) error { _, _, err := x.Record(reading("creek", 14)); return err })
	r, err := OpenRead(ctx, path)
	must(t, err)
	defer r.Close()
	if f, err := r.factsAfter(0); err != nil || len(f) != 1 {
		t.Errorf("the diary beside the daemon: %v, %v", f, err)
	}
	for name, write := range map[string]func() error{
		"update": func() error { return r.Update(ctx, sep1, func(*Tx) error { return nil }) },
		"accept": func() error { return r.Accept(ctx, "sms", []In{{ID: "1"}}, "", sep1) },
		"check":  func() error { return r.Check(ctx) },
	} {
		if err := write(); !errors.Is(err, disk.ErrBeside) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := r.db.Read.Exec(`DELETE FROM inbox`); !errors.Is(r.db.Explain("x", err), disk.ErrReadOnly) {
		t.Errorf("the reader wrote: %v", err)
	}
}

func TestTheFileIsForItsOwnerAlone(t *testing.T) {
	s := fresh(t)
	must(t, s.Check(ctx))
	bak := s.Path() + ".bak"
	must(t, s.Backup(ctx, bak))
	for _, name := range []string{s.Path(), s.Path() + "-wal", s.Path() + ".lock", bak} {
		if fi, err := os.Stat(name); err != nil || fi.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s: %v, %v", name, fi.Mode(), err)
		}
	}
}

func TestEveryConnectionHasTheSettings(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	must(t, open(t, path, "r").Close())
	s := open(t, path, "r")
	if _, err := s.Pending(ctx); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ pragma, want string }{
		{"journal_mode", "wal"}, {"synchronous", "2"}, {"recursive_triggers", "1"}, {"foreign_keys", "1"}, {"busy_timeout", "5000"}, {"trusted_schema", "0"},
	} {
		for name, db := range map[string]interface {
			QueryRowContext(context.Context, string, ...any) *sql.Row
		}{"writer": s.db.Write, "reader": s.db.Read} {
			var got string
			if err := db.QueryRowContext(ctx, "PRAGMA "+tt.pragma).Scan(&got); err != nil || got != tt.want {
				t.Errorf("%s: %s is %s, want %s (%v)", name, tt.pragma, got, tt.want, err)
			}
		}
	}
	if _, err := s.db.Write.ExecContext(ctx, `SELECT "no such column"`); err == nil {
		t.Error("a misspelt column passes for a string")
	}
}

func TestAPanicInADecisionLeavesNothingBehindAndTheStoreUsable(t *testing.T) {
	s := fresh(t)
	func() {
		defer func() { recover() }()
		s.Update(ctx, sep1, func(x *Tx) error {
			x.Record(reading("creek", 14))
			panic("a bug")
		})
	}()
	update(t, s, sep1, func(x *Tx) error {
		f, err := x.FactsAfter(0)
		if len(f) != 0 {
			t.Errorf("half a decision stayed: %v", f)
		}
		return err
	})
}

func TestEveryErrorThatSomebodyCanActOnSaysTheMend(t *testing.T) {
	for _, kind := range []*disk.Fault{disk.ErrNewer, disk.ErrOlder, disk.ErrNotOurs, disk.ErrFull, disk.ErrReadOnly, disk.ErrIO, disk.ErrDamaged, disk.ErrBusy, disk.ErrNoFile, disk.ErrLost, disk.ErrFact, disk.ErrOtherFarm} {
		e := &disk.Error{Kind: kind, Op: "write", Path: "farm.db", Err: os.ErrInvalid}
		if kind.Mend == "" || !strings.Contains(e.Error(), kind.Mend) || !errors.Is(e, kind) || !errors.Is(e, os.ErrInvalid) {
			t.Errorf("%v: %v", kind, e)
		}
	}
	if err := fresh(t).db.Explain("write", nil); err != nil {
		t.Error(err)
	}
}

// The driver's authors ask for the very libc that they tested with: another
// one has crashed before.
func TestTheLibcIsTheOneTheDriverWasMadeWith(t *testing.T) {
	want := regexp.MustCompile(`modernc\.org/libc (v\S+)`)
	ours, err := os.ReadFile("../go.mod")
	must(t, err)
	out, err := exec.Command("go", "list", "-m", "-f", "{{.GoMod}}", "modernc.org/sqlite").Output()
	must(t, err)
	theirs, err := os.ReadFile(strings.TrimSpace(string(out)))
	must(t, err)
	a, b := want.FindSubmatch(ours), want.FindSubmatch(theirs)
	if a == nil || b == nil || string(a[1]) != string(b[1]) {
		t.Errorf("go.mod has libc %s, the driver wants %s: go get modernc.org/libc@ that one", a, b)
	}
}

// Somebody looks whether the daemon runs, at the moment when it starts.
func TestWhoLooksDoesNotKeepADaemonFromStarting(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	if _, yes := disk.Running(path); yes {
		t.Error("runs before it ever ran")
	}
	s := open(t, path, "r")
	if pid, yes := disk.Running(path); !yes || pid != os.Getpid() {
		t.Errorf("process %d runs: %t", pid, yes)
	}
	must(t, s.Close())
	look, err := os.Open(path + ".lock")
	must(t, err)
	defer look.Close()
	must(t, syscall.Flock(int(look.Fd()), syscall.LOCK_SH))
	looked := make(chan error, 1)
	time.AfterFunc(30*time.Millisecond, func() { looked <- syscall.Flock(int(look.Fd()), syscall.LOCK_UN) })
	open(t, path, "r2")
	must(t, <-looked)
}
