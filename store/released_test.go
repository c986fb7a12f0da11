package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"flag"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
	"stubbled/store/schema"
)

// A database of each released schema is kept under testdata/released, and
// opened by the current code. With -release the one of the newest schema is
// made anew, once, when a version is released; after that its migration is
// never edited again.
var release = flag.Bool("release", false, "make testdata/released for the newest schema")

const released = "testdata/released"

// lived puts something in every table: an invented farm's fall in short.
func lived(t *testing.T, path string) {
	s := open(t, path, "run-1")
	cold, warm, rain := -2.8, 12.5, 4.0
	in := heard(t, s, "1", "Ana", "creek 14 8 6 8", sep1)
	must(t, s.Accept(ctx, "email", []In{{ID: "m1", From: "luis@example.org", Contact: "Luis", Text: "stop", MailID: "a@example.org", InReplyTo: "x", StopOnly: true}}, "7:12", sep1))
	must(t, s.Observe(ctx, []diary.Observation{
		{Source: "record", Place: "quail-fork", At: sep1, Day: day("2026-08-31"), MinC: 11, MaxC: &warm, RainMM: &rain},
		{Source: "service", Place: "quail-fork", At: sep1.AddDate(0, 0, 1), Day: day("2026-09-02"), MinC: 9, Forecast: true, Issued: sep1},
	}, sep1))
	update(t, s, sep1, func(x *Tx) error {
		f := reading("creek", 14, 8, 6, 8)
		f.Inbox, f.Words = in.Row, in.Text
		id, _, err := x.Record(f)
		must(t, err)
		_, _, err = x.TakeBack(id, f)
		must(t, err)
		_, _, err = x.Record(diary.Fact{At: sep1, Day: day("2026-10-14"), Kind: diary.Frost, TempC: &cold, Source: diary.FromRecord, By: "quail-fork"})
		must(t, err)
		_, _, err = x.Record(diary.Fact{At: sep1, Day: day("2026-09-01"), Kind: diary.Later, Paddock: "hill", Wait: 48 * time.Hour, Source: diary.FromKeyboard})
		must(t, err)
		_, err = x.Answer(answer(ladder.AnswerVerdict, in))
		must(t, err)
		_, err = x.Heard(in.Row)
		must(t, err)
		_, err = x.Suppress("luis@example.org", "Luis", "stop")
		must(t, err)
		return x.SetSeen(sep1)
	})
	var wanted []ladder.Notice
	for _, k := range []ladder.Kind{ladder.HeadsUp, ladder.LastLook, ladder.ShutToday, ladder.MovePlan, ladder.Overdue} {
		wanted = append(wanted, notice(k, "creek", "Ana"), notice(k, "hill", "Ana"))
	}
	late := notice(ladder.KeepShut, "lane", "Ana")
	late.NotBefore, late.GoodUntil = sep1.AddDate(0, 0, 5), sep1.AddDate(0, 0, 6)
	reconcile(t, s, sep1, append(wanted, late)...)
	for _, o := range []Result{WasSent, WasSent, WasRefused, NotKnown, TryAgain} {
		settle(t, s, claim(t, s, sep1, bySMS(Unsafe)), o, sep1)
	}
	if m := claim(t, s, sep1, bySMS(Unsafe)); m != nil {
		goes(t, s, m)
	} else {
		t.Fatal("nothing left to be under way")
	}
	must(t, s.Close())
}

func TestDatabasesOfEveryReleaseAreOpened(t *testing.T) {
	if *release {
		path := filepath.Join(t.TempDir(), "v.db")
		lived(t, path)
		s := open(t, path, "run-1")
		must(t, os.MkdirAll(released, 0o755))
		to := filepath.Join(released, "v"+string(rune('0'+schema.Newest()))+".db")
		os.Remove(to)
		must(t, s.Backup(ctx, to))
		must(t, s.Close())
		must(t, os.Chmod(to, 0o644))
	}
	all, err := filepath.Glob(filepath.Join(released, "v*.db"))
	must(t, err)
	if len(all) == 0 {
		t.Fatal("no released database is kept")
	}
	for _, name := range all {
		t.Run(filepath.Base(name), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "farm.db")
			data, err := os.ReadFile(name)
			must(t, err)
			must(t, os.WriteFile(path, data, 0o600))
			r, err := OpenRead(ctx, path)
			if err == nil {
				r.Close()
			} else if !errors.Is(err, disk.ErrOlder) {
				t.Fatal(err)
			}
			s := open(t, path, "run-2")
			tables, err := disk.All(s.db.Look(ctx, "count"), disk.One[string], `SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'`)
			must(t, err)
			for _, table := range tables {
				var any bool
				if must(t, s.db.Read.QueryRow(`SELECT EXISTS (SELECT 1 FROM "`+table+`")`).Scan(&any)); !any {
					t.Errorf("table %s is empty", table)
				}
			}
			checkLived(t, s)
		})
	}
}

