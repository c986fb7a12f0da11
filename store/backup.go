package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Backup writes a copy of the database to a file that is not there yet, while
// the daemon runs. The copy is complete, on the disk and checked before it has
// its name.
func (s *Store) Backup(ctx context.Context, to string) error {
	if _, err := os.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
		if err == nil {
			err = errors.New("it is there already: name a new file")
		}
		return fmt.Errorf("back up to %s: %w", to, err)
	}
	temp := to + ".part"
	if err := os.Remove(temp); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("back up to %s: %w", to, err)
	}
	defer os.Remove(temp)
	want, err := s.copyTo(ctx, temp)
	if err != nil {
		return err
	}
	if err := syncFile(temp); err != nil {
		return fmt.Errorf("back up to %s: %w", to, err)
	}
	got, err := verify(ctx, temp)
	if err != nil {
		return fmt.Errorf("back up to %s: the copy is not good: %w", to, err)
	}
	for table, n := range want {
		if got[table] < n {
			return fmt.Errorf("back up to %s: the copy has %d rows of %s, the database had %d", to, got[table], table, n)
		}
	}
	if err := os.Rename(temp, to); err != nil {
		return fmt.Errorf("back up to %s: %w", to, err)
	}
	return syncFile(filepath.Dir(to))
}

// copyTo makes the copy and counts what was there when it began.
func (s *Store) copyTo(ctx context.Context, to string) (map[string]int64, error) {
	// Made first, so that it is for its owner alone from the beginning.
	f, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, fmt.Errorf("back up to %s: %w", to, err)
	}
	f.Close()
	db, err := sql.Open("sqlite", dsn(s.path, settings("ro")))
	if err != nil {
		return nil, s.explain("back up", err)
	}
	defer db.Close()
	want, err := counts(ctx, db, s.path)
	if err != nil {
		return nil, err
	}
	if _, err := db.ExecContext(ctx, `VACUUM INTO ?`, to); err != nil {
		return nil, explain(to, "back up", err)
	}
	return want, nil
}

// Verify opens a backup and reads all of it: the check of every page and row,
// the schema, and that there is something in it.
func Verify(ctx context.Context, path string) error {
	_, err := verify(ctx, path)
	return err
}

func verify(ctx context.Context, path string) (map[string]int64, error) {
	s, err := OpenRead(ctx, path)
	if errors.Is(err, ErrOlder) { // a backup of before an upgrade is good
		s, err = newStore(path, Options{})
		if err == nil {
			err = s.openReaders("")
		}
	}
	if err != nil {
		return nil, err
	}
	defer s.Close()
	if err := integrity(ctx, s.read, s.path, "integrity_check"); err != nil {
		return nil, err
	}
	if err := foreignKeys(ctx, s.read, s.path); err != nil {
		return nil, err
	}
	return counts(ctx, s.read, s.path)
}

func foreignKeys(ctx context.Context, db *sql.DB, path string) error {
	rows, err := db.QueryContext(ctx, `PRAGMA foreign_key_check`)
	if err != nil {
		return explain(path, "check", err)
	}
	defer rows.Close()
	if rows.Next() {
		return &Error{Kind: ErrDamaged, Op: "check", Path: path, Err: errors.New("a row names another that is not there")}
	}
	return explain(path, "check", rows.Err())
}

// counts counts the rows of each table of ours.
func counts(ctx context.Context, db *sql.DB, path string) (map[string]int64, error) {
	rows, err := db.QueryContext(ctx, `SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version'`)
	if err != nil {
		return nil, explain(path, "count", err)
	}
	tables, err := collect(rows, func(r scanner) (n string, err error) { return n, r.Scan(&n) })
	if err != nil {
		return nil, explain(path, "count", err)
	}
	all := make(map[string]int64, len(tables))
	for _, table := range tables {
		var n int64
		if err := db.QueryRowContext(ctx, `SELECT count(*) FROM "`+table+`"`).Scan(&n); err != nil {
			return nil, explain(path, "count", err)
		}
		all[table] = n
	}
	return all, nil
}

// Restore puts a verified backup in the place of a database that no daemon
// holds. What was there is moved aside, never deleted; it gives its new name,
// empty where there was nothing.
func Restore(ctx context.Context, backup, path string, now time.Time) (aside string, err error) {
	s, err := newStore(path, Options{})
	if err != nil {
		return "", err
	}
	if s.lock, err = lockFile(s.path); err != nil {
		return "", err
	}
	defer s.Close()
	if err := Verify(ctx, backup); err != nil {
		return "", fmt.Errorf("restore %s: %w", backup, err)
	}
	temp := s.path + ".part"
	if err := copyFile(backup, temp); err != nil {
		return "", fmt.Errorf("restore %s: %w", backup, err)
	}
	defer os.Remove(temp)
	aside, err = setAside(s.path, now)
	if err != nil {
		return "", fmt.Errorf("restore %s: %w", backup, err)
	}
	if err := os.Rename(temp, s.path); err != nil {
		return aside, fmt.Errorf("restore %s: %w", backup, err)
	}
	return aside, syncFile(filepath.Dir(s.path))
}

// setAside moves a database with its log; a log left behind would be taken
// for the restored one's.
func setAside(path string, now time.Time) (string, error) {
	name := path + ".aside." + now.UTC().Format("20060102T150405Z")
	moved := ""
	for _, end := range []string{"-wal", "-shm", ""} {
		err := os.Rename(path+end, name+end)
		switch {
		case err == nil:
			moved = name
		case !errors.Is(err, fs.ErrNotExist):
			return moved, err
		}
	}
	return moved, nil
}
