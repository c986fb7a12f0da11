package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// The packaged service's folders, by the convention of its manager: what it is
// told lies below /etc, what it keeps by the same name below /var/lib.
const (
	told    = "etc"
	kept    = "var/lib"
	service = "stubbled"
)

// farmPath is where the farm file is; empty where none was named and none lies
// where it would be looked for. One that may not be looked at counts as there:
// nobody is shown another farm instead.
func (e *env) farmPath() string {
	if f := cmp.Or(e.farmFile, os.Getenv("STUBBLED_FARM")); f != "" {
		return f
	}
	for _, dir := range []string{
		os.Getenv("CONFIGURATION_DIRECTORY"), os.Getenv("STATE_DIRECTORY"),
		filepath.Join(e.root, told, service), filepath.Join(e.root, kept, service), ".",
	} {
		if dir == "" {
			continue
		}
		f := filepath.Join(dir, "farm.yaml")
		if _, err := os.Stat(f); !errors.Is(err, fs.ErrNotExist) {
			return f
		}
	}
	return ""
}

// dbPath is where the database of a farm is: one, whoever asks. That of a farm
// file in /etc is the service's, so that nobody begins a second diary beside it.
func (e *env) dbPath(farmPath string) string {
	if f := cmp.Or(e.dbFile, os.Getenv("STUBBLED_DB")); f != "" {
		return f
	}
	dir := cmp.Or(os.Getenv("STATE_DIRECTORY"), filepath.Dir(farmPath))
	if below, is := e.belowTold(dir); is {
		dir = filepath.Join(e.root, kept, below)
	}
	return filepath.Join(dir, "stubbled.db")
}

// belowTold is what follows /etc in a folder's whole path.
func (e *env) belowTold(dir string) (string, bool) {
	whole, err := filepath.Abs(dir)
	if err != nil {
		return "", false
	}
	return strings.CutPrefix(whole, filepath.Join(e.root, told)+"/")
}

// ofService reports whether a farm file is a service's: it lies in /etc.
func (e *env) ofService(farmPath string) bool {
	_, is := e.belowTold(filepath.Dir(farmPath))
	return is
}

// useFarm is the mend where an account of the service's own has something.
const useFarm = "use 'sudo stubbled-farm' in place of 'stubbled'"

// notAsRoot refuses that root writes into the folder of another account: what it
// leaves there the daemon may be unable to open.
func notAsRoot(db string) error {
	info, err := os.Stat(filepath.Dir(db))
	if err != nil {
		return nil // said where it is opened
	}
	if at, ok := info.Sys().(*syscall.Stat_t); ok && os.Geteuid() == 0 && at.Uid != 0 {
		return fmt.Errorf("%s belongs to another account, and the daemon may be unable to open what root writes there: %s", filepath.Dir(db), useFarm)
	}
	return nil
}
