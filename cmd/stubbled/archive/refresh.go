package archive

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/frost"
)

// A Refresher fetches a station's record anew every night. It is a notify.Source
// that observes nothing: whoever watches the file takes the new one.
type Refresher struct {
	URL, Path string
	Threshold frost.Threshold
	Now       func() time.Time
	Log       *slog.Logger
}

// How old a file may be before it is fetched again, how long after a failure it
// is tried again, and how long none may be had before that is a fault: a day
// without a network is none.
const (
	nightly  = 22 * time.Hour
	tryAgain = time.Hour
	silence  = 7 * 24 * time.Hour
)

func (r *Refresher) Name() string { return "station record" }

// Run fetches once a night until ctx ends, at no two farms at the same minute.
func (r *Refresher) Run(ctx context.Context, _ notify.Observe, report func(error)) error {
	for ctx.Err() == nil {
		age := r.age()
		if age < nightly {
			_ = notify.Wait(ctx, nightly-age+rand.N(tryAgain))
			continue
		}
		switch err := r.Once(ctx); {
		case err == nil:
			report(nil)
			continue
		case ctx.Err() != nil:
		case r.age() > silence:
			report(fmt.Errorf("no fresh station record for %.0f days: %w", r.age().Hours()/24, err))
		default:
			r.Log.Info("the station record could not be fetched; the one that is here stays", "err", err)
		}
		_ = notify.Wait(ctx, tryAgain+rand.N(tryAgain))
	}
	return ctx.Err()
}

// age is how long ago the file was fetched; a file that isn't there is as old as
// can be.
func (r *Refresher) age() time.Duration {
	info, err := os.Stat(r.Path)
	if err != nil {
		return 2 * silence
	}
	return r.Now().Sub(info.ModTime())
}

// Once fetches the record. One that is worse than the one that is here is let
// go, and the old one counts as fetched.
func (r *Refresher) Once(ctx context.Context) error {
	data, fresh, err := Record(ctx, r.URL)
	if err != nil {
		return err
	}
	old, err := frost.ReadFile(r.Path, frost.Options{})
	if err == nil {
		if why := fresh.WorseThan(old, r.Threshold); why != "" {
			r.Log.Warn("the station record that was fetched is worse; the one that is here stays", "why", why)
			if data, err = os.ReadFile(r.Path); err != nil {
				return err
			}
		}
	} else if _, unusable := fresh.Distribution(r.Threshold, frost.Pick{}).PlanOffset(frost.Average); unusable != nil && !errors.Is(err, os.ErrNotExist) {
		return unusable
	}
	return Keep(r.Path, data)
}
