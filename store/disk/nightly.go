package disk

import (
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
)

const (
	nightlyStart = "stubbled-"
	nightlyEnd   = ".db"
)

func nightly(dir string, day civil.Date) string {
	return filepath.Join(dir, nightlyStart+day.String()+nightlyEnd)
}

// Nightly writes the backup of one day in a folder of its own, which it makes,
// and deletes those that the rule no longer keeps. Where that day's is there
// already it is left.
func (d *DB) Nightly(ctx context.Context, dir string, day civil.Date) (path string, err error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("nightly backup: %w: give the user of the daemon the right to write there", err)
	}
	path = nightly(dir, day)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if err := d.Backup(ctx, path); err != nil {
			return "", err
		}
	} else if err != nil {
		return "", fmt.Errorf("nightly backup: %w", err)
	}
	days, err := Nightlies(dir)
	if err != nil {
		return path, err
	}
	kept := keep(days)
	for _, d := range days {
		if kept[d] {
			continue
		}
		if err := os.Remove(nightly(dir, d)); err != nil {
			return path, fmt.Errorf("nightly backup: %w", err)
		}
	}
	return path, nil
}

// Nightlies gives the days of the backups in a folder, the latest first. Files
// of other names are not ours and are never touched.
func Nightlies(dir string) ([]civil.Date, error) {
	list, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("nightly backups: %w", err)
	}
	var days []civil.Date
	for _, e := range list {
		name, ok := strings.CutPrefix(e.Name(), nightlyStart)
		name, ok2 := strings.CutSuffix(name, nightlyEnd)
		if d, err := civil.ParseDate(name); ok && ok2 && err == nil && d.String() == name {
			days = append(days, d)
		}
	}
	slices.SortFunc(days, func(a, b civil.Date) int { return b.DaysSince(a) })
	return days, nil
}

// keep is the rule: of the days that have a backup, the latest first, the
// latest 14, the latest 8 Mondays and every January 1. It counts backups rather
// than days, so that a machine that stood still, or whose clock ran wild, does
// not delete them all.
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

// LatestGood gives the newest nightly backup that verifies, and why newer ones
// do not.
func LatestGood(ctx context.Context, dir string) (path string, bad []error, err error) {
	days, err := Nightlies(dir)
	if err != nil {
		return "", nil, err
	}
	for _, d := range days {
		path := nightly(dir, d)
		err := Verify(ctx, path)
		if err == nil {
			return path, bad, nil
		}
		bad = append(bad, err)
	}
	return "", bad, fmt.Errorf("%s: no good backup", dir)
}
