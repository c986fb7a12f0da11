package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/season"
)

// Said is what has been said, or is on its way, and to whom; and what a carrier
// refused for good.
type Said struct {
	byKey     map[Key]*SaidRow
	byContact map[string][]*SaidRow // in the order planned, and so are the others
	byPaddock map[string][]*SaidRow
	courses   []*SaidRow        // those that send herds anywhere
	told      map[way]time.Time // when a contact was last told something by a medium
	refused   map[way]time.Time // when a carrier last refused them for good
}

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
	Sends   *Course   // where it sends herds; nil where it sends none
	Waits   bool      // to be said once more, as long as it is wanted
}

// SaidOf is what a notice said: one row, and of the fall ahead one more for
// every paddock whose cutoff it told.
func SaidOf(n *Notice, at time.Time, refused bool) []*SaidRow {
	row := SaidRow{Key: n.Key, To: n.To, Medium: n.Medium, Kind: n.Kind, Paddock: n.About().Paddock, At: at, Refused: refused}
	if f := OnPaddock(n.Facts); f != nil {
		row.Cutoff = f.Cutoff
	}
	row.Sends = courseOf(n.Facts)
	first := row
	rows := []*SaidRow{&first}
	if f, ok := n.Facts.(*FarmFacts); ok && n.Kind == FallAhead && !refused {
		first.Cutoff = f.Cutoff
		for _, shut := range f.Shuts {
			more := row
			more.Paddock, more.Cutoff, more.Sends = shut.Paddock, shut.Cutoff, nil
			rows = append(rows, &more)
		}
	}
	return rows
}

// NewSaid indexes what was said.
func NewSaid(rows []*SaidRow) *Said {
	s := &Said{byKey: make(map[Key]*SaidRow, len(rows)), byContact: map[string][]*SaidRow{}, byPaddock: map[string][]*SaidRow{}, told: map[way]time.Time{}, refused: map[way]time.Time{}}
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
	s.byContact[r.To] = inOrder(s.byContact[r.To], r)
	s.byPaddock[r.Paddock] = inOrder(s.byPaddock[r.Paddock], r)
	if r.Sends != nil {
		s.courses = inOrder(s.courses, r)
	}
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

// told reports whether a contact was told of a kind, in a row that is as asked.
func told(rows []*SaidRow, to string, kind Kind, is func(*SaidRow) bool) bool {
	return slices.ContainsFunc(rows, func(r *SaidRow) bool { return r.To == to && r.Kind == kind && is(r) })
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

// A Course is where a notice sends herds, in the order that it says.
type Course struct {
	Legs    []Leg
	Changed []season.Change
}

// A Leg is one herd's way to one ground.
type Leg struct {
	Herd, Ground string     // the herd's id, the ground as people say it
	Out          civil.Date // to be out by; zero where it is not said
}

// courseOf is where facts send herds; nil where they send none.
func courseOf(f Facts) *Course {
	c := &Course{}
	if on := OnPaddock(f); on != nil {
		c.add(on.Sends)
	}
	switch f := f.(type) {
	case *RungFacts:
		c.Legs = append(c.Legs, LegsOf(f.Pass)...)
	case *AskedFacts:
		c.Legs, c.Changed = append(c.Legs, LegsOf(f.Pass)...), append(c.Changed, f.Changed...)
	case *FarmFacts:
		c.Legs, c.Changed = append(c.Legs, LegsOf(f.Pass)...), append(c.Changed, f.Changed...)
		for i := range f.Shuts {
			c.add(f.Shuts[i].Sends)
		}
	}
	if answer, ok := f.(Answer); ok {
		for _, also := range answer.Reply().And {
			if more := courseOf(also.Facts); more != nil {
				c.Legs, c.Changed = append(c.Legs, more.Legs...), append(c.Changed, more.Changed...)
			}
		}
	}
	if len(c.Legs) == 0 {
		return nil
	}
	return c
}

// add adds the best ground that a paddock's herds can go to.
func (c *Course) add(s Sends) {
	for _, h := range s.Herds {
		if len(s.MoveTo) > 0 {
			c.Legs = append(c.Legs, Leg{Herd: h, Ground: s.MoveTo[0]})
		}
	}
	c.Changed = append(c.Changed, s.Changed...)
}

// LegsOf are the ways of the herds that stops send.
func LegsOf(stops []Stop) (legs []Leg) {
	for _, s := range stops {
		for _, h := range s.Herds {
			if s.Unproved {
				continue // nobody is sent there yet
			}
			legs = append(legs, Leg{h, s.Name, s.Out})
		}
	}
	return legs
}

// Stands is how long what was said of a herd's way holds.
const Stands = 7 * 24 * time.Hour

// SentTo is the ground that a herd was told within a week to go to and has not been
// on, and when it was told; been reports whether it was there since an instant.
func (s *Said) SentTo(herd string, now time.Time, today civil.Date, been func(ground string, since time.Time) bool) (ground string, at time.Time, ok bool) {
	if s == nil {
		return "", time.Time{}, false
	}
	for _, r := range slices.Backward(s.courses) {
		if now.Sub(r.At) >= Stands {
			continue
		}
		for _, leg := range r.Sends.Legs {
			past := !leg.Out.IsZero() && !leg.Out.After(today)
			if leg.Herd == herd && !past && !been(leg.Ground, r.At) {
				return leg.Ground, r.At, true
			}
		}
		if slices.ContainsFunc(r.Sends.Changed, func(c season.Change) bool { return slices.Contains(c.Herds, herd) }) {
			break
		}
	}
	return "", time.Time{}, false
}
