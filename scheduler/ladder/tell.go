package ladder

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/quiet"
	"stubbled/scheduler/season"
)

// A plan collects the notices of one moment.
type plan struct {
	Input
	today   civil.Date
	notices []Notice
	next    time.Time // the earliest moment that was seen to matter later
	people  []person
	fall    []diary.Fact            // this fall's frosts; nil before they are looked up
	wide    bool                    // other paddocks were asked about
	byRung  map[int]map[string]bool // whom each rung tells, by its days before the cutoff
	coming  map[string][]quiet.Text // to each contact, later this week
	kept    map[string]bool         // for whom this week was, or is, kept for a text
}

func (p *plan) seen(at time.Time) {
	if at.After(p.Now) && (p.next.IsZero() || at.Before(p.next)) {
		p.next = at
	}
}

// want adds a notice, unless it was said, or its time has not come or is over. What is late and
// not urgent still waits for a decent hour, and is left out where it would no
// longer be true by then.
func (p *plan) want(n Notice) {
	if p.wanted(&n) {
		p.add(n)
	}
}

// wanted reports whether want adds a notice, and gives it its hour.
func (p *plan) wanted(n *Notice) bool {
	p.seen(n.NotBefore)
	if n.NotBefore.After(p.Now) {
		return false
	}
	p.seen(n.GoodUntil)
	if p.Said.done(n.Key) || !n.GoodUntil.IsZero() && !n.GoodUntil.After(p.Now) {
		return false
	}
	to := p.contact(n.To)
	if at := p.decent(to, p.Now); !n.Urgent && at.After(p.Now) {
		n.NotBefore = at
		p.seen(at)
	} else if !n.Urgent {
		p.seen(to.quietFrom(p.Now, p.Zone)) // what waits until then waits for their morning
	}
	return n.GoodUntil.IsZero() || n.GoodUntil.After(latest(p.Now, n.NotBefore))
}

func (p *plan) add(n Notice) {
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

// way is how a person is told of a kind, by its way else by the best, and the key
// of that.
func (p *plan) way(c person, kind Kind, k Key, when span) (Key, Medium) {
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
	return k, m
}

// open reports whether a notice is still to be told now, before its facts are
// gathered.
func (p *plan) open(c person, kind Kind, k Key, when span) bool {
	if !p.current(when) {
		return false
	}
	p.seen(when.until)
	k, _ = p.way(c, kind, k, when)
	return !p.Said.done(k)
}

// tell wants a notice to a person.
func (p *plan) tell(c person, kind Kind, k Key, f Facts, when span) {
	k, m := p.way(c, kind, k, when)
	p.want(Notice{Key: k, To: c.Name, Medium: m, Kind: kind, Facts: f, NotBefore: when.from, GoodUntil: when.until, Urgent: when.urgent})
}

// cutoffKey begins the key of what counts to a paddock's cutoff.
func cutoffKey(v *season.View, cause Cause, rung, repeat string) Key {
	return Key{Of: v.Paddock.ID, Day: v.Dates.Cutoff.String(), Cause: cause, Rung: rung, Repeat: repeat}
}
