package store

import (
	"cmp"
	"slices"
	"time"

	"stubbled/scheduler/ladder"
)

// toldCache keeps what each pass looks up of what was said, and no words or
// facts: a year of a large farm is ten thousand rows. Only those that changed are
// read anew. It knows what is committed and what the transaction at hand wrote; a
// rollback forgets all of it.
type toldCache struct {
	from  time.Time
	seq   int64 // all changes up to this one are known; 0: nothing is known
	rows  []toldRow
	at    map[int64]int // id -> place in rows
	index *ladder.Said  // of the rows since of; nil: they changed
	of    time.Time
}

type toldRow struct {
	id, changed int64
	said        []ladder.SaidRow // none where nobody was told
}

func (c *toldCache) forget() { *c = toldCache{} }

func (c *toldCache) put(s *SaidRow) {
	row := toldRow{id: s.ID, changed: s.Changed.Unix()}
	refused := s.State == Failed && s.Message != 0 // not one that only could not be worded
	if s.Told() || refused {
		row.said = ladder.SaidOf(&s.Notice, s.Changed, refused)
	}
	i, known := c.at[s.ID]
	if !known && row.said == nil {
		return
	}
	c.index = nil
	if known {
		c.rows[i] = row
		return
	}
	c.at[s.ID] = len(c.rows)
	c.rows = append(c.rows, row)
}

// since is the index of what changed since a moment, in the order planned.
func (c *toldCache) since(since time.Time) ladder.Said {
	if c.index != nil && c.of.Equal(since) {
		return *c.index
	}
	all := make([]toldRow, 0, len(c.rows))
	for _, r := range c.rows {
		if r.changed >= since.Unix() {
			all = append(all, r)
		}
	}
	byID := func(a, b toldRow) int { return cmp.Compare(a.id, b.id) }
	if !slices.IsSortedFunc(all, byID) { // an old row changed late
		slices.SortFunc(all, byID)
	}
	said := make([]ladder.SaidRow, 0, len(all))
	for _, r := range all {
		said = append(said, r.said...)
	}
	index := ladder.NewSaid(said)
	c.index, c.of = &index, since
	return index
}
