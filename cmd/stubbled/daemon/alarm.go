package daemon

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

// alarms is who was told, past the outbox, that nothing can be written down. It
// is kept in memory, and in the service's runtime folder for the case that the
// service is started again and again: the disk may be what fails.
type alarms struct {
	file  string // empty: none
	heard map[string]notify.Reached
	again map[string]time.Time // when it is worth telling what again
	log   *slog.Logger
}

func newAlarms(dir string, log *slog.Logger) *alarms {
	c := &alarms{heard: map[string]notify.Reached{}, again: map[string]time.Time{}, log: log}
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

func (c *alarms) keep() {
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

// alarmLater is the most that an alarm is put off: what is later was reckoned by a
// clock that ran wild.
const alarmLater = 24 * time.Hour

// noOptOuts is how long after the opt-outs could not be read it is tried again:
// that may mean to prove each nightly copy.
const noOptOuts = time.Hour

// raise tells straight over the carriers what fails, but nobody who opted out;
// where that is not known it tells nobody.
func (d *Daemon) raise(ctx context.Context, what string, why error, now time.Time) {
	if next := d.alarms.again[what]; next.After(now) && next.Sub(now) <= alarmLater {
		return
	}
	opted, err := d.optOuts(ctx, why)
	if err != nil {
		d.Log.Error("nobody is told, since who opted out cannot be read", "err", err)
		d.alarms.again[what] = now.Add(noOptOuts)
		return
	}
	d.alarms.again[what] = notify.Alarm{
		Carriers: d.links.Carriers, Rules: carriers.Rules(d.farm.Load()), Logger: d.Log,
		Trouble: ladder.Trouble{What: what, Detail: why.Error(), Since: now},
		OptedOut: func(address string) bool {
			return slices.ContainsFunc(opted, func(o store.OptOut) bool { return strings.EqualFold(o.Address, address) })
		},
		Reached: d.alarms.heard, Keep: d.alarms.keep,
	}.Raise(ctx, now)
}

// optOuts reads who opted out. A damaged database may have lost some of them, so
// then the newest good copy is asked as well, and must be there.
func (d *Daemon) optOuts(ctx context.Context, why error) ([]store.OptOut, error) {
	got, err := store.OptOutsIn(ctx, d.DB)
	if err == nil && !errors.Is(why, disk.ErrDamaged) && !errors.Is(why, disk.ErrNotOurs) {
		return got, nil
	}
	dir := BackupDir(d.farm.Load(), d.DB)
	copies, listed := store.Copies(ctx, dir)
	if listed == nil && len(copies) == 0 && disk.NeverUsed(d.DB) { // nobody can have opted out
		return nil, nil
	}
	good, _, noCopy := store.LatestGood(ctx, dir, d.Clock.Now())
	if noCopy != nil {
		return nil, errors.Join(err, noCopy)
	}
	more, err := store.OptOutsIn(ctx, good.Path)
	return append(got, more...), err
}
