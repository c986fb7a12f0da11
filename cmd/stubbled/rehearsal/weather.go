package rehearsal

import (
	"context"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/scheduler"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// dayOfWeather is one rehearsed day's observation and when it becomes known.
type dayOfWeather struct {
	known time.Time
	day   diary.Observation
}

// weatherYear is the year whose temperatures are played: the one asked for; the
// rehearsed one itself where the record has it; on the demo farm a middling
// one. 0 is none.
func weatherYear(o Options, from civil.Date) (int, error) {
	r, threshold, asked := o.Farm.Plan.Record, o.Farm.Plan.Threshold, o.StationYear
	switch {
	case asked != 0 && r == nil:
		return 0, usage.Errorf("--station-year %d: the farm file has no station record", asked)
	case asked != 0:
		if _, ok := r.Season(asked, threshold); !ok {
			return 0, usage.Errorf("--station-year %d: the record has no such fall; it runs from %s to %s", asked, r.First(), r.Last())
		}
		return asked, nil
	case r == nil:
		return 0, nil
	}
	if _, ok := r.Season(from.Year, threshold); ok {
		return from.Year, nil
	}
	if !o.Demo {
		return 0, nil
	}
	return middlingYear(r, threshold), nil
}

// middlingYear is the latest counted season with the median first frost, so
// that a demonstration shows neither the best nor the worst fall.
func middlingYear(r *frost.Record, th frost.Threshold) int {
	median, ok := r.Distribution(th, frost.Pick{}).NearestRank(50)
	best := 0
	for _, s := range r.Seasons(th) {
		if ok && s.Counted && s.Came() && s.Offset() == median {
			best = s.Year
		}
	}
	return best
}

// weatherOf is the station's days of a year moved to the rehearsal's dates.
func weatherOf(farm *config.Farm, year int, from, to civil.Date) []dayOfWeather {
	if year == 0 {
		return nil
	}
	var all []dayOfWeather
	for day := from; !day.After(to); day = day.AddDays(1) {
		then := civil.Date{Year: year + day.Year - from.Year, Month: day.Month, Day: day.Day}
		seen := farm.Plan.Record.Day(then)
		if !then.IsValid() || !seen.Min.Known() {
			continue
		}
		known := scheduler.KnownOn(farm, day)
		o := diary.Observation{Source: diary.FromRecord, Place: farm.Plan.Place, At: known, Day: day, MinC: seen.Min.C()}
		if seen.Max.Known() {
			c := seen.Max.C()
			o.MaxC = &c
		}
		if seen.Rain.Known() {
			mm := seen.Rain.MM()
			o.RainMM = &mm
		}
		all = append(all, dayOfWeather{known, o})
	}
	return all
}

func (p *play) nextWeather() time.Time {
	if len(p.weather) == 0 {
		return time.Time{}
	}
	return p.weather[0].known
}

// observe hands over what the station has seen by now.
func (p *play) observe(ctx context.Context) error {
	var got []diary.Observation
	for len(p.weather) > 0 && !p.weather[0].known.After(p.now) {
		got = append(got, p.weather[0].day)
		p.weather = p.weather[1:]
	}
	if len(got) == 0 {
		return nil
	}
	return p.store.Observe(ctx, got, p.now)
}
