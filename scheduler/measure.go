package scheduler

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// nightOver is when a night's minimum is taken for final where an instrument
// reports all through it: after sunrise it has passed. Where the day turns
// colder than that later on, it is written down at once.
const nightOver = ladder.TimeOfDay(8 * 60)

// lookBack is how many days of measurements a pass looks at again. A record
// that comes late is caught up with that far.
const lookBack = 60

// firstLook is how many days are looked at on the first pass.
const firstLook = 400

// air is the observed days of the farm, merged from the station's record and
// from what carriers of weather brought.
type air struct {
	merged *frost.Record
	day    civil.Date // the day it was merged for; zero: read it again
	news   int64      // up to which it was read
	read   time.Time
	final  time.Time // when the next minimum can no longer fall; zero where none is waited for
	// What else changes with the news: the nights to come, and who opted out.
	ahead   []diary.Observation
	optOuts []store.OptOut
}

// record is what was measured before a day; nil where nothing is.
func (a *air) record(farm *config.Farm, today civil.Date) *frost.Record {
	if a.merged != nil {
		return a.merged
	}
	return farm.Plan.Record
}

// measure writes down the frosts that were measured, where there is news of any.
func (s *Scheduler) measure(tx *store.Tx, mark store.Mark) error {
	now, a := tx.Now(), &s.air
	today := civil.DateOf(now.In(s.farm.Zone))
	if a.day == today && a.news == mark.News && !now.Before(a.read) && (a.final.IsZero() || now.Before(a.final)) {
		return nil
	}
	back := lookBack
	if a.merged == nil {
		back = firstLook // the last falls, for what they teach
	}
	seen, err := tx.Observations(today.AddDays(-back), today.AddDays(2))
	if err != nil {
		return fmt.Errorf("read the weather: %w", err)
	}
	a.ahead = slices.DeleteFunc(slices.Clone(seen), func(o diary.Observation) bool { return !o.Forecast || o.Day.Before(today) })
	seen = slices.DeleteFunc(seen, func(o diary.Observation) bool { return o.Forecast || o.Day.After(today) })
	if a.optOuts, err = tx.OptOuts(); err != nil {
		return fmt.Errorf("read the opt-outs: %w", err)
	}
	a.news, a.read, a.final = mark.News, now, time.Time{}
	book, err := s.diary(tx)
	if err != nil {
		return err
	}
	known := writtenDown(book, today.AddDays(-back))
	for _, n := range s.nights(seen, today, tx.Now()) {
		for _, paddock := range s.froze(n.minC) {
			n.paddock = paddock
			if known[n.dayOf] || known[dayOf{n.day, everySource, paddock}] {
				continue
			}
			if err := s.writeFrost(tx, n); err != nil {
				return err
			}
		}
	}
	return nil
}

func (s *Scheduler) writeFrost(tx *store.Tx, n night) error {
	_, fresh, err := tx.Record(diary.Fact{
		At: n.known, Day: n.day, Kind: diary.Frost, Paddock: n.paddock, TempC: &n.minC, By: n.place, Source: n.source,
	})
	if err != nil {
		return fmt.Errorf("write down the frost of %s: %w", n.day, err)
	}
	if fresh {
		s.log.Info("frost", "day", n.day.String(), "source", n.source, "paddock", n.paddock, "c", n.minC)
	}
	return nil
}

// How much warmer than the station's a night may be that a frost pocket has frost
// in, degrees F: a fall's minimum sinks about so much a day (assumption).
const (
	sinksPerDay = 0.4
	mostPocketF = 42
)

// froze names the ground that a minimum is a frost on: the whole farm, "", else the
// frost pockets whose days of offset make up for the difference.
func (s *Scheduler) froze(minC float64) []string {
	t := frost.FromC(minC)
	if frost.Frost36F.Reached(t) {
		return []string{""}
	}
	var pockets []string
	for _, p := range s.farm.Paddocks {
		if d := -float64(p.FrostOffset); d > 0 && t.F() <= min(36+sinksPerDay*d, mostPocketF)+1e-6 {
			pockets = append(pockets, p.ID)
		}
	}
	return pockets
}

// dayOf is one source's day, of the farm or of a frost pocket.
type dayOf struct {
	day     civil.Date
	source  string
	paddock string
}

// everySource stands for all of them: a measured frost that a person took back
// does not come again for that day from another instrument.
const everySource = ""

