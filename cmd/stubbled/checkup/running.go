package checkup

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
	"stubbled/store/disk"
)

// running says whether the daemon runs and what happened to it.
func (c *checkup) running(ctx context.Context, farm *config.Farm, s *store.Store) {
	db, now := s.Path(), c.Now()
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
	case now.Sub(seen).Abs() > daemon.Stalled:
		c.note("daemon", fmt.Sprintf("runs (process %d), and was sure of the time last at %s: it has just started, or doubts the clock, or cannot write; 'systemctl status stubbled' says which",
			pid, clock(seen)))
	default:
		c.fine("daemon", fmt.Sprintf("runs (process %d); last pass %s", pid, clock(seen)))
		c.inForce(farm)
	}
	for _, gap := range daemon.Outages(db, now) {
		c.note("daemon", fmt.Sprintf("nothing is known from %s to %s: it stood still, or a copy was put back%s", clock(gap.From), clock(gap.To), c.missed(ctx, farm, gap)))
	}
	if lost := disk.NotedLoss(db); lost != "" {
		c.note("daemon", "something may be lost: "+lost+"; ask everybody what they texted that day, and text again what 'stubbled diary' lacks")
	}
}

// inForce says where a running daemon goes by another farm file than the one on
// disk.
func (c *checkup) inForce(farm *config.Farm) {
	has, ok := daemon.LastGood(farm.File, c.DB)
	if !ok || c.Refused != nil || has.Digest == farm.Digest {
		return
	}
	c.note("daemon", "has another farm file in force than the one on disk, which it takes within a minute. On disk: "+strings.Join(farm.Differences(has), "; "))
}

// missed names the cutoffs that fell into an outage, as the farm stands today.
func (c *checkup) missed(ctx context.Context, farm *config.Farm, gap daemon.Outage) string {
	sight, err := report.Sight(ctx, farm, c.DB, civil.DateOf(c.Now().In(farm.Zone)))
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
