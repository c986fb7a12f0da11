package ladder

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/season"
)

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
	p.emergencies()
	p.fallAhead()
	p.cold()
	p.frostAsk()
	p.disputed()
	p.farm()
	return p.notices, p.next
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
	p.beforeFrost(v)
	p.ending(v)
}

// farm adds what is said of the farm and the machine as a whole.
func (p *plan) farm() {
	p.enrol()
	p.lessons()
	p.troubles()
	p.optOuts()
	p.takenBack()
	p.mondays() // last: a sign of life is needed only where nothing else is said
}
