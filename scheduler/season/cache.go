package season

import (
	"sync"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// A Cache keeps what takes long to work out and seldom changes, so that a pass
// each minute need neither read thirty years of weather nor learn from every
// finished season again. It never changes an answer. It is safe for use by many
// at once; a farm that is looked at with it must not be changed, only replaced.
type Cache struct {
	mu     sync.Mutex
	tables map[any]any // a map[K]V by the table[K, V] that stands for it
}

// A table stands for all that is kept of one kind.
type table[K comparable, V any] struct{}

// tableOf is that of a kind; for who holds the lock.
func tableOf[K comparable, V any](s *Cache) map[K]V {
	all, known := s.tables[table[K, V]{}].(map[K]V)
	if !known {
		if s.tables == nil {
			s.tables = map[any]any{}
		}
		all = map[K]V{}
		s.tables[table[K, V]{}] = all
	}
	return all
}

// mostKept bounds each kind of weather that is kept. A record that grew is
// another record, and the old one is not asked for again.
const mostKept = 256

// keep finds what was worked out, or works it out.
func keep[K comparable, V any](s *Cache, k K, work func() V) V {
	s.mu.Lock()
	defer s.mu.Unlock()
	all := tableOf[K, V](s)
	v, known := all[k]
	if known {
		return v
	}
	if len(all) >= mostKept {
		clear(all)
	}
	v = work()
	all[k] = v
	return v
}

// A kept value is good as long as what it was made from stays the same.
type kept[F comparable, V any] struct {
	from  F
	value V
}

// fresh finds what was worked out from the same, or works it out anew in place of
// the old.
func fresh[K, F comparable, V any](s *Cache, k K, from F, work func() V) V {
	return renew(s, k, from, func(kept[F, V]) V { return work() })
}

// renew is fresh for what can be made of the old.
func renew[K, F comparable, V any](s *Cache, k K, from F, work func(old kept[F, V]) V) V {
	s.mu.Lock()
	all := tableOf[K, kept[F, V]](s)
	old, known := all[k]
	s.mu.Unlock()
	if known && old.from == from {
		return old.value
	}
	v := work(old)
	s.mu.Lock()
	defer s.mu.Unlock()
	all[k] = kept[F, V]{from, v}
	return v
}

// A version changes whenever what a list of one book says up to a day does.
type version struct{ facts, rewritten int }

func versionOf(facts []diary.Fact, rewritten int, today civil.Date) version {
	return version{upTo(facts, today), rewritten}
}

// upTo is how many facts there are up to a day.
func upTo(facts []diary.Fact, today civil.Date) int {
	n := len(facts)
	for n > 0 && facts[n-1].Day.After(today) {
		n--
	}
	return n
}
