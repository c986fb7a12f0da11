package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/store"
	"stubbled/store/disk"
)

func restoreCmd(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "restore [FILE]",
		Short: "Puts a backup in the place of the database; stop the daemon first",
		Long: `restore takes the newest nightly backup that proves good, or the file named, and
puts it in the place of the database. The newest is the one whose own last time is;
one dated after today is passed over. What was there is moved aside, never
deleted, and where it or another copy has newer entries that is said.`,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage.Errorf("want one backup file, or none for the newest good one")
			}
			farm, err := e.farm()
			if err != nil {
				return err
			}
			return restore(c.Context(), e, farm, args)
		},
	}
}

func restore(ctx context.Context, e *env, farm *config.Farm, args []string) error {
	db, now := e.dbPath(farm.File), e.clock.Now()
	dir := daemon.BackupDir(farm, db)
	var from store.Copy
	if len(args) == 1 {
		from = store.Inside(ctx, args[0])
	} else {
		good, bad, err := store.LatestGood(ctx, dir, now)
		for _, b := range bad {
			fmt.Fprintf(e.err, "passed over: %v\n", b)
		}
		if err != nil {
			return err
		}
		from = good
	}
	if s, err := store.OpenRead(ctx, from.Path, store.Farm{Name: farm.Name, Was: farm.Was}); err == nil {
		s.Close()
	} else if errors.Is(err, disk.ErrOtherFarm) {
		return err
	}
	was := store.Inside(ctx, db)
	aside, err := disk.Restore(ctx, from.Path, db, now)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.out, "%s is now the database %s\n", from.Path, db)
	if aside != "" {
		fmt.Fprintf(e.out, "what was there is kept as %s\n", aside)
		if was.Seen.IsZero() {
			fmt.Fprintln(e.out, "LOOK: it does not read, so whether it has newer entries nobody can say: ask everybody what they texted since")
		}
	}
	was.Path = aside
	others, _ := store.Copies(ctx, dir) // where they cannot be listed there is nothing to say of them
	for _, o := range append([]store.Copy{was}, others...) {
		if o.Last > from.Last {
			fmt.Fprintf(e.out, "LOOK: %s has %d entries of the diary that this copy lacks, the last for %s. Read them with  stubbled diary --db %s  and text again what is true\n",
				o.Path, o.Last-from.Last, o.On, o.Path)
		}
	}
	return nil
}
