package season

import "sync"

// A Cache keeps what takes long to work out and seldom changes, so that a pass
// each minute need neither read thirty years of weather nor learn from every
// finished season again. It never changes an answer. It is safe for use by many
// at once; a farm that is looked at with it must not be changed, only replaced.
type Cache struct {
	mu     sync.Mutex
	tables map[any]any // a map[K]V by the table[K, V] that stands for it
	under  *Cache      // what this one begins with; nil for most
}

// Beside is a cache for what is only supposed: it begins with all that this one knows
// and leaves nothing in it of a farm's own past.
func (s *Cache) Beside() *Cache { return &Cache{under: s} }

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
	for s.under != nil {
		s = s.under // weather is the same whatever is supposed
	}
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
	old, known := find[K, kept[F, V]](s, k)
	if known && old.from == from {
		return old.value
	}
	v := work(old)
	s.mu.Lock()
	defer s.mu.Unlock()
	tableOf[K, kept[F, V]](s)[k] = kept[F, V]{from, v}
	return v
}

// forget lets go of what was worked out of a key.
func forget[K, F comparable, V any](s *Cache, k K) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(tableOf[K, kept[F, V]](s), k)
}

// find is what is kept, here or in what this one begins with.
func find[K comparable, V any](s *Cache, k K) (v V, known bool) {
	for ; s != nil && !known; s = s.under {
		s.mu.Lock()
		v, known = tableOf[K, V](s)[k]
		s.mu.Unlock()
	}
	return v, known
}
