package daemon

import (
	"context"
	"fmt"
	"time"

	"stubbled/scheduler/ladder"
)

// doubtFor is how long a clock may be doubted before somebody is told: most doubts
// end by themselves after half an hour of steady running.
const doubtFor = time.Hour

// clockDoubted tells, past the outbox where the reminders wait, of a clock that
// cannot be believed and does not mend.
func (d *Daemon) clockDoubted(ctx context.Context, now time.Time) {
	if d.sched.ClockSure() {
		d.doubtedSince = nil
		d.state.mended(doubt)
		return
	}
	boot := d.Clock.SinceBoot()
	if d.doubtedSince == nil {
		d.doubtedSince = &boot
	}
	if boot-*d.doubtedSince < doubtFor {
		return
	}
	err := fmt.Errorf("the clock shows %s, which cannot be right: set it, or let a time server", now.UTC().Format("Jan 2 2006 15:04"))
	d.state.fails(doubt, failure{since: boot, detail: err.Error(), elsewhere: true})
	d.raise(ctx, ladder.AlarmClock, err, now)
}

var doubt = fault{ladder.AlarmClock, "clock"}
