package scheduler

import (
	"sync"
	"time"

	"stubbled/store"
)

// How far a clock may be off before it is doubted, and how long it must run
// steadily before it is believed again without the kernel's word.
const (
	jumpLimit  = 10 * time.Minute
	steadyTime = 30 * time.Minute
)

// Clock tells what the machine knows of its own clock.
type Clock interface {
	// SinceBoot runs steadily, through suspend too.
	SinceBoot() time.Duration
	// Synced reports whether the kernel says that a time server set the clock.
	Synced() bool
}

// clock decides whether the time may be believed. Reminders wait while it may
// not; answers go all the same.
type clock struct {
	source Clock

	mu       sync.Mutex
	started  bool
	doubted  bool
	wall     time.Time     // at the last pass
	boot     time.Duration // at the last pass
	steadyAt time.Duration // since when it has run steadily
}

// check compares the wall clock with the steady one since the last pass.
func (c *clock) check(now time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.source == nil {
		return
	}
	boot, wall := c.source.SinceBoot(), now.Round(0)
	if c.started {
		if off := wall.Sub(c.wall) - (boot - c.boot); off > jumpLimit || off < -jumpLimit {
			c.doubted, c.steadyAt = true, boot
		}
	}
	if c.wall.IsZero() {
		c.steadyAt = boot
	}
	c.wall, c.boot = wall, boot
	if c.doubted && (c.source.Synced() || boot-c.steadyAt >= steadyTime) {
		c.doubted = false
	}
}

// recover compares the clock with the last time that was certain, once at the
// start and whenever it seems to run behind it.
func (c *clock) recover(tx *store.Tx) error {
	if c.source == nil {
		return nil
	}
	seen, err := tx.LastSeen()
	if err != nil {
		return err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	first := !c.started
	c.started = true
	if c.source.Synced() {
		return nil
	}
	gap := tx.Now().Sub(seen)
	behind := gap < -time.Minute && c.boot-c.steadyAt < steadyTime
	// After a power cut nobody knows how long it was dark: a clock without a
	// battery may stand anywhere. A machine that kept running is not in doubt.
	dark := first && !seen.IsZero() && gap > jumpLimit && c.boot < gap
	young := tx.Now().Before(written)
	if behind || dark || young {
		if !c.doubted {
			c.steadyAt = c.boot
		}
		c.doubted = true
	}
	return nil
}

// written is a day before this program existed: no clock that shows an earlier
// one is right.
var written = time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)

func (c *clock) sure() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return !c.doubted
}
