package weather

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"time"

	"stubbled/scheduler/diary"
)

// How many observations are asked for: enough for two days of a station that
// reports every five minutes after a gap, for three hours otherwise.
const (
	manyObservations = 500
	fewObservations  = 40
	gap              = 3 * time.Hour
)

// observations asks for what was measured and hands it on.
func (r *round) observations(ctx context.Context) error {
	if err := r.locate(ctx); err != nil {
		return err
	}
	n := fewObservations
	if r.now().Sub(r.asked) > gap {
		n = manyObservations
	}
	var a observationsAnswer
	err := r.fetch.get(ctx, fmt.Sprintf("/stations/%s/observations?limit=%d", r.station, n), &a)
	if errors.Is(err, errNotModified) {
		r.asked = r.now()
		return nil
	}
	if err != nil {
		return err
	}
	got, why := a.read(r.station, r.now())
	if err := r.hand(ctx, r.unsent(got)); err != nil {
		r.fetch.forget()
		return err
	}
	r.asked = r.now()
	for _, o := range got {
		r.measured.heard(o.At)
	}
	if len(got) == 0 {
		return unusable("observation", why)
	}
	return nil
}

// forecast asks for the minima ahead and hands them on: from the square's raw
// layers, or where they have none from the twelve-hour periods.
func (r *round) forecast(ctx context.Context) error {
	if err := r.locate(ctx); err != nil {
		return err
	}
	if err := r.square(ctx); err != nil {
		return err
	}
	place := trimmed(r.lat) + "," + trimmed(r.lon)
	var g gridAnswer
	err := r.fetch.get(ctx, r.grid, &g)
	if errors.Is(err, errNotModified) {
		return nil
	}
	if r.moved(err) {
		return err
	}
	got, _ := g.read(place, r.now())
	if err != nil || len(got) == 0 {
		var p periodsAnswer
		perr := r.fetch.get(ctx, r.grid+"/forecast", &p)
		if errors.Is(perr, errNotModified) {
			return nil
		}
		if perr != nil {
			r.moved(perr)
			return errors.Join(err, perr)
		}
		var why error
		if got, why = p.read(place, r.now()); len(got) == 0 {
			return unusable("forecast", why)
		}
	}
	if err := r.hand(ctx, got); err != nil {
		r.fetch.forget()
		return err
	}
	for _, o := range got {
		r.forecasts.heard(o.Issued)
	}
	return nil
}

// moved reports whether the square is not there any more: squares get cut
// anew, so that the point must be looked up again.
func (r *round) moved(err error) bool {
	var p *problem
	if errors.As(err, &p) && p.Status == http.StatusNotFound {
		r.grid = ""
		r.fetch.forget()
		return true
	}
	return false
}

func unusable(what string, why error) error {
	if why == nil {
		return fmt.Errorf("the weather service gives no %s", what)
	}
	return fmt.Errorf("the weather service gives no usable %s: %w", what, why)
}

// locate finds the point of a station, or the station nearest to a point.
func (r *round) locate(ctx context.Context) error {
	if r.lat == 0 && r.lon == 0 {
		var a stationAnswer
		if err := r.fetch.look(ctx, "/stations/"+r.station, &a); err != nil {
			return err
		}
		c := a.Geometry.Coordinates
		if len(c) < 2 || c[0] == 0 && c[1] == 0 || !(c[1] >= -90 && c[1] <= 90 && c[0] >= -180 && c[0] <= 180) {
			return fmt.Errorf("the weather service does not say where station %s is; give the point as well", r.station)
		}
		r.lon, r.lat = c[0], c[1]
	}
	if r.station == "" {
		if err := r.square(ctx); err != nil {
			return err
		}
		var a stationsAnswer
		if err := r.fetch.look(ctx, r.grid+"/stations", &a); err != nil {
			return err
		}
		if len(a.Features) == 0 || !stationName.MatchString(a.Features[0].Properties.ID) {
			return errors.New("the weather service knows no station near this point; name one")
		}
		r.station = a.Features[0].Properties.ID
	}
	return nil
}

// square looks up the forecast square of the point, once.
func (r *round) square(ctx context.Context) error {
	if r.grid != "" {
		return nil
	}
	var a pointAnswer
	if err := r.fetch.look(ctx, "/points/"+trimmed(r.lat)+","+trimmed(r.lon), &a); err != nil {
		return err
	}
	path, err := a.path()
	r.grid = path
	return err
}

// hand stores what was said, and remembers what was measured.
func (r *round) hand(ctx context.Context, got []diary.Observation) error {
	left, err := handOver(ctx, r.observe, got)
	for _, o := range got[:len(got)-len(left)] {
		if !o.Forecast {
			r.sent[o.At] = o.MinC
		}
	}
	if err != nil {
		return fmt.Errorf("weather cannot be stored: %w", err)
	}
	maps.DeleteFunc(r.sent, func(at time.Time, _ float64) bool { return r.now().Sub(at) > lookBack })
	return nil
}

// unsent drops what was handed on already with the same value, and what is too
// old to matter.
func (r *round) unsent(got []diary.Observation) []diary.Observation {
	return slices.DeleteFunc(slices.Clone(got), func(o diary.Observation) bool {
		c, sent := r.sent[o.At]
		return sent && c == o.MinC || r.now().Sub(o.At) > lookBack
	})
}
