package ladder

import (
	"slices"
	"strconv"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// after is the ladder from the cutoff on: that day's rung, then the mornings
// on which a grazed paddock's rest runs out, each with one more contact.
func (p *plan) after(v *season.View) {
	if v.Herds.Occupancy == season.Empty {
		if p.today == v.Dates.Cutoff {
			p.before(v)
		}
		return
	}
	start := p.restStart(v)
	if start == v.Dates.Cutoff && p.Now.Before(p.firstMorning(start.AddDays(1))) {
		p.before(v)
	}
	first := p.ofRole(p.cutoffRoles()...)
	others := slices.DeleteFunc(slices.Clone(p.people), func(q person) bool { return has(first, q.Name) })
	p.shiftOnLater(v, first, others)
	p.seen(p.firstMorning(start.AddDays(1)))
	for _, c := range p.people {
		day, n := p.lastMorning(c.Contact, start, p.Now)
		if n < 1 || len(c.media) == 0 {
			continue
		}
		if told, missing := reachable(first, others, n); has(told, c.Name) {
			p.overdue(v, c, day, missing)
		}
	}
}

// restStart is the day that the mornings are counted from: the cutoff, or the
// day that animals were put back in during rest, when they begin anew.
func (p *plan) restStart(v *season.View) civil.Date {
	if day := p.opened(v).Day; day.After(v.Dates.Cutoff) {
		return day
	}
	return v.Dates.Cutoff
}

// lastMorning is the latest morning of an overdue paddock that has come for a
// contact by a moment, and the how-manieth it is.
func (p *plan) lastMorning(c Contact, start civil.Date, by time.Time) (civil.Date, int) {
	day := civil.DateOf(by.In(p.Zone))
	if p.morning(c, day).After(by) {
		day = day.AddDays(-1)
	}
	return stillGrazed.last(start.AddDays(1), day)
}

func (p *plan) overdue(v *season.View, c person, day civil.Date, missing []string) {
	start := p.restStart(v)
	f := OverdueFacts{RestDay: day.DaysSince(v.Dates.Cutoff), BackIn: start.After(v.Dates.Cutoff), Missing: missing}
	when, repeat := p.mornings(c, day, stillGrazed.after(start.AddDays(1), day)), "0"
	if later, tag, ok := p.putOff(v, c.Contact, when.from); ok && later.After(when.from) {
		when.from, repeat = later, tag
	}
	k := cutoffKey(v, p.cause(v), "day"+strconv.Itoa(f.RestDay), repeat)
	if !p.open(c, Overdue, k, when) {
		return // where to go takes a plan
	}
	f.PaddockFacts = p.facts(v)
	f.Day = day
	f.Sends = p.moveTo(v)
	f.WasCutoff = p.wasCutoff(v, c.Name)
	p.tell(c, Overdue, k, &f, when)
}

// reachable is who is told on morning n: everybody of the cutoff rung and n
// more in file order. Who can't be reached is skipped the same day and named
// to the rest.
func reachable(first, others []person, n int) (told []person, missing []string) {
	for _, c := range first {
		if len(c.media) == 0 {
			missing = append(missing, c.Name)
			n++ // somebody must stand in
			continue
		}
		told = append(told, c)
	}
	for _, c := range others {
		if n == 0 {
			break
		}
		if len(c.media) == 0 {
			missing = append(missing, c.Name)
			continue
		}
		told = append(told, c)
		n--
	}
	return told, missing
}

// A rhythm is on which days something is said as long as it stays so: so many days in a
// row after the first, then on some days of the week.
type rhythm struct {
	daily int
	then  []time.Weekday
}

// stillGrazed is that of a paddock that is grazed after its cutoff: seven mornings.
var stillGrazed = rhythm{6, twiceAWeek}

var twiceAWeek = []time.Weekday{time.Monday, time.Thursday}

func (r rhythm) falls(first, day civil.Date) bool {
	return day.DaysSince(first) <= r.daily || slices.Contains(r.then, day.In(time.UTC).Weekday())
}

// last is the last of the days up to today, and the how-manieth it is; zero before the
// first.
func (r rhythm) last(first, today civil.Date) (day civil.Date, n int) {
	for d := first; !d.After(today); d = d.AddDays(1) {
		if r.falls(first, d) {
			day, n = d, n+1
		}
	}
	return day, n
}

// after is the first of the days after one.
func (r rhythm) after(first, day civil.Date) civil.Date {
	for day = day.AddDays(1); !r.falls(first, day); {
		day = day.AddDays(1)
	}
	return day
}

// firstMorning is the earliest morning of a day among all contacts.
func (p *plan) firstMorning(day civil.Date) time.Time {
	first := Instant(day, p.Morning, p.Zone)
	for _, c := range p.Contacts {
		if at := p.morning(c, day); at.Before(first) {
			first = at
		}
	}
	return first
}

// shiftOnLater tells one more contact at once where somebody put a cutoff that
// has come off until tomorrow: the next in file order who has not been told by
// then.
func (p *plan) shiftOnLater(v *season.View, first, others []person) {
	var last diary.Fact // of several who put it off at once one shifts it
	for _, f := range p.Book.Every(diary.Later) {
		if f.Concerns(v.Paddock.ID) && civil.DateOf(f.At.In(p.Zone)) == p.today && f.ID > last.ID && !f.At.Before(p.morning(p.contact(f.By), v.Dates.Cutoff)) {
			last = *f
		}
	}
	if last.ID > 0 {
		p.shift(v, last, first, others)
	}
}

func (p *plan) shift(v *season.View, f diary.Fact, first, others []person) {
	for _, c := range others {
		if len(c.media) == 0 || c.Name == f.By {
			continue
		}
		at := p.decent(c.Contact, f.At)
		_, n := p.lastMorning(c.Contact, p.restStart(v), at)
		told, missing := reachable(first, others, n)
		if has(told, c.Name) {
			continue
		}
		g := OverdueFacts{PaddockFacts: p.facts(v), RestDay: p.today.DaysSince(v.Dates.Cutoff), Who: f.By, Missing: missing}
		g.Sends = p.moveTo(v)
		p.tell(c, Overdue, cutoffKey(v, Cause{"later", f.ID}, "next", "0"), &g, span{from: at, until: p.morning(c.Contact, p.today.AddDays(1))})
		return
	}
}
