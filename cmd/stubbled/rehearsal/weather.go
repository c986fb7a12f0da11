package rehearsal

import (
	"context"
	"fmt"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/report"
	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/scheduler"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
)

// dayOfWeather is one rehearsed day's observation and when it becomes known.
type dayOfWeather struct {
	known time.Time
	day   diary.Observation
}

// A sky is the temperatures and the rain that a rehearsal plays.
type sky struct {
	words string                     // what they are, in a line
	on    func(civil.Date) frost.Day // of a rehearsed day
}

// noWeather is the answer to --weather that plays none.
const noWeather = "none"

// skyOf is what was asked for; else the station's own days as far as its record
// has them, and from then on those of its middling fall. A date by hand has an
// invented fall.
func skyOf(o Options, from, to civil.Date) (sky, error) {
	plan := o.Farm.Plan
	switch {
	case o.Weather != "" && o.Weather != noWeather:
		return sky{}, usage.Errorf("--weather: want none, got %q", o.Weather)
	case o.Weather == noWeather && o.StationYear != 0:
		return sky{}, usage.Errorf("--weather none and --station-year do not go together")
	case o.StationYear != 0 && plan.Record == nil:
		return sky{}, usage.Errorf("--station-year %d: the farm file has no station record", o.StationYear)
	case o.Weather == noWeather:
		return sky{words: "none is played", on: frost.NoDay}, nil
	case plan.Record == nil:
		return inventedSky(*plan.Hand), nil
	case o.StationYear != 0:
		if _, ok := plan.Record.Season(o.StationYear, plan.Threshold); !ok {
			return sky{}, usage.Errorf("--station-year %d: the record has no such fall; it runs from %s to %s", o.StationYear, plan.Record.First(), plan.Record.Last())
		}
		return sky{fmt.Sprintf("as %s observed in %d", plan.Place, o.StationYear), moved(plan.Record, o.StationYear-from.Year)}, nil
	}
	return stationSky(plan, from, to), nil
}

// Common practice: 32 F is a freeze, and 28 F kills warm-season grass; a degree
// under each is on the safe side of either.
const (
	firstFrostF    = 31
	killingFreezeF = 27
	daysBetween    = 10
)

// inventedSky is the fall of a date by hand: it freezes on that date, and kills
// ten days later. Nothing is known of any other day.
func inventedSky(hand season.Hand) sky {
	first := func(year int) civil.Date {
		return civil.Date{Year: year, Month: time.Month(hand.Date.Month), Day: hand.Date.Day}
	}
	words := fmt.Sprintf("invented, by the date in the farm file: %d F on %s, %d F on %s", firstFrostF, report.ShortDay(first(2001)),
		killingFreezeF, report.ShortDay(first(2001).AddDays(daysBetween)))
	return sky{words, func(d civil.Date) frost.Day {
		day := frost.NoDay(d)
		switch killed := d.AddDays(-daysBetween); {
		case d == first(d.Year):
			day.Min = frost.FromC((firstFrostF - 32) / 1.8)
		case killed == first(killed.Year):
			day.Min = frost.FromC((killingFreezeF - 32) / 1.8)
		}
		return day
	}}
}

// stationSky is what the station saw of the days rehearsed, and from the end of
// its record on the fall whose first frost is the median one.
func stationSky(plan season.Plan, from, to civil.Date) sky {
	own, last := plan.Record.Day, plan.Record.Last()
	if !from.Before(plan.Record.First()) && !to.After(last) {
		return sky{"as " + plan.Place + " observed it", own}
	}
	round := ""
	if to.Year > from.Year+1 {
		round = ", and on through its years"
	}
	words := fmt.Sprintf("none beyond %s, where the record ends: no fall of it had a middling frost", last)
	after := frost.NoDay
	if s, ok := middling(plan.Record, plan.Threshold); ok {
		words = fmt.Sprintf("as %s observed in %d, the fall with the median first frost (%s)%s", plan.Place, s.Year, report.ShortDay(s.First), round)
		after = moved(plan.Record, s.Year-from.Year)
		if !from.After(last) {
			words = fmt.Sprintf("as %s observed it to %s, from then on as in %d, the fall with the median first frost (%s)%s", plan.Place, last, s.Year, report.ShortDay(s.First), round)
		}
	}
	return sky{words, func(d civil.Date) frost.Day {
		if d.After(last) || d.Before(plan.Record.First()) {
			return after(d)
		}
		return own(d)
	}}
}

// moved is a record whose days are so many years later. A rehearsal that goes on past
// its end goes round: the record's first years come again, whole ones.
func moved(r *frost.Record, years int) func(civil.Date) frost.Day {
	whole := r.Last().AddDays(1).Year - r.First().AddDays(-1).Year - 1
	return func(d civil.Date) frost.Day {
		then := civil.Date{Year: d.Year + years, Month: d.Month, Day: d.Day}
		for whole > 0 && then.After(r.Last()) {
			then.Year -= whole
		}
		if !then.IsValid() {
			then.Day-- // Feb 29
		}
		day := r.Day(then)
		day.Date = d
		return day
	}
}

// middling is the latest counted season with the median first frost, so that a
// rehearsal shows neither the best nor the worst fall; false where half of the
// falls have none.
func middling(r *frost.Record, th frost.Threshold) (best frost.Season, found bool) {
	median, ok := r.Distribution(th, frost.Pick{}).NearestRank(50)
	for _, s := range r.Seasons(th) {
		if ok && s.Counted && s.Came() && s.Offset() == median {
			best, found = s, true
		}
	}
	return best, found
}

// weather is the days of a sky from the first to the last that is rehearsed.
func (s sky) weather(farm *config.Farm, from, to civil.Date) []dayOfWeather {
	var all []dayOfWeather
	for day := from; !day.After(to); day = day.AddDays(1) {
		seen := s.on(day)
		if !seen.Min.Known() {
			continue
		}
		known := scheduler.KnownOn(farm, day)
		o := diary.Observation{Source: diary.FromRecord, Place: farm.Plan.Place, At: known, Day: day, MinC: seen.Min.C()}
		if seen.Max.Known() {
			o.MaxC = new(seen.Max.C())
		}
		if seen.Rain.Known() {
			o.RainMM = new(seen.Rain.MM())
		}
		all = append(all, dayOfWeather{known, o})
	}
	return all
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
