package disk

import (
	"context"
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
func (d *DB) Backup(ctx context.Context, to string) error {
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
	want, err := d.copyTo(ctx, temp)
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
func (d *DB) copyTo(ctx context.Context, to string) (map[string]int64, error) {
	// Made first, so that it is for its owner alone from the beginning.
	f, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, fmt.Errorf("back up to %s: %w", to, err)
	}
	f.Close()
	from := &DB{path: d.path} // a connection of its own: a copy takes long
	if err := from.openReaders(""); err != nil {
		return nil, err
	}
	defer from.closePools()
	want, err := from.counts(ctx)
	if err != nil {
		return nil, err
	}
	if _, err := from.Read.ExecContext(ctx, `VACUUM INTO ?`, to); err != nil {
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
	d, err := OpenRead(ctx, path, ErrOlder) // a backup of before an upgrade is good
	if err != nil {
		return nil, err
	}
	defer d.closePools()
	if err := d.Check(ctx); err != nil {
		return nil, err
	}
	if err := d.foreignKeys(ctx); err != nil {
		return nil, err
	}
	return d.counts(ctx)
}

// Restore puts a verified backup in the place of a database that no daemon
// holds. What was there is moved aside, never deleted; it gives its new name,
// empty where there was nothing.
func Restore(ctx context.Context, backup, path string, now time.Time) (aside string, err error) {
	path, err = filepath.Abs(behindLinks(path))
	if err != nil {
		return "", fmt.Errorf("restore %s: %w", backup, err)
	}
	lock, err := lockFile(path)
	if err != nil {
		return "", err
	}
	defer lock.Close()
	if f, err := os.OpenFile(path, os.O_RDWR, 0); err == nil { // what is gone or shut nobody has
		defer f.Close()
		if err := lockItself(f); err != nil {
			return "", err
		}
	}
	if err := Verify(ctx, backup); err != nil {
		return "", fmt.Errorf("restore %s: %w", backup, err)
	}
	temp := path + ".part"
	if err := copyFile(backup, temp); err != nil {
		return "", fmt.Errorf("restore %s: %w", backup, err)
	}
	defer os.Remove(temp)
	aside, err = setAside(path, now)
	if err != nil {
		return "", fmt.Errorf("restore %s: %w", backup, err)
	}
	if err := os.Rename(temp, path); err != nil {
		return aside, fmt.Errorf("restore %s: %w", backup, err)
	}
	return aside, syncFile(filepath.Dir(path))
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
