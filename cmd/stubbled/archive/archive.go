// Package archive brings station records from NOAA's public archive: which
// stations there are, the record of each, and every night a fresh one. It judges
// no frost, and never lets go of a good file for a worse one.
package archive

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/station"
	"stubbled/store/disk"
)

// Base is where NOAA keeps GHCN-Daily (NOAA NCEI, readme of GHCN-Daily 3.26,
// section I).
const Base = "https://www.ncei.noaa.gov/pub/data/ghcn/daily"

// The lists, and how long one that was kept is fresh enough: stations come and
// go by the year.
const (
	stationList   = "ghcnd-stations.txt"
	inventoryList = "ghcnd-inventory.txt"
	listsFresh    = 30 * 24 * time.Hour
)

// An Archive is NOAA's, or another that has its form.
type Archive struct {
	Base string
	Dir  string // where the lists are kept
	Now  time.Time
	Say  func(string) // what is fetched, which takes a while, and what was done without
}

// Stations are all stations with minima. The lists are fetched once a month;
// where that fails, those kept from before do.
func (a Archive) Stations(ctx context.Context) ([]station.Station, error) {
	info, err := os.Stat(filepath.Join(a.Dir, inventoryList))
	if err == nil && a.Now.Sub(info.ModTime()) < listsFresh {
		if all, err := a.read(); err == nil {
			return all, nil
		}
	}
	a.Say("fetching NOAA's list of stations, some 50 MB; it is kept for a month")
	all, failed := a.fetchLists(ctx)
	if failed == nil {
		return all, nil
	}
	if all, err := a.read(); err == nil {
		a.Say(fmt.Sprintf("%v; the list of %s is used", failed, info.ModTime().Format(time.DateOnly)))
		return all, nil
	}
	return nil, failed
}

func (a Archive) read() ([]station.Station, error) {
	stations, err := os.ReadFile(filepath.Join(a.Dir, stationList))
	if err != nil {
		return nil, err
	}
	inventory, err := os.ReadFile(filepath.Join(a.Dir, inventoryList))
	if err != nil {
		return nil, err
	}
	return station.Read(bytes.NewReader(stations), bytes.NewReader(inventory))
}

// fetchLists fetches both, and keeps them if they can be read: of the inventory
// what is said of minima.
func (a Archive) fetchLists(ctx context.Context) ([]station.Station, error) {
	base := strings.TrimSuffix(a.Base, "/")
	stations, err := Fetch(ctx, base+"/"+stationList)
	if err != nil {
		return nil, err
	}
	whole, err := Fetch(ctx, base+"/"+inventoryList)
	if err != nil {
		return nil, err
	}
	all, err := station.Read(bytes.NewReader(stations), bytes.NewReader(whole))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", base, err)
	}
	if old, err := a.read(); err == nil && len(all) < len(old)*9/10 {
		return nil, fmt.Errorf("%s: the list names %d stations where there were %d, so only part of it came", base, len(all), len(old))
	}
	var minima bytes.Buffer
	for line := range bytes.Lines(whole) {
		if station.TMIN(string(bytes.TrimRight(line, "\r\n"))) {
			minima.Write(line)
		}
	}
	// Lists that cannot be kept are fetched anew, which is no fault.
	if os.MkdirAll(a.Dir, 0o700) == nil && disk.WriteWhole(filepath.Join(a.Dir, stationList), stations) == nil {
		_ = disk.WriteWhole(filepath.Join(a.Dir, inventoryList), minima.Bytes())
	}
	return all, nil
}

// Most of a file, and how long one may take over a farm's line.
const (
	largest  = 128 << 20
	patience = 5 * time.Minute
)

// ErrNoNetwork marks what another day may mend.
var ErrNoNetwork = errors.New("nobody answers; is this machine online?")

// Fetch fetches a file whole.
func Fetch(ctx context.Context, url string) ([]byte, error) {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, url, nil)
	if err != nil {
		return nil, err
	}
	r.Header.Set("User-Agent", "stubbled")
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w (%v)", url, ErrNoNetwork, err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("%s: the server answers %s; there is no such file, or not now", url, answer.Status)
	}
	data, err := io.ReadAll(io.LimitReader(answer.Body, largest+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: only part of it came: %w; try again", url, err)
	case len(data) > largest:
		return nil, fmt.Errorf("%s: over %d MB, which is no such file", url, largest>>20)
	}
	return data, nil
}

// Record fetches a station's record and reads it.
func Record(ctx context.Context, url string) ([]byte, *frost.Record, error) {
	data, err := Fetch(ctx, url)
	if err != nil {
		return nil, nil, err
	}
	if len(data) > 0 && data[len(data)-1] != '\n' && !bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		return nil, nil, fmt.Errorf("%s: its last line has no end, so only part of it came; try again", url)
	}
	r, err := frost.Read(url, bytes.NewReader(data), frost.Options{})
	return data, r, err
}

// Keep writes a record where the daemon's account may read and replace it.
func Keep(path string, data []byte) error {
	if err := disk.WriteWhole(path, data); err != nil {
		return err
	}
	return os.Chmod(path, 0o644)
}
