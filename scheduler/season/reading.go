package season

import (
	"slices"
	"sort"
	"sync/atomic"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// A Visit is one reading with all its plants.
type Visit struct {
	Fact   int64 // the first fact of it
	Day    civil.Date
	By     string
	Herd   string // the one that it was read for; empty where nobody named one
	Sample grass.Sample

	at   time.Time // of its last plant
	seq  int       // its place among the paddock's facts
	mown bool      // the height that haying left
}

// mean is the height that was read; 0 where none was.
func (v *Visit) mean() float64 {
	if v == nil {
		return 0
	}
	return v.Sample.Mean
}

// addWithin is how long bare numbers from the same person carry on a reading.
const addWithin = 2 * time.Hour

// readings are all heights of a paddock that the diary has, oldest first. They
// are shared between looks and must not be changed.
type readings struct {
	visits []Visit
	cuts   []cut
	facts  int // that they were read from

	followed atomic.Bool // others went on from these, with more behind them
}

// A cut is the day on which hay or fire took the stand: what was read before
// says nothing of it any more.
type cut struct {
	kind diary.Kind
	day  civil.Date
	seq  int
}

// readFacts makes readings of a paddock's facts, bare numbers added to the
// reading that they carry on. The height left by a cut is a reading of one
// plant.
func readFacts(facts []*diary.Fact) *readings { return new(readings).with(facts) }

// with goes on to all of a paddock's facts, of which these were the first.
func (r *readings) with(facts []*diary.Fact) *readings {
	if slices.ContainsFunc(facts[r.facts:], func(f *diary.Fact) bool { return f.Adds }) {
		r = new(readings) // a reading that is here already may change
	}
	more := &readings{visits: r.visits, cuts: slices.Clip(r.cuts), facts: len(facts)}
	if r.followed.Swap(true) {
		more.visits = slices.Clip(r.visits) // what lies behind them is another's
	}
	for i, f := range facts[r.facts:] {
		switch seq := r.facts + i; {
		case f.Kind.Row().Cuts:
			more.cuts = append(more.cuts, cut{f.Kind, f.Day, seq})
			if len(f.Heights) > 0 {
				more.add(f, seq, f.Heights[:1])
			}
		case f.Kind == diary.Reading:
			if !f.Adds || !more.carryOn(f) {
				more.add(f, seq, f.Heights)
			}
		}
	}
	return more
}

func (r *readings) add(f *diary.Fact, seq int, heights []float64) {
	s, err := grass.NewSample(heights...)
	if err != nil {
		return // a height that cannot be is nobody's reading
	}
	r.visits = append(r.visits, Visit{
		Fact: f.ID, Day: f.Day, By: f.By, Herd: f.Herd, Sample: s,
		at: f.At, seq: seq, mown: f.Kind != diary.Reading,
	})
}

// carryOn adds plants to the same person's latest reading, if it is fresh and
// nothing took the stand since.
func (r *readings) carryOn(f *diary.Fact) bool {
	for i := len(r.visits) - 1; i >= 0; i-- {
		v := &r.visits[i]
		if v.mown || f.At.Sub(v.at) > addWithin {
			return false
		}
		if v.By != f.By {
			continue
		}
		if s, err := grass.NewSample(slices.Concat(v.Sample.Heights, f.Heights)...); err == nil {
			v.Sample, v.at = s, f.At
		}
		return true
	}
	return false
}

// between are the visits from a day up to, and without, another.
func (r *readings) between(from, before civil.Date) []Visit {
	on := func(day civil.Date) int { // none is copied to be looked at
		return sort.Search(len(r.visits), func(i int) bool { return !r.visits[i].Day.Before(day) })
	}
	first := on(from)
	last := max(first, on(before))
	return r.visits[first:last:last]
}

// standing is the latest height on a day; nil where none was read, or hay or
// fire took the stand since.
func (r *readings) standing(day civil.Date) *Visit {
	for i := len(r.visits) - 1; i >= 0; i-- {
		if v := &r.visits[i]; !v.Day.After(day) {
			if r.cutWithin(v.seq, day) != nil {
				return nil
			}
			return v
		}
	}
	return nil
}

// cutWithin is the first cut after a place in the diary and on or before a day.
// The height left by haying comes after the cut itself.
func (r *readings) cutWithin(seq int, day civil.Date) *cut {
	for i := range r.cuts {
		if c := &r.cuts[i]; c.seq > seq && !c.day.After(day) {
			return c
		}
	}
	return nil
}

// near is the reading nearest to a day and at most so many days from it.
func (r *readings) near(day civil.Date, most int) *Visit {
	return nearest(r.between(day.AddDays(-most), day.AddDays(most+1)), day, func(*Visit) bool { return true })
}

// nearest is the reading nearest to a day of those that will do, the first of
// two as near.
func nearest(visits []Visit, day civil.Date, does func(*Visit) bool) *Visit {
	var best *Visit
	for i := range visits {
		if v := &visits[i]; (best == nil || abs(v.Day.DaysSince(day)) < abs(best.Day.DaysSince(day))) && does(v) {
			best = v
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }

// endWithin is how many days after the end of rest a reading still tells the
// height that the paddock went into winter with.
const endWithin = 14

// end is the reading that tells the height at the end of rest; nil where it was
// never read.
func (r *readings) end(ended civil.Date) *Visit {
	if ended.IsZero() {
		return nil
	}
	visits := r.between(ended, ended.AddDays(endWithin+1))
	for i := range visits {
		v := &visits[i]
		if v.mown {
			continue
		}
		for _, c := range r.cuts {
			if !c.day.Before(ended) && c.seq < v.seq {
				return nil
			}
		}
		return v
	}
	return nil
}
