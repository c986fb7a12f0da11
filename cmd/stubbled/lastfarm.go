package main

import (
	"bytes"
	"cmp"
	"errors"
	"log/slog"
	"os"
	"path/filepath"

	"stubbled/config"
)

// lastFarm is a copy, beside the database, of the farm file that is in force.
// A slip in the farm file leaves the old one in force; by the copy it does so
// over a power cut too.
const lastFarm = "farm.in-force.yaml"

// underService reports whether a service manager started the daemon, so that
// nobody sees how it ends.
func underService() bool { return os.Getenv("NOTIFY_SOCKET") != "" }

// farmToRun is the farm file, or for a service the one that was in force last
// where the farm file is refused. The watcher then tells what is wrong with it,
// as with any edit.
func (e *env) farmToRun(log *slog.Logger) (*config.Farm, error) {
	farm, refused := e.farm()
	if refused == nil || !underService() {
		return farm, refused
	}
	path := cmp.Or(e.farmPath(), filepath.Join(os.Getenv("CONFIGURATION_DIRECTORY"), "farm.yaml"))
	text, err := os.ReadFile(filepath.Join(filepath.Dir(e.dbPath(path)), lastFarm))
	if err == nil {
		farm, err = config.LoadText(path, text)
	}
	if err != nil { // it never ran, or its record is what is wrong
		return nil, refused
	}
	log.Error("the farm file is refused; the one that was in force last goes on", "err", refused)
	return farm, nil
}

// keepFarm copies the farm file in force.
func (d *daemon) keepFarm(farm *config.Farm) {
	if !underService() {
		return
	}
	to := filepath.Join(filepath.Dir(d.db), lastFarm)
	if old, err := os.ReadFile(to); err == nil && bytes.Equal(old, farm.Text()) {
		return
	}
	if err := writeWhole(to, farm.Text()); err != nil {
		d.log.Warn("the farm file in force cannot be copied", "to", to, "err", err)
	}
}

// writeWhole writes a file so that after a power cut it holds all of the old or
// all of the new.
func writeWhole(name string, data []byte) error {
	f, err := os.OpenFile(name+".part", os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}
