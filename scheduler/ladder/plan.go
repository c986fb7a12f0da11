package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/quiet"
	"stubbled/scheduler/season"
)

// A Memo keeps what was to be said of each paddock, so that only those are planned
// anew that something touched, or whose moment has come. It never changes a plan.
// Another farm file, other facts of the whole farm, or another day's weather takes
// another memo.
type Memo struct {
	parts []part
	ways  []person  // how each could be reached
	fails []Trouble // by which media nobody can be told
	from  time.Time
	until time.Time // the first moment at which all are planned anew
}

// A part is what is to be said of one paddock, and until when that stays so; zero
// as long as nothing touches it.
type part struct {
	notices []Notice
	next    time.Time
	wide    bool // it rests on what is so of other paddocks
}

// Plan is the whole list of what should be said by now, or at the next decent
// hour, has not become untrue and was not said already; and the next moment at
// which that can change by itself: a rung, the turn of the day, a repeat, the end
// of a delay. Since the last one nothing but some paddocks was touched, by their place
// among the views: by a fact, by a herd that came or went, by what was said of them.
func (m *Memo) Plan(in Input, touched []int) (due []Notice, next time.Time) {
	p := &plan{Input: in, today: civil.DateOf(in.Now.In(in.Zone))}
	p.LastPass = func() []Stop { p.wide = true; return in.LastPass() }
	p.MoveTo = func(paddock string, frost bool) Sends { p.wide = true; return in.MoveTo(paddock, frost) }
	for _, c := range in.Contacts {
		p.people = append(p.people, person{c, p.reach(c)})
	}
	p.seen(Instant(p.today.AddDays(1), 0, in.Zone))
	for _, c := range in.Contacts {
		p.seen(p.morning(c, p.today))
		p.seen(p.morning(c, p.today.AddDays(1)))
	}
	m.paddocks(p, touched)
	p.emergencies()
	p.drought()
	p.fallAhead()
	p.cold()
	p.frostAsk()
	p.disputed()
	p.enrol()
	p.lessons()
	p.scorecard()
	p.troubles()
	p.optOuts()
	p.takenBack()
	p.mondays() // last: a sign of life is needed only where nothing else is said
	p.giveWay()
	return p.notices, p.next
}

// paddocks plans those that must be, and adds what is to be said of all.
func (m *Memo) paddocks(p *plan, touched []int) {
	whole, notices := p.next, []Notice(nil)
	all := m.outdated(p)
	if all {
		*m = Memo{parts: make([]part, len(p.Views)), ways: p.ways(), fails: p.Alarms, until: whole}
	}
	m.from = p.Now
	for _, i := range touched {
		m.parts[i].wide = true
	}
	for i := range m.parts {
		of := &m.parts[i]
		if all || of.wide || !of.next.IsZero() && !of.next.After(p.Now) {
			p.next, p.notices, p.wide = time.Time{}, nil, false
			p.paddock(&p.Views[i])
			*of = part{p.notices, p.next, p.wide}
		}
		if !of.next.IsZero() && of.next.Before(whole) {
			whole = of.next
		}
		notices = append(notices, of.notices...)
	}
	p.next, p.notices = whole, notices
}

// outdated reports whether what was kept is none of this plan's.
func (m *Memo) outdated(p *plan) bool {
	return len(m.parts) != len(p.Views) || p.Now.Before(m.from) || !p.Now.Before(m.until) ||
		!slices.Equal(m.fails, p.Alarms) || !slices.EqualFunc(m.ways, p.ways(), func(a, b person) bool { return slices.Equal(a.media, b.media) })
}

// ways are how each contact can be reached, by call too.
func (p *plan) ways() []person {
	all := make([]person, len(p.people))
	for i, c := range p.people {
		all[i] = p.called(c)
	}
	return all
}

// paddock adds what is to be said of one paddock.
func (p *plan) paddock(v *season.View) {
	if !v.Dates.Cutoff.IsZero() {
		switch {
		case v.Phase == season.Dormant:
		case v.FallUse:
			p.fallUse(v)
		case v.Phase == season.Open && p.today.DaysSince(v.Dates.Cutoff) < 0:
			p.before(v)
		default:
			p.after(v)
		}
		p.askHeights(v)
		p.cutoffMoved(v)
	}
	p.hold(v)
	p.spring(v)
	p.beforeFrost(v)
	p.ending(v)
}

// giveWay leaves of the texts of a quiet week one for each contact; the others are
// wanted again in the next, as long as they are true.
func (p *plan) giveWay() {
	if !quiet.Holds(p.today) {
		return
	}
	monday := Instant(quiet.Monday(p.today), 0, p.Zone)
	for _, c := range p.people {
		texts := p.coming[c.Name]
		for i := range p.notices {
			if n := &p.notices[i]; n.To == c.Name && n.Medium == Text && !p.began(n) {
				texts = append(texts, quiet.Text{Kind: string(n.Kind), Rank: rank(n.Kind, n.Key), Due: n.NotBefore})
			}
		}
		had := slices.ContainsFunc(p.Said.byContact[c.Name], func(r *SaidRow) bool {
			return r.Medium == Text && !r.At.Before(monday) && rank(r.Kind, r.Key) != quiet.Free
		})
		one, some := quiet.One(texts, had)
		p.notices = slices.DeleteFunc(p.notices, func(n Notice) bool {
			mine := n.To == c.Name && n.Medium == Text && rank(n.Kind, n.Key) != quiet.Free && !p.began(&n)
			return mine && !(some && n.Kind == Kind(one.Kind))
		})
	}
}

// began reports whether a notice was said and goes out once more.
func (p *plan) began(n *Notice) bool {
	_, said := p.Said.at(n.Key)
	return said
}

// rank is who goes first in a quiet week.
func rank(k Kind, key Key) quiet.Rank {
	if k == SignOfLife {
		if day, err := civil.ParseDate(key.Day); err == nil && quiet.First(day) {
			return quiet.Free
		}
	}
	return kinds[k].quiet
}

// comes keeps the week for a text that is to come in it: what would go before it waits,
// and a sign of life until it was not said after all.
func (p *plan) comes(c person, kind Kind, at time.Time) {
	day := civil.DateOf(at.In(p.Zone))
	if len(c.media) == 0 || c.media[0] != Text || !quiet.Holds(day) || quiet.Monday(day) != quiet.Monday(p.today) {
		return
	}
	if p.coming == nil {
		p.coming, p.kept = map[string][]quiet.Text{}, map[string]bool{}
	}
	p.kept[c.Name] = true
	if at.After(p.Now) {
		p.coming[c.Name] = append(p.coming[c.Name], quiet.Text{Kind: string(kind), Rank: kinds[kind].quiet, Due: at})
	}
}
