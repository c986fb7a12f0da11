package ladder

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// Input is everything that decides what should be said at one moment.
type Input struct {
	Now      time.Time
	Zone     *time.Location
	Morning  TimeOfDay
	Farm     string
	Contacts []Contact
	Calls    bool // there is a carrier of calls
	Rungs    []Rung
	Views    []season.View // every paddock, as of today, in file order
	Book     *diary.Book
	Said     Said
	// OptedOut are the addresses that opted out or are known to be dead.
	OptedOut map[string]bool
	Moves    *season.Moves // where every herd has been
	// MoveTo gives the paddocks that can take the herd of one that shuts, best
	// first, as people say them; frost leaves out those whose plants a frost
	// can turn.
	MoveTo   func(paddock string, frost bool) []string
	Feed     func() *Feed        // where the herd eats this fall; nil where nothing can be said
	LastPass func() []Stop       // the last pass; nil where nothing can be said
	Nights   []diary.Observation // forecast minima of the nights to come
	Lesson   func(paddock string) *season.Lesson
	Alarms   []Trouble
	OptOuts  []OptOut // those of contacts in the file
	Health   *Health
	// BadFile is set where the farm file on disk is refused and an older one
	// is in force.
	BadFile *BadFile
}

// Trouble is something of the machine that fails.
type Trouble struct {
	What   string // a word of the alarm list
	Since  time.Time
	Medium Medium // the medium that fails and so cannot carry the news; empty for none
	Detail string
}

// OptOut is a contact who wants no more messages.
type OptOut struct {
	Contact string
	At      time.Time
}

// BadFile is a farm file that was refused.
type BadFile struct {
	Digest string
	Detail string
}

// Said is what has been said, or is on its way, and to whom; and what a carrier
// refused for good.
type Said struct {
	rows      []SaidRow
	byKey     map[Key]*SaidRow // these two point into rows
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
		rows:  make([]SaidRow, 0, len(rows)),
		byKey: make(map[Key]*SaidRow, len(rows)), byPaddock: map[string][]*SaidRow{},
		told: map[way]time.Time{}, refused: map[way]time.Time{},
	}
	for i := range rows {
		r := &rows[i]
		w := way{r.To, r.Medium}
		if r.Refused {
			s.refused[w] = latest(s.refused[w], r.At)
			continue
		}
		s.rows = append(s.rows, *r)
		r = &s.rows[len(s.rows)-1]
		s.told[w] = latest(s.told[w], r.At)
		if old, ok := s.byKey[r.Key]; !ok || r.At.After(old.At) {
			s.byKey[r.Key] = r
		}
		s.byPaddock[r.Paddock] = append(s.byPaddock[r.Paddock], r)
	}
	return s
}

// at is when a key was said.
func (s Said) at(key Key) (time.Time, bool) {
	if r, ok := s.byKey[key]; ok {
		return r.At, true
	}
	return time.Time{}, false
}

// dead reports whether the last that a contact was to be told by a medium since
// an instant was refused for good.
func (s Said) dead(to string, m Medium, since time.Time) bool {
	at, ok := s.refused[way{to, m}]
	return ok && !at.Before(since) && at.After(s.told[way{to, m}])
}

func latest(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
