package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
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

// airCache keeps what each pass reads of the weather, as far as it is known: only who
// holds the lock writes any. What days before stale say is what the database says.
type airCache struct {
	first, stale civil.Date // first is zero where nothing is kept
	all          []diary.Observation
}

// byDay is where those of a day begin, or of a later one.
func (c *airCache) byDay(day civil.Date) int {
	i, _ := slices.BinarySearchFunc(c.all, day, func(o diary.Observation, d civil.Date) int { return o.Day.DaysSince(d) })
	return i
}

func (t *Tx) observe(got []diary.Observation) error {
	c := &t.s.air
	for _, o := range got {
		c.stale = diary.EarlierDay(c.stale, o.Day.AddDays(-1)) // by other clocks it counted for the day before
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
// first to last, both counted in, by day and time. Read are the days of which anything
// was written since they were asked for last.
func (t *Tx) Observations(first, last civil.Date) ([]diary.Observation, error) {
	c := &t.s.air
	if c.first.IsZero() || first.Before(c.first) {
		*c = airCache{first: first, stale: first}
	}
	if !c.stale.IsZero() {
		more, err := disk.All(t.db, func(r disk.Scanner) (o diary.Observation, err error) {
			err = r.Scan(&o.Source, &o.Place, &o.Forecast, (*instant)(&o.At), (*date)(&o.Day), &o.MinC, &o.MaxC, &o.RainMM, (*instant)(&o.Issued))
			return o, err
		}, `SELECT source, place, forecast, at, day, min_c, max_c, rain_mm, issued_at
			FROM observations WHERE day >= ? ORDER BY day, at, source, place, forecast`, date(diary.LaterDay(c.first, c.stale)))
		if err != nil {
			return nil, err
		}
		c.all, c.stale = append(c.all[:c.byDay(c.stale)], more...), civil.Date{}
	}
	c.all, c.first = c.all[c.byDay(first):], first
	return slices.Clone(c.all[:c.byDay(last.AddDays(1))]), nil
}
