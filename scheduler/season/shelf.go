package season

import (
	"sync"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
)

// A Shelf keeps what takes long to work out and seldom changes, so that a pass
// each minute need neither read thirty years of weather nor learn from every
// finished season again. It never changes an answer. It is safe for use by many
// at once; a farm that is looked at with it must not be changed, only replaced.
type Shelf struct {
	mu      sync.Mutex
	plan    Plan
	by      map[int]*Almanac
	spreads map[spreadOf]frost.Distribution
	means   map[meanOf]meanDay
	warmths map[warmthOf]*frost.Warmth
	falls   map[ownOf]*frost.YearWarmth
	rain    map[rainOf]bool
	readers map[string]reader
	learned map[learnedOf]learned
	told    map[string]told
	follows followed
}

// mostKept bounds each kind of weather that is kept. A record that grew is
// another record, and the old one is not asked for again.
const mostKept = 256

// keep finds what was worked out, or works it out.
func keep[K comparable, V any](s *Shelf, kept *map[K]V, k K, work func() V) V {
	s.mu.Lock()
	defer s.mu.Unlock()
	v, known := (*kept)[k]
	if known {
		return v
	}
	if *kept == nil || len(*kept) >= mostKept {
		*kept = map[K]V{}
	}
	v = work()
	(*kept)[k] = v
	return v
}

// Almanac is the one of a season. It is made once for a plan.
func (s *Shelf) Almanac(plan Plan, year int) *Almanac {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.by == nil || s.plan != plan {
		s.plan, s.by = plan, map[int]*Almanac{}
	}
	a := s.by[year]
	if a == nil {
		a = newAlmanac(plan, year)
		s.by[year] = a
	}
	return a
}

type spreadOf struct {
	record    *frost.Record
	threshold frost.Threshold
	before    int
}

// spread is a record's first frosts at a threshold in the falls before a year.
func (s *Shelf) spread(k spreadOf) frost.Distribution {
	return keep(s, &s.spreads, k, func() frost.Distribution {
		return k.record.Distribution(k.threshold, frost.Pick{Before: k.before})
	})
}

type meanOf struct {
	spreadOf
	day int
}

type meanDay struct {
	days  float64
	known bool
}

// meanAfter is the mean first frost over the falls that had one later than a
// day, both counted from Aug 1; false where none had.
func (s *Shelf) meanAfter(r *frost.Record, th frost.Threshold, before, day int) (float64, bool) {
	spread := s.spread(spreadOf{r, th, before})
	m := keep(s, &s.means, meanOf{spreadOf{r, th, before}, day}, func() meanDay {
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

type warmthOf struct {
	record *frost.Record
	before int
}

// warmth is a record's degree-days with the mean of the years before one; nil
// where it has too few maxima.
func (s *Shelf) warmth(r *frost.Record, before int) *frost.Warmth {
	return keep(s, &s.warmths, warmthOf{r, before}, func() *frost.Warmth {
		w, _ := r.Warmth(frost.GrowthMethod, before)
		return w
	})
}

type ownOf struct {
	warmthOf
	until civil.Date
}

// fall is one year's own degree-days before a day, gaps at the mean year's; nil
// where the record has too few maxima.
func (s *Shelf) fall(r *frost.Record, before int, until civil.Date) *frost.YearWarmth {
	w := s.warmth(r, before)
	if w == nil {
		return nil
	}
	return keep(s, &s.falls, ownOf{warmthOf{r, before}, until}, func() *frost.YearWarmth { return w.YearTo(until) })
}

type rainOf struct {
	record *frost.Record
	day    civil.Date
}

// ample reports whether the last 60 days' rain is known to be no less than
// usual.
func (s *Shelf) ample(r *frost.Record, day civil.Date) bool {
	return keep(s, &s.rain, rainOf{r, day}, func() bool { return r.Rainfall(day, frost.RainDays).Ample() })
}
