package main

import (
	"context"
	"path/filepath"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/ladder"
)

// nightly is the copy of the database that is made each night.
type nightly struct {
	done time.Time
	day  civil.Date
}

// maybe makes the night's copy once its time has come, and thins the old ones.
func (n *nightly) maybe(ctx context.Context, d *daemon, now time.Time) {
	local := now.In(d.farm.Zone)
	today := civil.DateOf(local)
	if n.day == today || now.Before(ladder.Instant(today, d.farm.Backup.At, d.farm.Zone)) {
		return
	}
	n.day = today
	err := n.copy(ctx, d, today)
	if err == nil {
		n.done = now
	}
	d.trouble(ladder.AlarmBackup, "", err, now)
}

func (n *nightly) copy(ctx context.Context, d *daemon, today civil.Date) error {
	dir := backupDir(d.farm, d.store.Path())
	_, err := d.store.Nightly(ctx, dir, today)
	return err
}

// backupDir is the folder of the nightly copies.
func backupDir(farm *config.Farm, db string) string {
	if farm.Backup.Dir != "" {
		return farm.Backup.Dir
	}
	return filepath.Join(filepath.Dir(db), "backups")
}
