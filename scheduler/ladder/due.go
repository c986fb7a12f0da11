package ladder

import (
	"strconv"
	"strings"
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
	Rungs    []Rung
	Views    []season.View // every paddock, as of today, in file order
	Book     *diary.Book
	Said     Said
	// Shunned are the addresses that opted out or are known to be dead.
	Shunned map[string]bool
	// MoveTo gives the paddocks that can take the herd of one that shuts, best
	// first, as people say them.
	MoveTo  func(paddock string) []string
	Feed    func() *Feed        // where the herd eats this fall; nil where nothing can be said
	Nights  []diary.Observation // forecast minima of the nights to come
	Lesson  func(paddock string) *season.Lesson
	Alarms  []Trouble
	OptOuts []OptOut // those of contacts in the file
	Health  *Health
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

// Said is what has been said, or is on its way, and to whom.
type Said struct {
	rows      []SaidRow
	byKey     map[string]SaidRow
	byPaddock map[string][]SaidRow
}

// A SaidRow is one notice that was claimed.
type SaidRow struct {
	Key     string
	To      string
	Medium  Medium
	Kind    Kind
	Paddock string
	Cutoff  civil.Date
	At      time.Time // when it was claimed
}

// NewSaid indexes what was said.
func NewSaid(rows []SaidRow) Said {
	s := Said{rows: rows, byKey: make(map[string]SaidRow, len(rows)), byPaddock: map[string][]SaidRow{}}
	for _, r := range rows {
		s.byKey[r.Key] = r
		s.byPaddock[r.Paddock] = append(s.byPaddock[r.Paddock], r)
	}
	return s
}

// At is when a key was said.
func (s Said) At(key string) (time.Time, bool) {
	r, ok := s.byKey[key]
	return r.At, ok
}

// feed is where the herd eats; nil where nothing can be said.
func (p *plan) feed() *Feed {
	if p.Feed == nil {
		return nil
	}
	return p.Feed()
}

// A plan collects the notices of one moment.
type plan struct {
	Input
	today   civil.Date
	notices []Notice
	next    time.Time // the earliest moment that was seen to matter later
	people  []person
}

// A person is a contact and how they can be reached today.
type person struct {
	Contact
	media []Medium // best first; empty where they cannot be reached
}

// Due is the whole list of what should be said by now, or at the next decent
// hour, and has not become untrue, whether or not it was said already.
func Due(in Input) []Notice { return compute(in).notices }

// Next is the next moment after now at which Due can change by itself: a rung,
// the turn of the day, a repeat, the end of a delay.
func Next(in Input) time.Time { return compute(in).next }

func compute(in Input) *plan {
	p := &plan{Input: in, today: civil.DateOf(in.Now.In(in.Zone))}
	for _, c := range in.Contacts {
		p.people = append(p.people, person{c, p.reach(c)})
	}
	p.seen(Instant(p.today.AddDays(1), 0, in.Zone))
	for _, c := range in.Contacts {
		p.seen(p.morning(c, p.today))
		p.seen(p.morning(c, p.today.AddDays(1)))
	}
	for i := range in.Views {
		p.paddock(&in.Views[i])
	}
	p.fallAhead()
	p.cold()
	p.farm()
	return p
}

// seen notes a moment at which something changes.
func (p *plan) seen(at time.Time) {
	if at.After(p.Now) && (p.next.IsZero() || at.Before(p.next)) {
		p.next = at
	}
}

// reach lists the media by which a contact can be told, best first.
func (p *plan) reach(c Contact) []Medium {
	var media []Medium
	for _, m := range []Medium{Text, Mail} {
		if a := c.Address(m); a != "" && !p.Shunned[a] {
			media = append(media, m)
		}
	}
	return media
}

// morning is when the day's notices reach a contact: the farm's morning, or
// the end of their quiet hours where that is later.
func (p *plan) morning(c Contact, day civil.Date) time.Time {
	return c.AfterQuiet(Instant(day, p.Morning, p.Zone), p.Zone)
}

// decent is when news of an instant may reach a contact who need not be woken
// for it: not before the farm's morning, and outside their quiet hours.
func (p *plan) decent(c Contact, at time.Time) time.Time {
	local := at.In(p.Zone)
	if morning := Instant(civil.DateOf(local), p.Morning, p.Zone); at.Before(morning) {
		at = morning
	}
	return c.AfterQuiet(at, p.Zone)
}

// want adds a notice, unless its time has not come or is over. What is late and
// not urgent still waits for a decent hour.
func (p *plan) want(n Notice) {
	p.seen(n.NotBefore)
	if n.NotBefore.After(p.Now) || !n.GoodUntil.IsZero() && !n.GoodUntil.After(p.Now) {
		return
	}
	p.seen(n.GoodUntil)
	if at := p.decent(p.contact(n.To), p.Now); !n.Urgent && at.After(p.Now) {
		n.NotBefore = at
		p.seen(at)
	}
	n.Facts.Farm = p.Farm
	p.notices = append(p.notices, n)
}

func (p *plan) contact(name string) Contact {
	for _, c := range p.people {
		if c.Name == name {
			return c.Contact
		}
	}
	return Contact{}
}

// current reports whether now lies in a notice's time, before its facts are
// gathered.
func (p *plan) current(from, until time.Time) bool {
	p.seen(from)
	return !from.After(p.Now) && until.After(p.Now)
}

// key joins the parts that make a notice what it is. Parts never hold a slash:
// ids and names are checked by the farm file.
func key(parts ...string) string { return strings.Join(parts, "/") }

func num(n int64) string { return strconv.FormatInt(n, 10) }

// withRole lists the people of some roles in file order. Where nobody has any
// of them the first contact of the file stands in: somebody must hear it.
func (p *plan) withRole(roles ...string) []person {
	var out []person
	for _, q := range p.people {
		if (Rung{Tell: roles}).tells(q.Contact) {
			out = append(out, q)
		}
	}
	if len(out) == 0 && len(p.people) > 0 {
		out = p.people[:1]
	}
	return out
}
