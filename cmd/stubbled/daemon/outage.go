package daemon

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// An Outage is a time of which nothing is known: the power was gone, the
// service was stopped, or a copy was put back. Those of the last week are kept
// beside the database for whoever finds the machine.
type Outage struct {
	From, To time.Time
}

const (
	outageFile = "standstill.json"
	// outageFrom is from when on a gap is one: a new start takes seconds.
	outageFrom = 10 * time.Minute
	// outageTold is for how long check speaks of it.
	outageTold = 7 * 24 * time.Hour
	// outageSure is how long a clock that no time server set must have run.
	outageSure = 30 * time.Minute
)

// noteOutage keeps how long nothing is known before this start. A clock
// without a battery goes on from where it stood, so that is reckoned only once a
// time server set it, or gives none for long enough.
func (d *Daemon) noteOutage(now time.Time) {
	ran := d.Clock.SinceBoot() - d.opened
	if d.seen.IsZero() || !d.state.believed() || !d.Clock.Synced() && ran < outageSure {
		return
	}
	gap := Outage{d.seen.UTC(), now.Add(-ran).UTC().Truncate(time.Second)}
	if gap.To.Sub(gap.From) >= outageFrom {
		d.Log.Info("nothing is known of a time before the start", "from", gap.From, "to", gap.To)
		all := append(Outages(d.DB, now), gap)
		data, err := json.Marshal(all)
		if err == nil {
			err = keepCopy(filepath.Join(filepath.Dir(d.DB), outageFile), data)
		}
		if err != nil {
			d.Log.Warn("the outage cannot be noted; that is tried again", "err", err)
			return
		}
	}
	d.seen = time.Time{}
}

// Outages are those of the last week, the latest last.
func Outages(db string, now time.Time) (all []Outage) {
	data, err := os.ReadFile(filepath.Join(filepath.Dir(db), outageFile))
	if err != nil || json.Unmarshal(data, &all) != nil {
		return nil
	}
	return slices.DeleteFunc(all, func(s Outage) bool { return now.Sub(s.To) > outageTold })
}
