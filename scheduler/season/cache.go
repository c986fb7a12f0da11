package season

import (
	"sync"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
)

// A Cache keeps what takes long to work out and seldom changes, so that a pass
// each minute need neither read thirty years of weather nor learn from every
// finished season again. It never changes an answer. It is safe for use by many
// at once; a farm that is looked at with it must not be changed, only replaced.
type Cache struct {
	mu   sync.Mutex
	plan Plan
	by   map[int]*almanac

	spreads map[airOf]frost.Distribution
	means   map[airOf]meanDay
	warmths map[airOf]*frost.Warmth
	falls   map[airOf]*frost.YearWarmth
	rain    map[airOf]bool

	readings  map[string]kept[readFrom, *readings]
	learned   map[learnedOf]kept[learnedFrom, learned]
	forecasts map[string]kept[forecastFrom, expected]
	moves     map[struct{}]kept[movedFrom, *Moves]
}

// mostKept bounds each kind of weather that is kept. A record that grew is
// another record, and the old one is not asked for again.
const mostKept = 256

// keep finds what was worked out, or works it out.
func keep[K comparable, V any](s *Cache, all *map[K]V, k K, work func() V) V {
	s.mu.Lock()
	defer s.mu.Unlock()
	v, known := (*all)[k]
	if known {
		return v
	}
	if *all == nil || len(*all) >= mostKept {
		*all = map[K]V{}
	}
	v = work()
	(*all)[k] = v
	return v
}

// A kept value is good as long as what it was made from stays the same.
type kept[F comparable, V any] struct {
	from  F
	value V
}

// fresh finds what was worked out from the same, or works it out anew in place of
// the old.
func fresh[K, F comparable, V any](s *Cache, all *map[K]kept[F, V], k K, from F, work func() V) V {
	s.mu.Lock()
	old, known := (*all)[k]
	s.mu.Unlock()
	if known && old.from == from {
		return old.value
	}
	v := work()
	s.mu.Lock()
	defer s.mu.Unlock()
	if *all == nil {
		*all = map[K]kept[F, V]{}
	}
	(*all)[k] = kept[F, V]{from, v}
	return v
}

// almanac is the one of a season. It is made once for a plan.
func (s *Cache) almanac(plan Plan, year int) *almanac {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.by == nil || s.plan != plan {
		s.plan, s.by = plan, map[int]*almanac{}
	}
	a := s.by[year]
	if a == nil {
		a = newAlmanac(plan, year)
		s.by[year] = a
	}
	return a
}

// airOf is what sums over a record are kept by; what a sum does not ask for is
// zero.
type airOf struct {
	record    *frost.Record
	threshold frost.Threshold
	before    int // a year
	offset    int // days after Aug 1
	day       civil.Date
}

type meanDay struct {
	days  float64
	known bool
}

// meanAfter is the mean first frost over the falls before a year that had one
// later than a day, both counted from Aug 1; false where none had.
func (s *Cache) meanAfter(r *frost.Record, th frost.Threshold, before, day int) (float64, bool) {
	k := airOf{record: r, threshold: th, before: before}
	spread := keep(s, &s.spreads, k, func() frost.Distribution { return r.Distribution(th, frost.Pick{Before: before}) })
	k.offset = day
	m := keep(s, &s.means, k, func() meanDay {
		sum, n := 0, 0
		for _, f := range spread.StillToCome(day) {
			if !f.None {
				sum += f.Offset
				n++
			}
		}
		return meanDay{float64(sum) / float64(max(n, 1)), n > 0}
	})
	return m.days, m.known
}

// fall is one year's own degree-days before a day, with gaps at the mean of the
// years before; nil where the record has too few maxima.
func (s *Cache) fall(r *frost.Record, before int, until civil.Date) *frost.YearWarmth {
	w := keep(s, &s.warmths, airOf{record: r, before: before}, func() *frost.Warmth {
		w, _ := r.Warmth(frost.GrowthMethod, before)
		return w
	})
	if w == nil {
		return nil
	}
	return keep(s, &s.falls, airOf{record: r, before: before, day: until}, func() *frost.YearWarmth { return w.YearTo(until) })
}

// ample reports whether the last 60 days' rain is known to be no less than
// usual.
func (s *Cache) ample(r *frost.Record, day civil.Date) bool {
	return keep(s, &s.rain, airOf{record: r, day: day}, func() bool { return r.Rainfall(day, frost.RainDays).Ample() })
}
