package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// Observe keeps what instruments and weather services said, in one
// transaction. One that is there already (source, place, end of the period,
// measured or forecast) is replaced, a forecast only by one that was made
// later.
func (s *Store) Observe(ctx context.Context, got []diary.Observation, now time.Time) error {
	if len(got) == 0 {
		return nil
	}
	return s.writing(ctx, "keep observations", now, func(t *Tx) error { return t.Observe(got) })
}

// Observe is Store.Observe within a transaction.
func (t *Tx) Observe(got []diary.Observation) error {
	for _, o := range got {
		if o.At.IsZero() || !o.Day.IsValid() {
			return fmt.Errorf("observation of %s %s: it has no time or day", o.Source, o.Place)
		}
		_, err := t.exec(`INSERT INTO observations (source, place, forecast, at, day, min_c, max_c, rain_mm, issued_at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
			ON CONFLICT (source, at, forecast, place) DO UPDATE SET day = excluded.day, min_c = excluded.min_c,
				max_c = excluded.max_c, rain_mm = excluded.rain_mm, issued_at = excluded.issued_at
			WHERE coalesce(excluded.issued_at, 0) >= coalesce(observations.issued_at, 0)`,
			o.Source, o.Place, o.Forecast, o.At.Unix(), o.Day.String(), o.MinC, o.MaxC, o.RainMM, unixOrNil(o.Issued))
		if err != nil {
			return fmt.Errorf("observation of %s %s: %w", o.Source, o.Place, err)
		}
	}
	return nil
}

const observations = `SELECT source, place, forecast, at, day, min_c, max_c, rain_mm, issued_at
	FROM observations WHERE day >= ? AND day <= ? ORDER BY day, at, source, place, forecast`

// Observations gives what was observed of or expected for the farm's days from
// first to last, both counted in, by day and time.
func (t *Tx) Observations(first, last civil.Date) ([]diary.Observation, error) {
	rows, err := t.query(observations, first.String(), last.String())
	if err != nil {
		return nil, err
	}
	return collect(rows, scanObservation)
}

// Observations is Tx.Observations for those who only look.
func (s *Store) Observations(ctx context.Context, first, last civil.Date) ([]diary.Observation, error) {
	rows, err := s.read.QueryContext(ctx, observations, first.String(), last.String())
	if err != nil {
		return nil, s.explain("read observations", err)
	}
	got, err := collect(rows, scanObservation)
	return got, s.explain("read observations", err)
}

func scanObservation(r scanner) (diary.Observation, error) {
	var o diary.Observation
	var at int64
	var day string
	var high, rain sql.NullFloat64
	var issued sql.NullInt64
	err := r.Scan(&o.Source, &o.Place, &o.Forecast, &at, &day, &o.MinC, &high, &rain, &issued)
	if err != nil {
		return o, err
	}
	o.At, o.Issued = time.Unix(at, 0).UTC(), timeOrZero(issued)
	if high.Valid {
		o.MaxC = &high.Float64
	}
	if rain.Valid {
		o.RainMM = &rain.Float64
	}
	o.Day, err = civil.ParseDate(day)
	return o, err
}
