package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/golang-sql/civil"
	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/report"
	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// env is what every command works with.
type env struct {
	in       io.Reader
	out, err io.Writer
	clock    clock
	farmFile string
	dbFile   string
	patience time.Duration // how long a running daemon may take to answer
	// through stands between the daemon and its store, where a test cuts the
	// power; nil for none.
	through func(*store.Store) daemon.Store
}

// farmPath is where the farm file is; empty where none was named and none lies
// where it would be looked for.
func (e *env) farmPath() string {
	if e.farmFile != "" {
		return e.farmFile
	}
	if f := os.Getenv("STUBBLED_FARM"); f != "" {
		return f
	}
	for _, dir := range []string{os.Getenv("CONFIGURATION_DIRECTORY"), os.Getenv("STATE_DIRECTORY"), "."} {
		if dir == "" {
			continue
		}
		if f := filepath.Join(dir, "farm.yaml"); exists(f) {
			return f
		}
	}
	return ""
}

// dbPath is where the database of a farm is.
func (e *env) dbPath(farmPath string) string {
	if e.dbFile != "" {
		return e.dbFile
	}
	if f := os.Getenv("STUBBLED_DB"); f != "" {
		return f
	}
	if dir := os.Getenv("STATE_DIRECTORY"); dir != "" {
		return filepath.Join(dir, "stubbled.db")
	}
	return filepath.Join(filepath.Dir(farmPath), "stubbled.db")
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

var errNoFarm = errors.New("no farm file: name one with --farm FILE, or write one with 'stubbled init'")

// farm reads the farm file and says what to look at in it.
func (e *env) farm() (*config.Farm, error) {
	path := e.farmPath()
	if path == "" {
		return nil, errNoFarm
	}
	farm, err := config.Load(path)
	if err != nil {
		return nil, fmt.Errorf("the farm file has problems:\n%w", err)
	}
	return farm, nil
}

// farmOrDemo reads the farm file named, or is the demo farm where none is.
func (e *env) farmOrDemo() (farm *config.Farm, demo bool, err error) {
	if e.farmFile == "" && os.Getenv("STUBBLED_FARM") == "" {
		farm, err = config.Demo()
		return farm, true, err
	}
	farm, err = e.farm()
	return farm, false, err
}

// sight is the farm named, or the demo farm, with its diary as of a day.
func (e *env) sight(ctx context.Context, on string) (season.Sight, *config.Farm, error) {
	farm, demo, err := e.farmOrDemo()
	if err != nil {
		return season.Sight{}, nil, err
	}
	today, err := e.day(on, farm, demo)
	if err != nil {
		return season.Sight{}, nil, err
	}
	db := e.dbPath(farm.File)
	if demo {
		fmt.Fprintln(e.err, "No --farm FILE given: this is the demo farm, an invented place.")
		db = e.dbFile
	}
	sight, err := report.Sight(ctx, farm, db, today)
	return sight, farm, err
}

// demoDay is the demo farm's own day: it always shows the weeks that matter.
var demoDay = civil.Date{Year: 2026, Month: 8, Day: 22}

// day is the farm's day asked for.
func (e *env) day(on string, farm *config.Farm, demo bool) (civil.Date, error) {
	switch {
	case on != "":
		d, err := civil.ParseDate(on)
		if err != nil {
			return d, usage.Errorf("want a day such as 2026-08-22, got %q", on)
		}
		return d, nil
	case demo:
		return demoDay, nil
	}
	return civil.DateOf(e.clock.Now().In(farm.Zone)), nil
}

// reading opens the database of the farm named, to look at it.
func (e *env) reading(ctx context.Context, look func(*config.Farm, *store.Store) error) error {
	farm, err := e.farm()
	if err != nil {
		return err
	}
	s, err := store.OpenRead(ctx, e.dbPath(farm.File))
	if err != nil {
		return err
	}
	defer s.Close()
	return look(farm, s)
}

func noArgs(_ *cobra.Command, args []string) error {
	if len(args) > 0 {
		return usage.Errorf("unknown command or argument %q", args[0])
	}
	return nil
}

// needArgs wants at least n arguments, called what.
func needArgs(n int, what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) < n {
			return usage.Errorf("want %s", what)
		}
		return nil
	}
}
