package daemon

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
	"stubbled/scheduler/ladder"
	"stubbled/store"
	"stubbled/store/disk"
	"stubbled/store/disktest"
)

// A waiting daemon is one that waits for its database.
type waiting struct {
	t      *testing.T
	d      *Daemon
	clock  *farmtest.MovingClock
	screen farmtest.Screen
	ended  chan error
}

// starts starts a daemon that cannot open its database, a quarter past noon.
func starts(t *testing.T, file string, manager *serviceManager) *waiting {
	t.Helper()
	before := manager.times("READY")
	farm, err := config.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	w := &waiting{t: t, clock: &farmtest.MovingClock{}, ended: make(chan error, 1)}
	w.clock.At.Store(time.Date(2026, 8, 22, 17, 15, 0, 0, time.UTC).Unix())
	w.d = prepare(optionsOf(farm, &w.screen, w.clock))
	ctx, stop := context.WithCancel(t.Context())
	gone := make(chan struct{})
	go func() {
		w.ended <- w.d.live(ctx)
		close(gone)
	}()
	t.Cleanup(func() { stop(); <-gone })
	manager.until(t, "READY", before+1)
	return w
}

// minute lets a minute pass, until the daemon tried once more.
func (w *waiting) minute() {
	w.clock.At.Add(60)
	w.d.nudge()
}

// opens waits until it works with its database.
func (w *waiting) opens() {
	w.t.Helper()
	for range 1000 {
		if w.d.state.well() {
			return
		}
		select {
		case err := <-w.ended:
			w.t.Fatalf("it ended: %v", err)
		case <-time.After(10 * time.Millisecond):
			w.d.nudge()
		}
	}
	w.t.Fatalf("it never works with its database: %s", w.d.state.line(nil))
}

func (s *state) well() bool {
	ofStore := func(what string) bool { return what == ladder.AlarmDisk || what == ladder.AlarmDatabase }
	w := s.wellbeing()
	return !w.LastPass.IsZero() && !slices.ContainsFunc(w.Failing, ofStore)
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
	file := onDisk(t, "6m", farmtest.Text)
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
		tries := manager.soFar(t, "STATUS="+w.d.DB)
		w.minute()
		manager.until(t, "STATUS="+w.d.DB, tries+1)
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
		tries := manager.soFar(t, "STATUS="+w.d.DB)
		again.minute()
		manager.until(t, "STATUS="+w.d.DB, tries+1)
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
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.says("Ana", "stop")
	o.turn("2026-08-22 12:00") // the night's copy is made here too
	o.d.store.Close()
	farmtest.Ruin(t, o.d.DB)

	w := starts(t, file, startedByManager(t))
	got := w.says("record is damaged")
	if strings.Contains(got, "to Ana") || !strings.Contains(got, "to Ruth") {
		t.Errorf("Ana opted out, which the copy knows; it says\n%s", got)
	}
	good, _, err := store.LatestGood(t.Context(), BackupDir(o.d.Farm, o.d.DB), o.clock.Now())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := disk.Restore(t.Context(), good.Path, o.d.DB, o.clock.Now()); err != nil {
		t.Fatal(err)
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
			file := farmtest.File(t, farmtest.Text)
			o := newOffice(t, file, "2026-08-22 06:00")
			o.says("Ana", "stop")
			o.turn("2026-08-22 12:00") // the night's copy is made here too
			o.d.store.Close()
			if err := damage(o.d.DB); err != nil {
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
	file := farmtest.File(t, farmtest.Text)
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
	manager.until(t, "STATUS="+w.d.DB+": open: the database is newer than this program", 1)
}

// Without a copy nobody knows who opted out.
func TestNobodyIsToldWhereNobodyKnowsWhoOptedOut(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	farmtest.Ruin(t, filepath.Join(filepath.Dir(file), "stubbled.db"))
	manager := startedByManager(t)
	w := starts(t, file, manager)
	for range 5 {
		tries := manager.soFar(t, "STATUS="+w.d.DB)
		w.minute()
		manager.until(t, "STATUS="+w.d.DB, tries+1)
	}
	if got := w.screen.String(); got != "" {
		t.Errorf("it says\n%s", got)
	}
}

// Whoever types the command sees at once what is wrong.
func TestADamagedDatabaseEndsADaemonThatSomebodyTyped(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 12:00")
	o.d.store.Close()
	farmtest.Ruin(t, filepath.Join(filepath.Dir(file), "stubbled.db"))
	if err := Run(t.Context(), optionsOf(o.d.Farm, &o.screen, o.clock)); err == nil || !strings.Contains(err.Error(), "not a stubbled database") {
		t.Errorf("it says %v", err)
	}
}
