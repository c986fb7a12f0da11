package main

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/notify"
	"stubbled/scheduler/ladder"
	"stubbled/store"
	"stubbled/store/disk"
)

// cries is who was told, past the outbox, that nothing can be written down. It
// is kept in memory, and in the service's runtime folder for the case that the
// service is started again and again: the disk may be what fails.
type cries struct {
	file  string // empty: none
	heard map[string]notify.Reached
	again map[string]time.Time // when it is worth crying of what again
	log   *slog.Logger
}

func newCries(dir string, log *slog.Logger) *cries {
	c := &cries{heard: map[string]notify.Reached{}, again: map[string]time.Time{}, log: log}
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
		err = disk.WriteWhole(c.file, data)
	}
	if err != nil {
		c.log.Warn("who was told of a fault is not known after the next start", "err", err)
	}
}

// cryLater is the most that a cry is put off: what is later was reckoned by a
// clock that ran wild.
const cryLater = 24 * time.Hour

// noOptOuts is how long after the opt-outs could not be read it is tried again:
// that may mean to prove each nightly copy.
const noOptOuts = time.Hour

// cry tells straight over the carriers what fails, but nobody who opted out;
// where that is not known it tells nobody.
func (d *daemon) cry(ctx context.Context, what string, why error, now time.Time) {
	if next := d.cries.again[what]; next.After(now) && next.Sub(now) <= cryLater {
		return
	}
	opted, err := d.optOuts(ctx, why)
	if err != nil {
		d.log.Error("nobody is told, since who opted out cannot be read", "err", err)
		d.cries.again[what] = now.Add(noOptOuts)
		return
	}
	d.cries.again[what] = notify.Alarm{
		Carriers: d.links.Carriers, Rules: carriers.Rules(d.farm.Load()), Logger: d.log,
		Trouble: ladder.Trouble{What: what, Detail: why.Error(), Since: now},
		OptedOut: func(address string) bool {
			return slices.ContainsFunc(opted, func(o store.OptOut) bool { return strings.EqualFold(o.Address, address) })
		},
		Reached: d.cries.heard, Keep: d.cries.keep,
	}.Raise(ctx, now)
}

// optOuts reads who opted out. A damaged database may have lost some of them, so
// then the newest good copy is asked as well, and must be there.
func (d *daemon) optOuts(ctx context.Context, why error) ([]store.OptOut, error) {
	got, err := store.OptOutsIn(ctx, d.db)
	if err == nil && !errors.Is(why, disk.ErrDamaged) && !errors.Is(why, disk.ErrNotOurs) {
		return got, nil
	}
	dir := backupDir(d.farm.Load(), d.db)
	days, listed := disk.Nightlies(dir)
	if listed == nil && len(days) == 0 && disk.NeverUsed(d.db) { // nobody can have opted out
		return nil, nil
	}
	good, _, noCopy := disk.LatestGood(ctx, dir)
	if noCopy != nil {
		return nil, errors.Join(err, noCopy)
	}
	more, err := store.OptOutsIn(ctx, good)
	return append(got, more...), err
}