// checkLived reads everything that lived wrote.
func checkLived(t *testing.T, s *Store) {
	got := facts(t, s)
	if len(got) != 4 || got[1].Voids != got[0].ID || !reflect.DeepEqual(got[0].Heights, []float64{14, 8, 6, 8}) || *got[2].TempC != -2.8 || got[3].Wait != 48*time.Hour {
		t.Errorf("diary: %+v", got)
	}
	in, err := s.Pending(ctx)
	if err != nil || len(in) != 1 || in[0].Text != "stop" || !in[0].StopOnly || in[0].MailID != "a@example.org" || in[0].InReplyTo != "x" {
		t.Errorf("inbox: %+v, %v", in, err)
	}
	obs, err := s.observations(day("2026-08-01"), day("2026-12-31"))
	if err != nil || len(obs) != 2 || *obs[0].MaxC != 12.5 || !obs[1].Forecast || !obs[1].Issued.Equal(sep1) {
		t.Errorf("observations: %+v, %v", obs, err)
	}
	if o, err := s.OptOuts(ctx); err != nil || len(o) != 1 || o[0].Address != "luis@example.org" {
		t.Errorf("opt-outs: %+v, %v", o, err)
	}
	if c, err := s.Cursor(ctx, "email"); c != "7:12" || err != nil {
		t.Errorf("cursor: %q, %v", c, err)
	}
	if at, err := s.LastSeen(ctx); !at.Equal(sep1) || err != nil {
		t.Errorf("clock: %v, %v", at, err)
	}
	by := map[State]int{}
	for _, state := range states(t, s) {
		by[state]++
	}
	// Sent: the answer and two heads-ups. Refused: two last looks. Queued: two
	// cutoffs of which nobody knows, two move plans to be tried again, two
	// overdue that were under way when the run ended, and the one for later.
	if want := map[State]int{Sent: 3, Failed: 2, Queued: 7}; !reflect.DeepEqual(by, want) {
		t.Errorf("outbox: %v, want %v", by, want)
	}
	later := sep1.Add(time.Hour)
	unheard, err := s.Pending(ctx)
	if due := dueAt(t, s, later); err != nil || len(unheard) != 1 || len(due) != 6 || !slices.MinFunc(due, time.Time.Compare).Equal(sep1) {
		t.Errorf("%d texts wait and %v, %v", len(unheard), due, err)
	}
	var texts []string
	for m := claim(t, s, later, bySMS(Unsafe)); m != nil; m = claim(t, s, later, bySMS(Unsafe)) {
		texts = append(texts, m.Text)
	}
	if want := []string{"move-plan creek hill", "May be a repeat. shut-today creek hill", "May be a repeat. overdue creek hill"}; !reflect.DeepEqual(texts, want) {
		t.Errorf("said: %q, want %q", texts, want)
	}
}

// What was released is never edited: a database made then and one made now by
// the same steps have the same tables.
func TestAReleasedMigrationIsNeverEdited(t *testing.T) {
	first, err := fs.ReadFile(schema.Steps, "0001_first.sql")
	must(t, err)
	schema.Steps = fstest.MapFS{"0001_first.sql": {Data: first}}
	t.Cleanup(func() { schema.Steps = ownSteps })
	made := filepath.Join(t.TempDir(), "made.db")
	now, err := disk.Open(ctx, made, disk.Options{Now: sep1, Logger: slog.New(slog.DiscardHandler), Start: func(context.Context, *disk.DB) error { return nil }})
	must(t, err)
	defer now.Close()
	old, err := OpenRead(ctx, filepath.Join(released, "v1.db"))
	must(t, err)
	defer old.Close()
	tables := func(db *disk.DB) (all []string) {
		all, err := disk.All(db.Look(ctx, "look"), disk.One[string], `SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name`)
		must(t, err)
		return all
	}
	a, b := tables(old.db), tables(now)
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			t.Fatalf("released:\n%s\nnow:\n%s\nadd a new migration instead", strings.Join(a[min(i, len(a)):], "\n"), strings.Join(b[min(i, len(b)):], "\n"))
		}
	}
}

var ownSteps = schema.Steps // of the program

// withStep adds a migration behind the newest for one test.
func withStep(t *testing.T, sqlText string) {
	t.Helper()
	more := fstest.MapFS{"9999_next.sql": {Data: []byte("-- +goose Up\n" + sqlText)}}
	names, err := fs.Glob(schema.Steps, "*.sql")
	must(t, err)
	for _, n := range names {
		b, err := fs.ReadFile(schema.Steps, n)
		must(t, err)
		more[n] = &fstest.MapFile{Data: b}
	}
	schema.Steps = more
	t.Cleanup(func() { schema.Steps = ownSteps })
}

