package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// cries is who was told, past the outbox, that nothing can be written down. It
// is kept in memory, and in the service's runtime folder for the case that the
// service is started again and again: the disk may be what fails.
type cries struct {
	file  string // empty: none
	heard map[string]time.Time
	log   *slog.Logger
}

func newCries(dir string, log *slog.Logger) *cries {
	c := &cries{heard: map[string]time.Time{}, log: log}
	if dir == "" {
		return c
	}
	c.file = filepath.Join(dir, "cries.json")
	data, err := os.ReadFile(c.file)
	if err == nil {
		err = json.Unmarshal(data, &c.heard)
	}
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		log.Warn("who was told of a fault before the last start is not known", "err", err)
	}
	return c
}

func (c *cries) keep() {
	if c.file == "" {
		return
	}
	data, err := json.Marshal(c.heard)
	if err == nil {
		err = os.WriteFile(c.file, data, 0o600)
	}
	if err != nil {
		c.log.Warn("who was told of a fault is not known after the next start", "err", err)
	}
}

// cry tells straight over the carriers what fails, but nobody who opted out;
// where that is not known it tells nobody.
func (d *daemon) cry(ctx context.Context, f fault, why error, now time.Time) {
	opted, err := d.optOuts(ctx)
	if err != nil {
		d.log.Error("nobody is told, since who opted out cannot be read", "err", err)
		return
	}
	notify.Cry{
		Carriers: d.links.carriers, Rules: rules(d.farm.Load()), Logger: d.log,
		Trouble: ladder.Trouble{What: f.what, Detail: why.Error(), Since: now},
		OptedOut: func(address string) bool {
			return slices.ContainsFunc(opted, func(o store.OptOut) bool { return strings.EqualFold(o.Address, address) })
		},
	}.Raise(ctx, now, d.cries.heard)
	d.cries.keep()
}

// optOuts reads who opted out, from the newest good copy where the database
// itself cannot be read.
func (d *daemon) optOuts(ctx context.Context) ([]store.OptOut, error) {
	got, err := store.OptOutsIn(ctx, d.db)
	if err == nil {
		return got, nil
	}
	good, _, noCopy := store.LatestGood(ctx, backupDir(d.farm.Load(), d.db))
	if noCopy != nil {
		return nil, fmt.Errorf("%w; %w", err, noCopy)
	}
	return store.OptOutsIn(ctx, good)
}
