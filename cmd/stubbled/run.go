package main

import (
	"context"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"stubbled/config"
)

func runCmd(e *env) *cobra.Command {
	var demo bool
	c := &cobra.Command{
		Use:   "run",
		Short: "Runs the daemon",
		Long: `run plans from the farm file and the diary, sends what is due, and hears what comes
in, until it is told to stop. It holds a lock on the database.

With --demo it is the same daemon on the demo farm, an invented place and people,
with nothing to set up: this terminal is everybody's phone. Type
  Ana: creek 14 8 6 8`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if demo {
				return runDemo(c.Context(), e)
			}
			return runFarm(c.Context(), e)
		},
	}
	c.Flags().BoolVar(&demo, "demo", false, "the demo farm, on this terminal")
	return c
}

func runFarm(ctx context.Context, e *env) error {
	log := logger(e)
	farm, err := e.farmToRun(log)
	if err != nil {
		return err
	}
	for _, w := range farm.Warnings {
		log.Warn("look at the farm file", "problem", w.Error())
	}
	d := prepare(e, farm, e.dbPath(farm.File), log)
	if err := d.state.serve(ctx, log); err != nil {
		log.Warn("nobody can ask how the daemon is", "err", err)
	}
	if err := d.await(ctx); err != nil || d.store == nil {
		return err
	}
	d.watcher = config.NewWatcher(farm)
	return d.run(ctx)
}

// runDemo is the daemon on the demo farm with a database of its own, which goes
// with it.
func runDemo(ctx context.Context, e *env) error {
	farm, err := config.Demo()
	if err != nil {
		return err
	}
	db := e.dbFile
	if db == "" {
		dir, err := os.MkdirTemp("", "stubbled-demo-")
		if err != nil {
			return fmt.Errorf("make a folder for the demo: %w", err)
		}
		defer os.RemoveAll(dir)
		db = filepath.Join(dir, "demo.db")
	}
	fmt.Fprintf(e.out, "%s: the demo farm. Place, people and temperatures are invented; nothing is sent.\n", farm.Name)
	fmt.Fprintf(e.out, "This terminal is everybody's phone: %s. Type  %s: %s 14 8 6 8  or  %s: help. Ctrl-C ends it.\n\n",
		names(farm), farm.Contacts[0].Name, farm.Paddocks[0].ID, farm.Contacts[0].Name)
	d, err := newDaemon(ctx, e, farm, db, slog.New(slog.DiscardHandler))
	if err != nil {
		return err
	}
	d.untilEOF = true
	return d.run(ctx)
}
