package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"
)

// Said is what has been said, or is on its way, and to whom; and what a carrier
// refused for good.
type Said struct {
	rows      []*SaidRow // in the order planned
	byKey     map[Key]*SaidRow
	byPaddock map[string][]*SaidRow
	told      map[way]time.Time // when a contact was last told something by a medium
	refused   map[way]time.Time // when a carrier last refused them for good
}

// A way is a medium to a contact.
type way struct {
	to     string
	medium Medium
}

// A SaidRow is one notice that was claimed.
type SaidRow struct {
	ID      int64 // rises in the order planned
	Key     Key
	To      string
	Medium  Medium
	Kind    Kind
	Paddock string
	Cutoff  civil.Date
	At      time.Time // when it was claimed
	Refused bool      // by the carrier, for good: nobody was told
	Waits   bool      // to be said once more, as long as it is wanted
}

// SaidOf is what a notice said: one row, and of the fall ahead one more for
// every paddock whose cutoff it told.
func SaidOf(n *Notice, at time.Time, refused bool) []*SaidRow {
	row := SaidRow{Key: n.Key, To: n.To, Medium: n.Medium, Kind: n.Kind, Paddock: n.About().Paddock, At: at, Refused: refused}
	if f := OnPaddock(n.Facts); f != nil {
		row.Cutoff = f.Cutoff
	}
	first := row
	rows := []*SaidRow{&first}
	if f, ok := n.Facts.(*FarmFacts); ok && n.Kind == FallAhead && !refused {
		first.Cutoff = f.Cutoff
		for _, shut := range f.Shuts {
			more := row
			more.Paddock, more.Cutoff = shut.Paddock, shut.Cutoff
			rows = append(rows, &more)
		}
	}
	return rows
}

// NewSaid indexes what was said.
func NewSaid(rows []*SaidRow) *Said {
	s := &Said{byKey: make(map[Key]*SaidRow, len(rows)), byPaddock: map[string][]*SaidRow{}, told: map[way]time.Time{}, refused: map[way]time.Time{}}
	for _, r := range rows {
		s.Add(r)
	}
	return s
}

// Add takes one more row, wherever in the order it was planned.
func (s *Said) Add(r *SaidRow) {
	w := way{r.To, r.Medium}
	if r.Refused {
		s.refused[w] = latest(s.refused[w], r.At)
		return
	}
	s.rows = inOrder(s.rows, r)
	s.byPaddock[r.Paddock] = inOrder(s.byPaddock[r.Paddock], r)
	s.note(r)
}

// Again says that a row was said at a later moment than it says itself.
func (s *Said) Again(r *SaidRow, at time.Time, waits bool) {
	r.At, r.Waits = at, waits
	s.note(r)
}

func (s *Said) note(r *SaidRow) {
	w := way{r.To, r.Medium}
	s.told[w] = latest(s.told[w], r.At)
	if old, ok := s.byKey[r.Key]; !ok || r.At.After(old.At) {
		s.byKey[r.Key] = r
	}
}

func inOrder(rows []*SaidRow, r *SaidRow) []*SaidRow {
	i := len(rows)
	for i > 0 && rows[i-1].ID > r.ID {
		i--
	}
	return slices.Insert(rows, i, r)
}

// at is when a key was said.
func (s *Said) at(key Key) (time.Time, bool) {
	if s == nil || s.byKey[key] == nil {
		return time.Time{}, false
	}
	return s.byKey[key].At, true
}

// done reports whether a key was said and nothing of it waits.
func (s *Said) done(key Key) bool { return s != nil && s.byKey[key] != nil && !s.byKey[key].Waits }

// dead reports whether the last that a contact was to be told by a medium since
// an instant was refused for good.
func (s *Said) dead(to string, m Medium, since time.Time) bool {
	if s == nil {
		return false
	}
	at, ok := s.refused[way{to, m}]
	return ok && !at.Before(since) && at.After(s.told[way{to, m}])
}

func latest(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
