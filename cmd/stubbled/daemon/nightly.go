package daemon

import (
	"context"
	"path/filepath"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/ladder"
)

type nightly struct {
	done   time.Time
	day    civil.Date // of the last good one
	again  time.Time  // not before, after one that failed
	failed int        // in a row
}

// nightlyAgain is how long after a copy that failed the next one is tried.
const nightlyAgain = time.Hour

// maybe makes the night's copy once its time has come, and thins the old ones; not
// by a clock that is doubted, which would date it wrong.
func (n *nightly) maybe(ctx context.Context, d *Daemon, now time.Time) {
	farm := d.farm.Load()
	local := now.In(farm.Zone)
	today := civil.DateOf(local)
	if !d.sched.ClockSure() || n.day == today || now.Before(n.again) || now.Before(ladder.Instant(today, farm.Backup.At, farm.Zone)) {
		return
	}
	_, err := d.store.Nightly(ctx, BackupDir(farm, d.DB), today, now)
	if ctx.Err() != nil {
		return // cut off, which is no failure
	}
	if err == nil {
		n.day, n.done, n.failed = today, now, 0
	} else {
		n.again = now.Add(nightlyAgain)
		n.failed++
		d.Log.Warn("the night's copy failed", "try", n.failed, "err", err)
	}
	if n.failed == 1 {
		return // one failure is no news
	}
	d.note(fault{ladder.AlarmBackup, "nightly"}, "", err)
}

// BackupDir is the folder of the nightly copies.
func BackupDir(farm *config.Farm, db string) string {
	if farm.Backup.Dir != "" {
		return farm.Backup.Dir
	}
	return filepath.Join(filepath.Dir(db), "backups")
}