// writtenDown are the measured frosts that the diary has, those taken back
// included: they do not come again.
func writtenDown(book *diary.Book, since civil.Date) map[dayOf]bool {
	known := map[dayOf]bool{}
	for _, f := range slices.Backward(book.FrostsEver()) {
		if f.Day.Before(since) {
			break
		}
		if !f.Measured() {
			continue
		}
		known[dayOf{f.Day, f.Source, f.Paddock}] = true
		if _, stands := book.Standing(f.ID); !stands {
			known[dayOf{f.Day, everySource, f.Paddock}] = true
		}
	}
	return known
}

// A night is a day's minimum and when it was known.
type night struct {
	dayOf
	minC  float64
	place string
	known time.Time
}

// nights are the final minima of the days before, by source: the record's own,
// and those of instruments that report all the time.
func (s *Scheduler) nights(seen []diary.Observation, today civil.Date, now time.Time) []night {
	s.merge(seen, today)
	lowest := make([]night, 0, lookBack+1)
	for i := range seen { // by day
		o, n := &seen[i], len(lowest)-1
		for n >= 0 && lowest[n].day == o.Day && lowest[n].source != o.Source {
			n--
		}
		if n < 0 || lowest[n].day != o.Day {
			n, lowest = len(lowest), append(lowest, night{dayOf: dayOf{day: o.Day, source: o.Source}, minC: o.MinC, place: o.Place})
			lowest[n].known = s.finalAt(lowest[n])
		}
		lowest[n].minC = min(lowest[n].minC, o.MinC)
	}
	known := slices.DeleteFunc(lowest, func(n night) bool { return !s.knownBy(n.known, now) })
	return append(known, s.recordNights(today, now)...)
}

// knownBy reports whether a minimum is known by now, and notes when it will be.
func (s *Scheduler) knownBy(known, now time.Time) bool {
	if f := &s.air.final; known.After(now) && (f.IsZero() || known.Before(*f)) {
		*f = known
	}
	return !known.After(now)
}

// finalAt is when a minimum can no longer fall: the next morning for a record
// by the day, mid-morning of its own day for an instrument.
func (s *Scheduler) finalAt(n night) time.Time {
	if n.source == diary.FromRecord {
		return KnownOn(s.farm, n.day)
	}
	return ladder.Instant(n.day, nightOver, s.farm.Zone)
}

// knownBefore is how long before the farm's morning a record's day is known.
const knownBefore = 30

// KnownOn is when a station's minimum of a day is known: the next morning,
// before the day's reminders go out.
func KnownOn(farm *config.Farm, day civil.Date) time.Time {
	return ladder.Instant(day.AddDays(1), max(0, farm.Morning-knownBefore), farm.Zone)
}

// recordNights are the latest days of the station's own file.
func (s *Scheduler) recordNights(today civil.Date, now time.Time) []night {
	r := s.farm.Plan.Record
	if r == nil {
		return nil
	}
	var out []night
	for d := today.AddDays(-lookBack); d.Before(today); d = d.AddDays(1) {
		t, known := r.Day(d).Min, KnownOn(s.farm, d)
		if !t.Known() || t.F() > mostPocketF || !s.knownBy(known, now) {
			continue
		}
		out = append(out, night{dayOf: dayOf{day: d, source: diary.FromRecord}, minC: t.C(), place: s.farm.Plan.Place, known: known})
	}
	return out
}

// merge joins what was observed, by day, to the station's record.
func (s *Scheduler) merge(seen []diary.Observation, today civil.Date) {
	days := make([]frost.Day, 0, lookBack)
	for i := range seen {
		o := &seen[i]
		if !o.Day.Before(today) {
			break
		}
		if n := len(days); n == 0 || days[n-1].Date != o.Day {
			days = append(days, frost.NoDay(o.Day))
		}
		d := &days[len(days)-1]
		if t := frost.FromC(o.MinC); !d.Min.Known() || t < d.Min {
			d.Min = t
		}
		high := o.MinC
		if o.MaxC != nil {
			high = *o.MaxC
		}
		if t := frost.FromC(high); !d.Max.Known() || t > d.Max {
			d.Max = t
		}
		if o.RainMM != nil {
			d.Rain = frost.Rain(math.Round(*o.RainMM * 1000))
		}
	}
	s.air.day, s.air.merged = today, cmp.Or(s.air.merged, s.farm.Plan.Record, &frost.Record{}).With(days...)
}
