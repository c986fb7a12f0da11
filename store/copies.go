package store

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/store/disk"
)

const (
	copyStart = "stubbled-"
	copyEnd   = ".db"
)

// A Copy is one nightly backup, and what it says of itself: a file may have been
// named by a clock that ran wild.
type Copy struct {
	Path string
	Seen time.Time  // the last time that was certain; by the name where it holds none
	Day  civil.Date // the farm's day that it was made on
	Last int64      // its newest fact; 0 where none can be read
	On   civil.Date // the day that fact speaks of
}

// Ahead reports whether a copy is dated after now: whatever clock made it, it is
// not the newest.
func (c Copy) Ahead(now time.Time) bool { return c.Seen.After(now.Add(time.Hour)) }

// Copies lists the backups in a folder, the latest first. Files of other names
// are not ours and are never touched.
func Copies(ctx context.Context, dir string) ([]Copy, error) {
	list, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("nightly backups: %w", err)
	}
	var all []Copy
	for _, e := range list {
		name, ok := strings.CutPrefix(e.Name(), copyStart)
		name, ok2 := strings.CutSuffix(name, copyEnd)
		if d, err := civil.ParseDate(name); ok && ok2 && err == nil && d.String() == name {
			all = append(all, Inside(ctx, filepath.Join(dir, e.Name())).named(d))
		}
	}
	slices.SortFunc(all, func(a, b Copy) int { return cmp.Or(b.Seen.Compare(a.Seen), cmp.Compare(b.Path, a.Path)) })
	return all, nil
}

// named takes the day of a copy's name where that agrees with what is inside, or
// nothing is.
func (c Copy) named(d civil.Date) Copy {
	at := d.In(time.UTC)
	if c.Seen.IsZero() {
		c.Seen = at
	}
	if c.Day = d; c.Seen.Sub(at).Abs() > 48*time.Hour {
		c.Day = civil.DateOf(c.Seen)
	}
	return c
}

// Inside reads what a database says of itself; of one that cannot be read nothing
// but its path is known.
func Inside(ctx context.Context, path string) Copy {
	c := Copy{Path: path}
	db, err := disk.OpenRead(ctx, path, disk.ErrOlder, disk.ErrNewer)
	if err != nil {
		return c
	}
	defer db.Close()
	look := db.Look(ctx, "read a copy")
	if c.Seen, err = lastSeen(look); err != nil {
		return c
	}
	_ = look.Row(`SELECT id, day FROM facts ORDER BY id DESC LIMIT 1`).Scan(&c.Last, (*date)(&c.On)) // none is none
	return c
}

// Nightly writes the backup of one day in a folder of its own, which it makes,
// and deletes those that the rule no longer keeps. Where that day's is there
// already it is left, unless the diary has gone on since; one of that name that is
// dated ahead is moved aside. It also reads every fact, for Damaged, and forgets what is
// kept for a while only.
func (s *Store) Nightly(ctx context.Context, dir string, day civil.Date, now time.Time) (path string, err error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("nightly backup: %w: give the user of the daemon the right to write there", err)
	}
	path = filepath.Join(dir, copyStart+day.String()+copyEnd)
	if err := s.copyTo(ctx, path, now); err != nil {
		return "", err
	}
	if err := thin(ctx, dir, now); err != nil {
		return path, fmt.Errorf("nightly backup: %w", err)
	}
	if _, err := s.CheckFacts(ctx); err != nil && !errors.Is(err, disk.ErrFact) {
		return path, err
	}
	return path, s.forget(ctx, now)
}

func (s *Store) copyTo(ctx context.Context, path string, now time.Time) error {
	there, own := Inside(ctx, path), Inside(ctx, s.Path())
	if there.Ahead(now) {
		if err := os.Rename(path, path+".ahead."+now.UTC().Format("20060102T150405Z")); err != nil {
			return fmt.Errorf("nightly backup: %w", err)
		}
	}
	_, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return s.Backup(ctx, path)
	case err != nil:
		return fmt.Errorf("nightly backup: %w", err)
	case there.Last >= own.Last:
		return nil
	}
	if err := errors.Join(ignoreGone(os.Remove(path+".new")), s.Backup(ctx, path+".new")); err != nil {
		return err
	}
	return os.Rename(path+".new", path)
}

func ignoreGone(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// thin deletes the copies that the rule no longer keeps. Those dated ahead are
// neither deleted nor counted: or they would push every true one out.
func thin(ctx context.Context, dir string, now time.Time) error {
	all, err := Copies(ctx, dir)
	all = slices.DeleteFunc(all, func(c Copy) bool { return c.Ahead(now) })
	days := make([]civil.Date, len(all))
	for i, c := range all {
		days[i] = c.Day
	}
	kept := keep(days)
	for _, c := range all {
		if !kept[c.Day] {
			err = errors.Join(err, os.Remove(c.Path))
		}
	}
	return err
}

// keep is the rule: of the days that have a backup, the latest first, the
// latest 14, the latest 8 Mondays and every January 1. It counts backups rather
// than days, so that a machine that stood still does not delete them all.
func keep(days []civil.Date) map[civil.Date]bool {
	kept := make(map[civil.Date]bool)
	mondays := 8
	for i, d := range days {
		monday := d.In(time.UTC).Weekday() == time.Monday && mondays > 0
		if monday {
			mondays--
		}
		if i < 14 || monday || d.Month == time.January && d.Day == 1 {
			kept[d] = true
		}
	}
	return kept
}

// LatestGood gives the newest nightly backup that verifies, and why others that
// might be newer are passed over.
func LatestGood(ctx context.Context, dir string, now time.Time) (c Copy, bad []error, err error) {
	all, err := Copies(ctx, dir)
	if err != nil {
		return Copy{}, nil, err
	}
	for _, c := range all {
		if c.Ahead(now) {
			bad = append(bad, fmt.Errorf("%s: it is dated %s, which has not come yet: name it if it is the one you want", c.Path, c.Seen.UTC().Format(time.DateOnly)))
			continue
		}
		err := disk.Verify(ctx, c.Path)
		if err == nil {
			return c, bad, nil
		}
		bad = append(bad, err)
	}
	return Copy{}, bad, fmt.Errorf("%s: no good backup: name one with 'stubbled restore FILE'", dir)
}
