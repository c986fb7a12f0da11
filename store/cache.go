package store

import (
	"maps"
	"slices"
	"time"

	"stubbled/scheduler/ladder"
)

// toldCache keeps what each pass looks up of what was said, and no words or
// facts: a year of a large farm is ten thousand rows. Only those that changed are
// read anew, and the index goes on with them. It knows what is committed and what
// the transaction at hand wrote; a rollback forgets all of it.
type toldCache struct {
	from    time.Time
	seq     int64 // all changes up to this one are known; 0: nothing is known
	rows    map[int64]toldRow
	index   *ladder.Said // of the rows since of; nil: it is made anew
	of      time.Time
	touched map[string]bool // the paddocks of rows that changed
	worded  map[int64]wordedRow
}

// A wordedRow is a row that was read to be worded: what it says is not read again when
// it is known to be said, as long as it says the same.
type wordedRow struct {
	kept  string
	facts ladder.Facts
}

// mostWorded is how many are kept at most: they wait for the next pass.
const mostWorded = 200

// reads gives a row its facts.
func (c *toldCache) reads(s *SaidRow, facts string) error {
	w, ok := c.worded[s.ID]
	if s.State != Sending {
		delete(c.worded, s.ID)
	}
	if ok && w.kept == facts {
		s.Notice.Facts = w.facts
		return nil
	}
	return s.decode(facts)
}

type toldRow struct {
	changed int64
	ever    bool              // who was told who is writing was told for good
	said    []*ladder.SaidRow // none where nobody was told
}

func (r toldRow) since(at time.Time) bool { return r.ever || r.changed >= at.Unix() }

func (c *toldCache) forget() { *c = toldCache{} }

func (c *toldCache) put(s *SaidRow) {
	row, old := toldRow{changed: s.Changed.Unix(), ever: s.Notice.Kind == ladder.Enrolment}, c.rows[s.ID]
	if s.counts() {
		row.said = ladder.SaidOf(&s.Notice, s.Changed, s.refused())
	}
	if old.said == nil && row.said == nil {
		return
	}
	for _, r := range row.said {
		r.ID, r.Waits = s.ID, s.State == Queued || s.State == Withdrawn || s.State == Expired
	}
	for _, r := range slices.Concat(old.said, row.said) {
		c.touched[r.Paddock] = true
	}
	in := func(r toldRow) bool { return r.said != nil && r.since(c.of) }
	switch {
	case c.index == nil:
	case !in(old) && in(row):
		for _, r := range row.said {
			c.index.Add(r)
		}
	case in(old) && in(row) && slices.EqualFunc(old.said, row.said, saidLater):
		for i, r := range old.said {
			c.index.Again(r, row.said[i].At, row.said[i].Waits)
		}
		row.said = old.said
	default:
		c.index = nil
	}
	c.rows[s.ID] = row
}

// saidLater reports whether a row is another one, said again.
func saidLater(old, now *ladder.SaidRow) bool {
	was := *old
	was.At, was.Waits, was.Sends = now.At, now.Waits, now.Sends
	return was == *now && !now.Refused && !now.At.Before(old.At)
}

// since is the index of what changed since a moment.
func (c *toldCache) since(since time.Time) *ladder.Said {
	if c.index != nil && c.of.Equal(since) {
		return c.index
	}
	var said []*ladder.SaidRow
	for _, id := range slices.Sorted(maps.Keys(c.rows)) {
		if r := c.rows[id]; r.since(since) {
			said = append(said, r.said...)
		}
	}
	c.index, c.of = ladder.NewSaid(said), since
	return c.index
}
