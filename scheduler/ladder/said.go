package ladder

import (
	"time"

	"github.com/golang-sql/civil"
)

// Said is what has been said, or is on its way, and to whom; and what a carrier
// refused for good.
type Said struct {
	rows      []SaidRow
	byKey     map[Key]SaidRow
	byPaddock map[string][]SaidRow
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
	Key     Key
	To      string
	Medium  Medium
	Kind    Kind
	Paddock string
	Cutoff  civil.Date
	At      time.Time // when it was claimed
	Refused bool      // by the carrier, for good: nobody was told
}

// SaidOf is what a notice said: one row, and of the fall ahead one more for
// every paddock whose cutoff it told.
func SaidOf(n *Notice, at time.Time, refused bool) []SaidRow {
	row := SaidRow{Key: n.Key, To: n.To, Medium: n.Medium, Kind: n.Kind, Paddock: n.About().Paddock, At: at, Refused: refused}
	if f := OnPaddock(n.Facts); f != nil {
		row.Cutoff = f.Cutoff
	}
	rows := []SaidRow{row}
	if f, ok := n.Facts.(*FarmFacts); ok && n.Kind == FallAhead && !refused {
		rows[0].Cutoff = f.Cutoff
		for _, shut := range f.Shuts {
			row.Paddock, row.Cutoff = shut.Paddock, shut.Cutoff
			rows = append(rows, row)
		}
	}
	return rows
}

// NewSaid indexes what was said.
func NewSaid(rows []SaidRow) Said {
	s := Said{
		byKey: make(map[Key]SaidRow, len(rows)), byPaddock: map[string][]SaidRow{},
		told: map[way]time.Time{}, refused: map[way]time.Time{},
	}
	for _, r := range rows {
		w := way{r.To, r.Medium}
		if r.Refused {
			s.refused[w] = latest(s.refused[w], r.At)
			continue
		}
		s.told[w] = latest(s.told[w], r.At)
		s.rows = append(s.rows, r)
		if old, ok := s.byKey[r.Key]; !ok || r.At.After(old.At) {
			s.byKey[r.Key] = r
		}
		s.byPaddock[r.Paddock] = append(s.byPaddock[r.Paddock], r)
	}
	return s
}

// at is when a key was said.
func (s Said) at(key Key) (time.Time, bool) {
	r, ok := s.byKey[key]
	return r.At, ok
}

// dead reports whether the last that a contact was to be told by a medium since
// an instant was refused for good.
func (s Said) dead(to string, m Medium, since time.Time) bool {
	at, ok := s.refused[way{to, m}]
	return ok && !at.Before(since) && at.After(s.told[way{to, m}])
}
