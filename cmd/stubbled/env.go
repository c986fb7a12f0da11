package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
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
	clock    daemon.Clock
	farmFile string
	dbFile   string
	root     string        // of the file system: where the packaged service's folders are
	patience time.Duration // how long a running daemon may take to answer
	// through stands between the daemon and its store, where a test cuts the
	// power; nil for none.
	through func(*store.Store) daemon.Store
}

var errNoFarm = errors.New("no farm file: name one with --farm FILE, or write one with 'stubbled init'")

// farm reads the farm file and says what to look at in it.
func (e *env) farm() (*config.Farm, error) {
	path := e.farmPath()
	if path == "" {
		return nil, errNoFarm
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrPermission) {
		return nil, fmt.Errorf("%s may not be looked at by this user: %s, or name another with --farm", path, useFarm)
	}
	farm, err := config.Load(path)
	if err != nil {
		return nil, fmt.Errorf("the farm file has problems:\n%w", err)
	}
	return farm, nil
}

// farmOrDemo reads the farm file, or is the demo farm where there is none
// anywhere; that is said first, on the side that other programs don't read.
func (e *env) farmOrDemo(asJSON bool) (farm *config.Farm, demo bool, err error) {
	if e.farmPath() != "" {
		farm, err = e.farm()
		return farm, false, err
	}
	first := e.out
	if asJSON {
		first = e.err
	}
	fmt.Fprintln(first, "There is no farm file here: this is the demo farm. Place, people and temperatures are invented.")
	farm, err = config.Demo()
	return farm, true, err
}

// sight is the farm, or the demo farm, with its diary as of a day.
func (e *env) sight(ctx context.Context, on string, asJSON bool) (season.Sight, *config.Farm, error) {
	farm, demo, err := e.farmOrDemo(asJSON)
	if err != nil {
		return season.Sight{}, nil, err
	}
	today, err := e.day(on, farm, demo)
	if err != nil {
		return season.Sight{}, nil, err
	}
	db := e.dbPath(farm.File)
	if demo {
		db = e.dbFile
	}
	sight, err := report.Sight(ctx, farm, db, today)
	return sight, farm, err
}

// demoDay is the demo farm's own day: it always shows the weeks that matter.
var demoDay = civil.Date{Year: 2026, Month: 8, Day: 22}

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
	s, err := store.OpenRead(ctx, e.dbPath(farm.File), store.Farm{Name: farm.Name, Was: farm.Was})
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
