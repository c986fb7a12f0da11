package daemon

import (
	"bytes"
	"io"
	"log/slog"
	"os"
	"path/filepath"

	"stubbled/config"
	"stubbled/store/disk"
)

// Copies, beside the database, of the farm file that is in force and of the
// station's record that it names. A slip in the farm file leaves the old one in
// force; by the copies it does so over a power cut too.
const (
	lastFarm   = "farm.in-force.yaml"
	lastRecord = "record.in-force"
)

// UnderService reports whether a service manager started the daemon, so that
// nobody sees how it ends.
func UnderService() bool { return os.Getenv("NOTIFY_SOCKET") != "" }

// LastGood is the farm that was in force last; there is none where no service
// ever ran on it.
func LastGood(path, db string) (farm *config.Farm, ok bool) {
	dir := filepath.Dir(db)
	text, err := os.ReadFile(filepath.Join(dir, lastFarm))
	if err != nil {
		return nil, false
	}
	farm, err = config.LoadText(path, text)
	if err != nil { // the record is what is wrong
		farm, err = config.LoadText(path, text, config.Opening(func(string) (io.ReadCloser, error) {
			return os.Open(filepath.Join(dir, lastRecord))
		}))
	}
	return farm, err == nil
}

// KeepFarm copies the farm file in force and its record beside the database.
func KeepFarm(farm *config.Farm, db string, log *slog.Logger) {
	if !UnderService() {
		return
	}
	dir := filepath.Dir(db)
	err := keepCopy(filepath.Join(dir, lastFarm), farm.Text())
	if farm.Station != "" && err == nil {
		var record []byte
		if record, err = os.ReadFile(farm.Station); err == nil {
			err = keepCopy(filepath.Join(dir, lastRecord), record)
		}
	}
	if err != nil {
		log.Warn("the farm file in force cannot be copied", "err", err)
	}
}

// keepCopy writes a file unless it holds that already.
func keepCopy(name string, data []byte) error {
	if old, err := os.ReadFile(name); err == nil && bytes.Equal(old, data) {
		return nil
	}
	return disk.WriteWhole(name, data)
}
