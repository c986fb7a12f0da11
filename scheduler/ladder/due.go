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

// A plan collects the notices of one moment.
type plan struct {
	Input
	today   civil.Date
	notices []Notice
	next    time.Time // the earliest moment that was seen to matter later
	people  []person
	fall    []diary.Fact // this fall's frosts; nil before they are looked up
}

// Plan is the whole list of what should be said by now, or at the next decent
// hour, and has not become untrue, whether or not it was said already; and the
// next moment at which that can change by itself: a rung, the turn of the day, a
// repeat, the end of a delay.
func Plan(in Input) (due []Notice, next time.Time) {
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
	return p.notices, p.next
}

// seen notes a moment at which something changes.
func (p *plan) seen(at time.Time) {
	if at.After(p.Now) && (p.next.IsZero() || at.Before(p.next)) {
		p.next = at
	}
}

// want adds a notice, unless its time has not come or is over. What is late and
// not urgent still waits for a decent hour, and is left out where it would no
// longer be true by then.
func (p *plan) want(n Notice) {
	p.seen(n.NotBefore)
	if n.NotBefore.After(p.Now) {
		return
	}
	p.seen(n.GoodUntil)
	if at := p.decent(p.contact(n.To), p.Now); !n.Urgent && at.After(p.Now) {
		n.NotBefore = at
		p.seen(at)
	}
	if !n.GoodUntil.IsZero() && !n.GoodUntil.After(latest(p.Now, n.NotBefore)) {
		return
	}
	n.Facts.About().Farm = p.Farm
	p.notices = append(p.notices, n)
}

// current reports whether now lies in a notice's time, before its facts are
// gathered.
func (p *plan) current(when span) bool {
	p.seen(when.from)
	return !when.from.After(p.Now) && when.until.After(p.Now)
}

// A span is from when a notice is due until when it is true.
type span struct {
	from, until time.Time
	urgent      bool
}

// mornings is a span from one morning of a person to another.
func (p *plan) mornings(c person, from, until civil.Date) span {
	return span{from: p.morning(c.Contact, from), until: p.morning(c.Contact, until)}
}

// tell wants a notice to a person by the way of its kind, else by the best.
func (p *plan) tell(c person, kind Kind, k Key, f Facts, when span) {
	row, m := kinds[kind], c.media[0]
	k.Contact = c.Name
	switch {
	case row.by != "":
		m = row.by
	case row.presses || when.urgent:
		m = p.pressing(c, k)
	}
	if k.Rung != "" || k.Of == ofAlarm { // the others are said by one way only
		k.Medium = m
	}
	p.want(Notice{Key: k, To: c.Name, Medium: m, Kind: kind, Facts: f, NotBefore: when.from, GoodUntil: when.until, Urgent: when.urgent})
}

// cutoffKey begins the key of what counts to a paddock's cutoff.
func cutoffKey(v *season.View, cause Cause, rung, repeat string) Key {
	return Key{Of: v.Paddock.ID, Day: v.Dates.Cutoff.String(), Cause: cause, Rung: rung, Repeat: repeat}
}

func latest(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
