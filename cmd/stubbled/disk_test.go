package main

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"stubbled/config"
	"stubbled/scheduler/ladder"
	"stubbled/store/disktest"
)

// A manager of services hears what the daemon tells it.
type serviceManager struct {
	mu  sync.Mutex
	all []string
}

// startedByManager puts the test's daemon under a service manager.
func startedByManager(t *testing.T) *serviceManager {
	t.Helper()
	dir, err := os.MkdirTemp("", "sd") // a socket's path must be short
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	path := filepath.Join(dir, "s")
	c, err := net.ListenUnixgram("unixgram", &net.UnixAddr{Name: path, Net: "unixgram"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	t.Setenv("NOTIFY_SOCKET", path)
	t.Setenv(runtimeDir, t.TempDir())
	m := &serviceManager{}
	go func() {
		b := make([]byte, 4096)
		for {
			n, err := c.Read(b)
			if err != nil {
				return
			}
			m.mu.Lock()
			m.all = append(m.all, string(b[:n]))
			m.mu.Unlock()
		}
	}()
	return m
}

// times counts what it was told.
func (m *serviceManager) times(what string) (n int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, one := range m.all {
		if strings.HasPrefix(one, what) {
			n++
		}
	}
	return n
}

// until waits until it was told something so often; a word may be under way.
func (m *serviceManager) until(t *testing.T, what string, n int) {
	t.Helper()
	for range 1000 {
		if m.times(what) >= n {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatalf("the service manager hears %s %d times, want %d", what, m.times(what), n)
}

// soFar counts what it was told, once all that is under way is there.
func (m *serviceManager) soFar(t *testing.T, what string) int {
	t.Helper()
	const mark = "X_MARK"
	n := m.times(mark)
	tell(mark + "=1")
	m.until(t, mark, n+1)
	return m.times(what)
}

// onDisk puts a farm file, and with it the database, on a disk of its own.
func onDisk(t *testing.T, size, text string) string {
	t.Helper()
	file := filepath.Join(disktest.Small(t, size), "farm.yaml")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// minutes lets the daemon turn once a minute and gives what it said and how
// many turns failed. Before each, something else fills the disk; nothing does
// where no ballast is given.
func (o *office) minutes(n int, ballast string) (text string, failed int) {
	o.t.Helper()
	o.screen.Reset()
	for range n {
		o.clock.now = o.clock.now.Add(time.Minute)
		if ballast != "" {
			disktest.Fill(o.t, ballast)
		}
		if o.d.turn(o.t.Context()) != nil {
			failed++
		}
	}
	return o.screen.String(), failed
}

func TestAFullDiskIsToldAndTheDaemonLivesUntilThereIsRoom(t *testing.T) {
	manager := startedByManager(t)
	file := onDisk(t, "6m", farmText)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.turn("2026-08-22 12:00")
	manager.until(t, "WATCHDOG", 1)
	ballast := filepath.Join(filepath.Dir(file), "ballast")
	got, failed := o.minutes(20, ballast)
	if failed < 10 {
		t.Fatalf("only %d turns failed: the disk was not full", failed)
	}
	if strings.Count(got, "Free some disk space") != 1 || strings.Count(got, "to Ana") != 1 {
		t.Errorf("it says\n%s", got)
	}
	manager.until(t, "WATCHDOG", 21) // or it is killed for a disk that is full
	manager.until(t, "STATUS=pass: "+o.d.db, 1)
	if w := o.d.state.wellbeing(); w.OK || w.Failing[0] != ladder.AlarmDisk {
		t.Errorf("the health socket says %+v", w)
	}
	o.clock.now = o.clock.now.Add(24 * time.Hour)
	if again, _ := o.minutes(3, ballast); strings.Count(again, "Free some disk space") != 1 {
		t.Errorf("a day later it says\n%s", again)
	}

	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	if got := o.turn("2026-08-24 12:00"); strings.Contains(got, "disk space") {
		t.Errorf("there is room again; it says\n%s", got)
	}
	o.says("Ana", "creek 9 8 10")
	if got := o.turn("2026-08-24 12:01"); !strings.Contains(got, "GO Creek Bottom") {
		t.Errorf("with room again it says\n%s", got)
	}
	if w := o.d.state.wellbeing(); !w.OK {
		t.Errorf("with room again the health socket says %+v", w)
	}
}

// Something filled the disk and ended. The reserve serves for a while, and is not
// taken back at once.
func TestADiskFullToTheLastByteIsTold(t *testing.T) {
	file := onDisk(t, "6m", farmText)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.turn("2026-08-22 12:00")
	disktest.Fill(t, filepath.Join(filepath.Dir(file), "ballast"))
	got, failed := o.minutes(30, "")
	if strings.Count(got, "Free some disk space") != 1 || failed > 1 || o.d.state.wellbeing().OK {
		t.Errorf("%d turns failed; it says\n%s", failed, got)
	}
}

func TestWhoOptedOutIsNotToldOfAFullDisk(t *testing.T) {
	file := onDisk(t, "6m", farmText)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.says("Ana", "stop")
	o.turn("2026-08-22 12:00")
	got, failed := o.minutes(20, filepath.Join(filepath.Dir(file), "ballast"))
	if failed < 10 || strings.Contains(got, "to Ana") || !strings.Contains(got, "to Ruth") {
		t.Errorf("%d turns failed; it says\n%s", failed, got)
	}
}

// A movingClock may be set while the daemon runs.
type movingClock struct{ at atomic.Int64 }

func (c *movingClock) Now() time.Time           { return time.Unix(c.at.Load(), 0) }
func (c *movingClock) SinceBoot() time.Duration { return time.Duration(c.at.Load()) * time.Second }
func (c *movingClock) Synced() bool             { return true }

// A waiting daemon is one that waits for its database.
type waiting struct {
	t      *testing.T
	d      *daemon
	clock  *movingClock
	screen lockedBuffer
	ended  chan error
}

type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// starts starts a daemon that cannot open its database, a quarter past noon.
func starts(t *testing.T, file string, manager *serviceManager) *waiting {
	t.Helper()
	before := manager.times("READY")
	farm, err := config.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	w := &waiting{t: t, clock: &movingClock{}, ended: make(chan error, 1)}
	w.clock.at.Store(time.Date(2026, 8, 22, 17, 15, 0, 0, time.UTC).Unix())
	e := &env{in: strings.NewReader(""), out: &w.screen, err: &w.screen, clock: w.clock}
	w.d = prepare(e, farm, filepath.Join(filepath.Dir(file), "stubbled.db"), slog.New(slog.DiscardHandler))
	ctx, stop := context.WithCancel(t.Context())
	gone := make(chan struct{})
	go func() {
		w.ended <- w.d.await(ctx)
		close(gone)
	}()
	t.Cleanup(func() { stop(); <-gone })
	manager.until(t, "READY", before+1)
	return w
}

// minute lets a minute pass, until the daemon tried once more.
func (w *waiting) minute() {
	w.clock.at.Add(60)
	w.d.nudge()
}

// opens waits until the database could be opened.
func (w *waiting) opens() {
	w.t.Helper()
	for range 1000 {
		select {
		case err := <-w.ended:
			if err != nil {
				w.t.Fatal(err)
			}
			w.d.store.Close()
			return
		case <-time.After(10 * time.Millisecond):
			w.d.nudge()
		}
	}
	w.t.Fatal("it never opened its database")
}

// says waits for words on the console.
func (w *waiting) says(words string) string {
	w.t.Helper()
	for range 1000 {
		if got := w.screen.String(); strings.Contains(got, words) {
			return got
		}
		time.Sleep(10 * time.Millisecond)
	}
	w.t.Fatalf("it never says %q; it says\n%s", words, w.screen.String())
	return ""
}

func TestAStartOnAFullDiskIsToldAndTriedUntilThereIsRoom(t *testing.T) {
	file := onDisk(t, "6m", farmText)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.says("Ana", "creek 9 8 10")
	o.turn("2026-08-22 06:00")
	o.d.store.Close()
	ballast, dir := filepath.Join(filepath.Dir(file), "ballast"), filepath.Dir(file)
	if err := os.Remove(filepath.Join(dir, "stubbled.db.reserve")); err != nil {
		t.Fatal(err)
	}
	disktest.Fill(t, ballast)

	manager := startedByManager(t)
	w := starts(t, file, manager)
	w.minute()
	w.says("Free some disk space")
	for range 3 {
		tries := manager.soFar(t, "STATUS="+w.d.db)
		w.minute()
		manager.until(t, "STATUS="+w.d.db, tries+1)
	}
	if got := w.screen.String(); strings.Count(got, "Free some disk space") != 1 {
		t.Errorf("it says\n%s", got)
	}
	manager.until(t, "WATCHDOG", 2)
	if w.d.state.wellbeing().OK {
		t.Error("the health socket says that all is well")
	}
	// The service is started again: nobody hears it twice.
	again := starts(t, file, manager)
	for range 2 {
		tries := manager.soFar(t, "STATUS="+w.d.db)
		again.minute()
		manager.until(t, "STATUS="+w.d.db, tries+1)
	}
	if got := again.screen.String(); got != "" {
		t.Errorf("after one more start it says\n%s", got)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	w.opens()
}

func TestADamagedDatabaseIsToldAndTakenOnceItIsRestored(t *testing.T) {
	file := farmFile(t, farmText)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.says("Ana", "stop")
	o.turn("2026-08-22 12:00") // the night's copy is made here too
	o.d.store.Close()
	db := filepath.Join(filepath.Dir(file), "stubbled.db")
	if err := os.WriteFile(db, []byte(strings.Repeat("not a database", 1000)), 0o600); err != nil {
		t.Fatal(err)
	}

	w := starts(t, file, startedByManager(t))
	got := w.says("record is damaged")
	if strings.Contains(got, "to Ana") || !strings.Contains(got, "to Ruth") {
		t.Errorf("Ana opted out, which the copy knows; it says\n%s", got)
	}
	if out, code := o.typed("restore"); code != exitFine {
		t.Fatal(out)
	}
	w.opens()
}

// A damaged database may have lost who opted out, and a page of zeros reads well.
func TestWhoOptedOutIsNotToldOfADamagedDatabase(t *testing.T) {
	for name, damage := range map[string]func(db string) error{
		"cut to nothing": func(db string) error { return errors.Join(os.Remove(db+".reserve"), os.Truncate(db, 0)) },
		"gone":           func(db string) error { return errors.Join(os.Remove(db+".reserve"), os.Remove(db)) },
		"a page of zeros": func(db string) error {
			data, err := os.ReadFile(db)
			if err != nil {
				return err
			}
			c, err := sql.Open("sqlite", "file:"+db+"?mode=ro")
			if err != nil {
				return err
			}
			defer c.Close()
			var page, size int
			if err := c.QueryRow(`SELECT rootpage FROM sqlite_schema WHERE name = 'suppressed'`).Scan(&page); err != nil {
				return err
			}
			if err := c.QueryRow(`PRAGMA page_size`).Scan(&size); err != nil {
				return err
			}
			at := (page - 1) * size
			data[at+3], data[at+4] = 0, 0 // how many rows the page holds
			return os.WriteFile(db, data, 0o600)
		},
	} {
		t.Run(name, func(t *testing.T) {
			file := farmFile(t, farmText)
			o := newOffice(t, file, "2026-08-22 06:00")
			o.says("Ana", "stop")
			o.turn("2026-08-22 12:00") // the night's copy is made here too
			o.d.store.Close()
			if err := damage(o.d.db); err != nil {
				t.Fatal(err)
			}
			w := starts(t, file, startedByManager(t))
			w.minute()
			if got := w.says("record is damaged"); strings.Contains(got, "to Ana") || !strings.Contains(got, "to Ruth") {
				t.Errorf("it says\n%s", got)
			}
		})
	}
}

// An older program was put back, and its service would end and start for ever.
func TestADatabaseOfALaterProgramIsTold(t *testing.T) {
	file := farmFile(t, farmText)
	o := newOffice(t, file, "2026-08-22 12:00")
	o.d.store.Close()
	db, err := sql.Open("sqlite", "file:"+filepath.Join(filepath.Dir(file), "stubbled.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(`INSERT INTO goose_db_version (version_id, is_applied) VALUES (999, 1)`); err != nil {
		t.Fatal(err)
	}
	manager := startedByManager(t)
	w := starts(t, file, manager)
	w.minute()
	w.says("stubbled cannot do its work")
	manager.until(t, "STATUS="+w.d.db+": open: the database is newer than this program", 1)
}

// Without a copy nobody knows who opted out.
func TestNobodyIsToldWhereNobodyKnowsWhoOptedOut(t *testing.T) {
	file := farmFile(t, farmText)
	if err := os.WriteFile(filepath.Join(filepath.Dir(file), "stubbled.db"), []byte(strings.Repeat("not a database", 1000)), 0o600); err != nil {
		t.Fatal(err)
	}
	manager := startedByManager(t)
	w := starts(t, file, manager)
	for range 5 {
		tries := manager.soFar(t, "STATUS="+w.d.db)
		w.minute()
		manager.until(t, "STATUS="+w.d.db, tries+1)
	}
	if got := w.screen.String(); got != "" {
		t.Errorf("it says\n%s", got)
	}
}

// Whoever types the command sees at once what is wrong.
func TestADamagedDatabaseEndsADaemonThatSomebodyTyped(t *testing.T) {
	file := farmFile(t, farmText)
	o := newOffice(t, file, "2026-08-22 12:00")
	o.d.store.Close()
	if err := os.WriteFile(filepath.Join(filepath.Dir(file), "stubbled.db"), []byte(strings.Repeat("not a database", 1000)), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, code := o.typed("run"); code == exitFine || !strings.Contains(out, "not a stubbled database") {
		t.Errorf("it says %q", out)
	}
}
