package main

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"

	"stubbled/cmd/stubbled/archive"
	"stubbled/cmd/stubbled/usage"
	"stubbled/scheduler/station"
)

// archiveAt is NOAA's archive, or one like it at another address, with its lists
// kept where the service keeps things, or among the user's own.
func (e *env) archiveAt(base string) archive.Archive {
	dir := os.Getenv("STATE_DIRECTORY")
	if dir == "" {
		cache, err := os.UserCacheDir()
		if err != nil {
			cache = os.TempDir()
		}
		dir = filepath.Join(cache, service)
	}
	say := func(what string) { fmt.Fprintln(e.err, what) }
	return archive.Archive{Base: base, Dir: dir, Now: e.clock.Now(), Say: say}
}

// near shows the stations that suit a place, and keeps the record of the one
// that is taken.
func (e *env) near(ctx context.Context, f frostFlags) error {
	place, err := station.FindPlace(f.near)
	if err != nil {
		return usage.Errorf("--near: %w", err)
	}
	best, err := e.archiveAt(f.archive).Choose(ctx, place)
	if err != nil {
		return err
	}
	if f.take > len(best) {
		return usage.Errorf("--take: want 1 to %d, got %d", len(best), f.take)
	}
	if f.take > 0 {
		line, err := keepRecord(best[f.take-1], ".")
		if err == nil {
			fmt.Fprintf(e.out, "In the farm file beside it:\n\nfrost: {%s}\n", line)
		}
		return err
	}
	fmt.Fprintf(e.out, "Stations near %s\n\n", cmp.Or(place.Name, f.near))
	if err := archive.Print(e.out, best); err != nil {
		return err
	}
	_, err = fmt.Fprintf(e.out, "\nstubbled frost --near %q --take 1  writes its record here, and says what to put into the farm file.\n", f.near)
	return err
}

// keepRecord writes a station's record into a folder, and gives the keys of the
// farm file that name it.
func keepRecord(c archive.Choice, dir string) (string, error) {
	name := c.ID + ".dly"
	if err := archive.Keep(filepath.Join(dir, name), c.Data); err != nil {
		return "", fmt.Errorf("keep the record: %w", err)
	}
	return fmt.Sprintf("station: %s, from: %q, place: %q", name, c.From, c.Name), nil
}
