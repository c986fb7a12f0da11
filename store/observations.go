package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/store/disk"
)

// Observe keeps what instruments and weather services said, in one
// transaction. One that is there already (source, place, end of the period,
// measured or forecast) is replaced, a forecast only by one that was made
// later.
func (s *Store) Observe(ctx context.Context, got []diary.Observation, now time.Time) error {
	if len(got) == 0 {
		return nil
	}
	return s.writing(ctx, "keep observations", now, func(t *Tx) error { return errors.Join(t.observe(got), t.noteNews()) })
}

func (t *Tx) observe(got []diary.Observation) error {
	for _, o := range got {
		if o.At.IsZero() || !o.Day.IsValid() {
			return fmt.Errorf("observation of %s %s: it has no time or day", o.Source, o.Place)
		}
		_, err := t.db.Exec(`INSERT INTO observations (source, place, forecast, at, day, min_c, max_c, rain_mm, issued_at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
			ON CONFLICT (source, at, forecast, place) DO UPDATE SET day = excluded.day, min_c = excluded.min_c,
				max_c = excluded.max_c, rain_mm = excluded.rain_mm, issued_at = excluded.issued_at
			WHERE coalesce(excluded.issued_at, 0) >= coalesce(observations.issued_at, 0)`,
			o.Source, o.Place, o.Forecast, o.At.Unix(), date(o.Day), o.MinC, o.MaxC, o.RainMM, instant(o.Issued))
		if err != nil {
			return fmt.Errorf("observation of %s %s: %w", o.Source, o.Place, err)
		}
	}
	return nil
}

// Observations gives what was observed of or expected for the farm's days from
// first to last, both counted in, by day and time.
func (t *Tx) Observations(first, last civil.Date) ([]diary.Observation, error) {
	return disk.All(t.db, func(r disk.Scanner) (o diary.Observation, err error) {
		err = r.Scan(&o.Source, &o.Place, &o.Forecast, (*instant)(&o.At), (*date)(&o.Day), &o.MinC, &o.MaxC, &o.RainMM, (*instant)(&o.Issued))
		return o, err
	}, `SELECT source, place, forecast, at, day, min_c, max_c, rain_mm, issued_at
		FROM observations WHERE day >= ? AND day <= ? ORDER BY day, at, source, place, forecast`, date(first), date(last))
}
