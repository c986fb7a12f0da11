package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
	"stubbled/store/disk"
)

// A standstill is a time of which nothing is known: the power was gone, the
// service was stopped, or a copy was put back. Those of the last week are kept
// beside the database for whoever finds the machine.
type standstill struct {
	From, To time.Time
}

const (
	standstillFile = "standstill.json"
	// standstillFrom is from when on a gap is one: a new start takes seconds.
	standstillFrom = 10 * time.Minute
	// standstillTold is for how long check speaks of it.
	standstillTold = 7 * 24 * time.Hour
	// standstillSure is how long a clock that no time server set must have run.
	standstillSure = 30 * time.Minute
)

// noteStandstill keeps how long nothing is known before this start. A clock
// without a battery goes on from where it stood, so that is reckoned only once a
// time server set it, or gives none for long enough.
func (d *daemon) noteStandstill(now time.Time) {
	ran := d.env.clock.SinceBoot() - d.opened
	if d.seen.IsZero() || !d.state.believed() || !d.env.clock.Synced() && ran < standstillSure {
		return
	}
	gap := standstill{d.seen.UTC(), now.Add(-ran).UTC().Truncate(time.Second)}
	if gap.To.Sub(gap.From) >= standstillFrom {
		d.log.Info("nothing is known of a time before the start", "from", gap.From, "to", gap.To)
		all := append(lastStandstills(d.db, now), gap)
		data, err := json.Marshal(all)
		if err == nil {
			err = keepCopy(filepath.Join(filepath.Dir(d.db), standstillFile), data)
		}
		if err != nil {
			d.log.Warn("the standstill cannot be noted; that is tried again", "err", err)
			return
		}
	}
	d.seen = time.Time{}
}

// lastStandstills are those of the last week, the latest last.
func lastStandstills(db string, now time.Time) (all []standstill) {
	data, err := os.ReadFile(filepath.Join(filepath.Dir(db), standstillFile))
	if err != nil || json.Unmarshal(data, &all) != nil {
		return nil
	}
	return slices.DeleteFunc(all, func(s standstill) bool { return now.Sub(s.To) > standstillTold })
}

// daemon says whether the daemon runs and what happened to it.
func (c *checkup) daemon(ctx context.Context, farm *config.Farm, s *store.Store) {
	db, now := s.Path(), c.e.clock.Now()
	seen, err := s.LastSeen(ctx)
	if err != nil {
		c.wrong("daemon", err)
		return
	}
	clock := func(t time.Time) string { return t.In(farm.Zone).Format("Jan 2 15:04") }
	switch pid, runs := disk.Running(db); {
	case seen.IsZero():
		c.note("daemon", "made no pass yet")
	case !runs:
		c.note("daemon", "does not run; its last pass was "+clock(seen))
	case now.Sub(seen).Abs() > stalled:
		c.note("daemon", fmt.Sprintf("runs (process %d), and was sure of the time last at %s: it has just started, or doubts the clock, or cannot write; 'systemctl status stubbled' says which",
			pid, clock(seen)))
	default:
		c.fine("daemon", fmt.Sprintf("runs (process %d); last pass %s", pid, clock(seen)))
	}
	for _, gap := range lastStandstills(db, now) {
		c.note("daemon", fmt.Sprintf("nothing is known from %s to %s: it stood still, or a copy was put back%s", clock(gap.From), clock(gap.To), c.missed(ctx, farm, gap)))
	}
	if lost := disk.NotedLoss(db); lost != "" {
		c.note("daemon", "something may be lost: "+lost+"; ask everybody what they texted that day, and text again what 'stubbled diary' lacks")
	}
}

// missed names the cutoffs that fell into a standstill, as the farm stands today.
func (c *checkup) missed(ctx context.Context, farm *config.Farm, gap standstill) string {
	sight, err := report.Sight(ctx, farm, c.e.dbPath(farm.File), civil.DateOf(c.e.clock.Now().In(farm.Zone)))
	if err != nil {
		return "" // said where the database is looked at
	}
	var names []string
	for _, v := range season.Look(sight) {
		if v.Dates.Cutoff.IsZero() {
			continue
		}
		// When the day's texts would have gone out.
		if at := ladder.Instant(v.Dates.Cutoff, farm.Morning, farm.Zone); !at.Before(gap.From) && !at.After(gap.To) {
			names = append(names, fmt.Sprintf("%s on %s", v.Paddock.Name, report.ShortDay(v.Dates.Cutoff)))
		}
	}
	if len(names) == 0 {
		return "; no cutoff fell in it"
	}
	return "; in it fell the cutoff of " + strings.Join(names, ", ") + ": 'stubbled season' says how they stand"
}
