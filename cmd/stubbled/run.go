package main

import (
	"cmp"
	"context"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/report"
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
	log := daemon.Logger(e.err)
	farm, err := e.farmToRun(log)
	if err != nil {
		return err
	}
	for _, w := range farm.Warnings {
		log.Warn("look at the farm file", "problem", w.Error())
	}
	return daemon.Run(ctx, e.daemon(farm, e.dbPath(farm.File), log))
}

// daemon is what the daemon of a farm is made with.
func (e *env) daemon(farm *config.Farm, db string, log *slog.Logger) daemon.Options {
	return daemon.Options{Farm: farm, DB: db, In: e.in, Out: e.out, Clock: e.clock, Log: log, Through: e.through}
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
		report.Names(farm), farm.Contacts[0].Name, farm.Paddocks[0].ID, farm.Contacts[0].Name)
	return daemon.Demo(ctx, e.daemon(farm, db, slog.New(slog.DiscardHandler)))
}

// farmToRun is the farm file, or for a service the one that was in force last
// where the farm file is refused. The watcher then tells what is wrong with it,
// as with any edit.
func (e *env) farmToRun(log *slog.Logger) (*config.Farm, error) {
	farm, refused := e.farm()
	if refused == nil {
		daemon.KeepFarm(farm, e.dbPath(farm.File), log)
	}
	if refused == nil || !daemon.UnderService() {
		return farm, refused
	}
	last, ok := e.lastGood()
	if !ok {
		return nil, refused
	}
	log.Error("the farm file is refused; the one that was in force last goes on", "err", refused)
	return last, nil
}

// lastGood is the farm that was in force last; there is none where no service
// ever ran on it.
func (e *env) lastGood() (farm *config.Farm, ok bool) {
	path := cmp.Or(e.farmPath(), filepath.Join(cmp.Or(os.Getenv("CONFIGURATION_DIRECTORY"), filepath.Join(e.root, told, service)), "farm.yaml"))
	return daemon.LastGood(path, e.dbPath(path))
}
