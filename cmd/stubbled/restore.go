package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/store/disk"
)

func restoreCmd(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "restore [FILE]",
		Short: "Puts a backup in the place of the database; stop the daemon first",
		Long: `restore takes the newest nightly backup that proves good, or the file named, and
puts it in the place of the database. What was there is moved aside, never
deleted.`,
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
	db := e.dbPath(farm.File)
	var from string
	if len(args) == 1 {
		from = args[0]
	} else {
		dir := daemon.BackupDir(farm, db)
		good, bad, err := disk.LatestGood(ctx, dir)
		for _, b := range bad {
			fmt.Fprintf(e.err, "passed over: %v\n", b)
		}
		if err != nil {
			return err
		}
		if good == "" {
			return fmt.Errorf("no good backup in %s: name one with 'stubbled restore FILE'", dir)
		}
		from = good
	}
	aside, err := disk.Restore(ctx, from, db, e.clock.Now())
	if err != nil {
		return err
	}
	fmt.Fprintf(e.out, "%s is now the database %s\n", from, db)
	if aside != "" {
		fmt.Fprintf(e.out, "what was there is kept as %s\n", aside)
	}
	return nil
}
