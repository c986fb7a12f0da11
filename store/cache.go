package store

import (
	"cmp"
	"slices"
	"time"
)

// saidCache keeps the rows that each pass reads again; only those that changed
// are read and decoded anew. It knows what is committed and what the
// transaction at hand wrote; a rollback forgets all of it.
type saidCache struct {
	from time.Time
	seq  int64 // all changes up to this one are known; 0: nothing is known
	rows []*SaidRow
	at   map[int64]int // id -> place in rows
}

func (c *saidCache) forget() { *c = saidCache{} }

// put replaces rather than overwrites: a row that was handed out stays as it
// was.
func (c *saidCache) put(s *SaidRow) {
	if i, ok := c.at[s.ID]; ok {
		c.rows[i] = s
		return
	}
	c.at[s.ID] = len(c.rows)
	c.rows = append(c.rows, s)
}

func (c *saidCache) list(since time.Time) []*SaidRow {
	all := make([]*SaidRow, 0, len(c.rows))
	for _, s := range c.rows {
		if s.Changed.Unix() >= since.Unix() {
			all = append(all, s)
		}
	}
	byID := func(a, b *SaidRow) int { return cmp.Compare(a.ID, b.ID) }
	if !slices.IsSortedFunc(all, byID) { // an old row changed late
		slices.SortFunc(all, byID)
	}
	return all
}
