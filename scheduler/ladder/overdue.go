package ladder

import (
	"slices"
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
	start := v.Dates.Cutoff
	if day := enteredDay(v); day.After(start) {
		start = day // back in during rest: the mornings begin anew
	}
	if start == v.Dates.Cutoff && p.Now.Before(p.firstMorning(start.AddDays(1))) {
		p.before(v)
	}
	first := p.withRole(p.cutoffRoles()...)
	var others []person
	for _, q := range p.people {
		if !slices.ContainsFunc(first, func(f person) bool { return f.Name == q.Name }) {
			others = append(others, q)
		}
	}
	p.shiftOnLater(v, others)
	p.seen(p.firstMorning(start.AddDays(1)))
	for _, c := range p.people {
		day, n := p.lastMorning(c.Contact, start)
		if n < 1 {
			continue
		}
		told, missing := reachable(first, others, n)
		if slices.ContainsFunc(told, func(q person) bool { return q.Name == c.Name }) {
			p.overdue(v, c, day, missing)
		}
	}
}

// lastMorning is the latest morning of an overdue paddock that has come for a
// contact, and the how-manieth it is.
func (p *plan) lastMorning(c Contact, start civil.Date) (civil.Date, int) {
	at := p.morning(c, p.today)
	p.seen(at)
	if at.After(p.Now) {
		return latestMorning(start, p.today.AddDays(-1))
	}
	return latestMorning(start, p.today)
}

func (p *plan) overdue(v *season.View, c person, day civil.Date, missing []string) {
	if day.IsZero() || len(c.media) == 0 {
		return
	}
	f := p.facts(v)
	f.Day = day
	f.RestDay = day.DaysSince(v.Dates.Cutoff)
	f.BackIn = enteredDay(v).After(v.Dates.Cutoff)
	f.Missing = missing
	f.MoveTo = p.moveTo(v)
	f.WasCutoff = p.wasCutoff(v, c.Name)
	n := Notice{
		Key:       key(v.Paddock.ID, v.Dates.Cutoff.String(), cause(v), "day"+num(int64(f.RestDay)), "0", c.Name, string(c.media[0])),
		To:        c.Name,
		Medium:    c.media[0],
		Kind:      Overdue,
		Facts:     f,
		NotBefore: p.morning(c.Contact, day),
		GoodUntil: p.morning(c.Contact, nextMorningDay(enteredOr(v), day)),
	}
	if at, _, ok := p.putOff(v, c.Contact, n.NotBefore); ok && at.After(n.NotBefore) {
		n.NotBefore = at
	}
	p.want(n)
}

// shiftOnLater tells one more contact at once where somebody put a cutoff that
// has come off until tomorrow.
func (p *plan) shiftOnLater(v *season.View, others []person) {
	for _, f := range p.Book.Of(v.Paddock.ID) {
		if f.Kind != diary.Later || civil.DateOf(f.At.In(p.Zone)) != p.today || f.Day.Before(v.Dates.Cutoff) {
			continue
		}
		for _, c := range others {
			if len(c.media) == 0 || c.Name == f.By {
				continue
			}
			g := p.facts(v)
			g.RestDay = p.today.DaysSince(v.Dates.Cutoff)
			g.Day, g.Who = p.today, f.By
			p.want(Notice{
				Key:       key(v.Paddock.ID, v.Dates.Cutoff.String(), "later"+num(f.ID), "next", "0", c.Name, string(c.media[0])),
				To:        c.Name,
				Medium:    c.media[0],
				Kind:      Overdue,
				Facts:     g,
				NotBefore: c.AfterQuiet(f.At, p.Zone),
				GoodUntil: p.morning(c.Contact, p.today.AddDays(1)),
			})
			break
		}
	}
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

// latestMorning is the last day up to today on which an overdue paddock is
// spoken of, and which of those mornings it is: seven in a row after start,
// then Mondays and Thursdays. Zero before the first.
func latestMorning(start, today civil.Date) (civil.Date, int) {
	late := today.DaysSince(start)
	if late < 1 {
		return civil.Date{}, 0
	}
	if late <= mornings {
		return today, late
	}
	n := mornings
	last := start.AddDays(mornings)
	for d := last.AddDays(1); !d.After(today); d = d.AddDays(1) {
		if twiceAWeek(d) {
			last, n = d, n+1
		}
	}
	return last, n
}

func nextMorningDay(start, day civil.Date) civil.Date {
	for d := day.AddDays(1); ; d = d.AddDays(1) {
		if d.DaysSince(start) <= mornings || twiceAWeek(d) {
			return d
		}
	}
}

func twiceAWeek(d civil.Date) bool {
	w := d.In(time.UTC).Weekday()
	return w == time.Monday || w == time.Thursday
}

// enteredDay is the day that the animals who stand there came in, by somebody's
// word; zero otherwise.
func enteredDay(v *season.View) civil.Date {
	if cause(v) == "-" {
		return civil.Date{}
	}
	return v.Herds.Entered.Day
}

// enteredOr is the day that the mornings are counted from.
func enteredOr(v *season.View) civil.Date {
	if d := enteredDay(v); d.After(v.Dates.Cutoff) {
		return d
	}
	return v.Dates.Cutoff
}

// cutoffRoles are the roles of the cutoff rung.
func (p *plan) cutoffRoles() []string {
	for _, r := range p.Rungs {
		if r.Before == 0 {
			return r.Tell
		}
	}
	return []string{"manager"}
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
