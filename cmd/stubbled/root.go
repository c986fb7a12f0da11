package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"

	"github.com/spf13/cobra"

	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/store"
)

// env is what every command works with.
type env struct {
	in       io.Reader
	out, err io.Writer
	clock    clock
	farmFile string
	dbFile   string
	// through stands between the daemon and its store, where a test cuts the
	// power; nil for none.
	through func(*store.Store) door
}

// door is what the daemon's parts need of the store.
type door interface {
	scheduler.Store
	notify.Outbox
}

func newRoot(e *env) *cobra.Command {
	root := &cobra.Command{
		Use:   "stubbled",
		Short: "Reminds you in time to rest native warm-season grass before frost",
		Long: `stubbled counts back from the first fall frost, reminds by text and mail before
each native paddock must be empty, takes a leaf height by text and answers GO or
WAIT with the reason, and keeps the paddock shut until frost really comes.`,
		Version:       version(),
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          noArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.PersistentFlags().StringVar(&e.farmFile, "farm", "", "the farm `file` (else $STUBBLED_FARM, the state directory, ./farm.yaml)")
	root.PersistentFlags().StringVar(&e.dbFile, "db", "", "the database `file` (else $STUBBLED_DB, the state directory, beside the farm file)")
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(
		runCmd(e), rehearseCmd(e), initCmd(e), checkCmd(e), seasonCmd(e), frostCmd(e), understandCmd(e),
		heightCmd(e), lessonsCmd(e), feedCmd(e), diaryCmd(e), backupCmd(e), restoreCmd(e),
		docsCmd(),
	)
	return root
}

func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "built from source"
}

func noArgs(_ *cobra.Command, args []string) error {
	if len(args) > 0 {
		return usagef("unknown command or argument %q", args[0])
	}
	return nil
}

// needArgs wants at least n arguments, called what.
func needArgs(n int, what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) < n {
			return usagef("want %s", what)
		}
		return nil
	}
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