func TestAnUpgradeMakesABackupFirst(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	lived(t, path)
	withStep(t, "ALTER TABLE facts ADD COLUMN mood TEXT NOT NULL DEFAULT '';")
	if _, err := OpenRead(ctx, path); !errors.Is(err, disk.ErrOlder) || !strings.Contains(err.Error(), "stubbled run") {
		t.Errorf("looked at before the upgrade: %v", err)
	}
	s := open(t, path, "run-2")
	checkLived(t, s)
	must(t, s.Close())
	baks, _ := filepath.Glob(path + ".before-schema-*")
	if len(baks) != 1 {
		t.Fatalf("backups: %v", baks)
	}
	schema.Steps = ownSteps
	if _, err := Open(ctx, path, Options{RunID: "run-3", Now: sep1}); !errors.Is(err, disk.ErrNewer) || !strings.Contains(err.Error(), "before the upgrade") {
		t.Errorf("the old program on the new database: %v", err)
	}
	if _, err := disk.Restore(ctx, baks[0], path, sep1); err != nil {
		t.Fatal(err)
	}
	checkLived(t, open(t, path, "run-4"))
}

func TestAnUpgradeThatFailsLeavesTheDatabaseAsItWas(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	lived(t, path)
	withStep(t, "ALTER TABLE facts ADD COLUMN mood TEXT NOT NULL DEFAULT '';\nDROP TABLE no_such_table;")
	for range 2 {
		if _, err := Open(ctx, path, Options{RunID: "run-2", Now: sep1}); err == nil {
			t.Fatal("it passed")
		}
	}
	if baks, _ := filepath.Glob(path + ".before-schema-*"); len(baks) != 1 {
		t.Errorf("backups: %v", baks)
	}
	schema.Steps = ownSteps
	checkLived(t, open(t, path, "run-3"))
}

func TestEveryTableSaysWhatItIsFor(t *testing.T) {
	b, err := fs.ReadFile(schema.Steps, "0001_first.sql")
	must(t, err)
	lines := strings.Split(string(b), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, "CREATE TABLE") && !strings.HasPrefix(lines[i-1], "-- ") {
			t.Errorf("line %d: %s has no comment", i+1, line)
		}
	}
	if n := strings.Count(string(b), "CREATE TABLE"); n != strings.Count(string(b), ") STRICT") {
		t.Error("a table is not STRICT")
	}
}

// Who must not be told of a failing disk is known from a database of any age.
func TestOptOutsAreReadFromADatabaseOfAnyAge(t *testing.T) {
	path := filepath.Join(t.TempDir(), "farm.db")
	s := open(t, path, "r")
	update(t, s, sep1, func(x *Tx) error {
		_, err := x.Suppress("+15555550142", "Ana", WhyStopped)
		return err
	})
	must(t, s.Close())
	wants := func(age string) {
		t.Helper()
		if got, err := OptOutsIn(ctx, path); err != nil || len(got) != 1 || got[0].Address != "+15555550142" {
			t.Errorf("%s: %v, %v", age, got, err)
		}
	}
	wants("of this program")
	withStep(t, "ALTER TABLE facts ADD COLUMN mood TEXT NOT NULL DEFAULT '';")
	wants("of an earlier one")
	must(t, open(t, path, "r2").Close())
	schema.Steps = ownSteps
	wants("of a later one")

	must(t, os.WriteFile(path, nil, 0o600))
	if got, err := OptOutsIn(ctx, path); err == nil {
		t.Errorf("of an empty file: %v, %v", got, err)
	}
	must(t, os.WriteFile(path, []byte(strings.Repeat("rubbish", 2000)), 0o600))
	if got, err := OptOutsIn(ctx, path); !errors.Is(err, disk.ErrNotOurs) {
		t.Errorf("of rubbish: %v, %v", got, err)
	}
	must(t, os.Remove(path))
	if got, err := OptOutsIn(ctx, path); !errors.Is(err, disk.ErrDamaged) {
		t.Errorf("of none: %v, %v", got, err)
	}
}

// What a released version kept in its queue is the same once it was read and
// written by this one.
func TestRowsOfEveryReleaseAreReadAsTheyWereWritten(t *testing.T) {
	all, err := filepath.Glob(filepath.Join(released, "v*.db"))
	must(t, err)
	for _, name := range all {
		path := filepath.Join(t.TempDir(), "farm.db")
		data, err := os.ReadFile(name)
		must(t, err)
		must(t, os.WriteFile(path, data, 0o600))
		db, err := sql.Open("sqlite", path)
		must(t, err)
		defer db.Close()
		rows, err := db.Query(`SELECT key, kind, facts FROM outbox`)
		must(t, err)
		defer rows.Close()
		n := 0
		for ; rows.Next(); n++ {
			var key, facts string
			var notice ladder.Notice
			must(t, rows.Scan(&key, &notice.Kind, &facts))
			must(t, notice.Decode(facts))
			again, err := notice.Encode()
			must(t, err)
			var old, now map[string]any
			must(t, json.Unmarshal([]byte(facts), &old))
			must(t, json.Unmarshal([]byte(again), &now))
			if got := ladder.ParseKey(key).String(); got != key || !reflect.DeepEqual(old, now) {
				t.Errorf("%s %s became %s %s", key, facts, got, again)
			}
		}
		if must(t, rows.Err()); n == 0 {
			t.Errorf("%s has nothing in its queue", name)
		}
	}
}
