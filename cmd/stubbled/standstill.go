package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// A standstill is a time in which nobody was reminded: the power was gone, or the
// service was stopped. The last one is kept beside the database for whoever finds
// the machine.
type standstill struct {
	From, To time.Time
}

const (
	standstillFile = "standstill.json"
	// standstillFrom is from when on a gap is one: a new start takes seconds.
	standstillFrom = 10 * time.Minute
	// standstillTold is for how long check speaks of it.
	standstillTold = 7 * 24 * time.Hour
)

// noteStandstill keeps how long the daemon stood still before this start, once
// the clock is believed.
func (d *daemon) noteStandstill(now time.Time) {
	if d.seen.IsZero() || !d.state.believed() {
		return
	}
	gap := standstill{d.seen.UTC(), now.UTC()}
	d.seen = time.Time{}
	if gap.To.Sub(gap.From) < standstillFrom {
		return
	}
	d.log.Info("it stood still", "from", gap.From, "to", gap.To)
	data, err := json.Marshal(gap)
	if err == nil {
		err = keepCopy(filepath.Join(filepath.Dir(d.db), standstillFile), data)
	}
	if err != nil {
		d.log.Warn("the standstill cannot be noted", "err", err)
	}
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
	switch pid, runs := store.Running(db); {
	case seen.IsZero():
		c.note("daemon", "made no pass yet")
	case !runs:
		c.note("daemon", "does not run; its last pass was "+clock(seen))
	case now.Sub(seen).Abs() > stalled:
		c.wrong("daemon", fmt.Errorf("runs (process %d) and has made no pass since %s: 'systemctl status stubbled' says why", pid, clock(seen)))
	default:
		c.fine("daemon", fmt.Sprintf("runs (process %d); last pass %s", pid, clock(seen)))
	}
	if gap, ok := lastStandstill(db); ok && now.Sub(gap.To) < standstillTold {
		c.note("daemon", fmt.Sprintf("stood still from %s to %s%s", clock(gap.From), clock(gap.To), c.missed(ctx, farm, gap)))
	}
	if lost := store.Loss(db); lost != "" {
		c.note("daemon", "something may be lost: "+lost+"; ask everybody what they texted that day, and text again what 'stubbled diary' lacks")
	}
}

func lastStandstill(db string) (gap standstill, ok bool) {
	data, err := os.ReadFile(filepath.Join(filepath.Dir(db), standstillFile))
	return gap, err == nil && json.Unmarshal(data, &gap) == nil
}

// missed names the cutoffs that fell into a standstill, as the farm stands today.
func (c *checkup) missed(ctx context.Context, farm *config.Farm, gap standstill) string {
	sight, err := c.e.sightOf(ctx, farm, civil.DateOf(c.e.clock.Now().In(farm.Zone)))
	if err != nil {
		return "" // said where the database is looked at
	}
	from, to := civil.DateOf(gap.From.In(farm.Zone)), civil.DateOf(gap.To.In(farm.Zone))
	var names []string
	for _, v := range season.Look(sight) {
		if day := v.Dates.Cutoff; !day.IsZero() && !day.Before(from) && !day.After(to) {
			names = append(names, fmt.Sprintf("%s on %s", v.Paddock.Name, shortDay(day)))
		}
	}
	if len(names) == 0 {
		return "; no cutoff fell in it"
	}
	return "; in it fell the cutoff of " + strings.Join(names, ", ") + ": 'stubbled season' says how they stand"
}
