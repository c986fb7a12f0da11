package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"
)

// A person is a contact and how they can be reached today.
type person struct {
	Contact
	media []Medium // best first; empty where they cannot be reached
}

// reach lists the media by which a contact can be told, best first. One by which
// a carrier refused them for good today is none until tomorrow.
func (p *plan) reach(c Contact) []Medium {
	var media []Medium
	for _, m := range []Medium{Text, Mail} {
		if a := c.Address(m); a != "" && !p.OptedOut[a] && !p.Said.dead(c.Name, m, Instant(p.today, 0, p.Zone)) {
			media = append(media, m)
		}
	}
	return media
}

func (p *plan) contact(name string) Contact {
	for _, c := range p.people {
		if c.Name == name {
			return c.Contact
		}
	}
	return Contact{}
}

// morning is when the day's notices reach a contact: the farm's morning, or
// the end of their quiet hours where that is later.
func (p *plan) morning(c Contact, day civil.Date) time.Time {
	return c.AfterQuiet(Instant(day, p.Morning, p.Zone), p.Zone)
}

// decent is when news of an instant may reach a contact who need not be woken
// for it: not before the farm's morning, and outside their quiet hours. Whoever
// is up only before the farm's morning hears it then.
func (p *plan) decent(c Contact, at time.Time) time.Time {
	at = c.AfterQuiet(at, p.Zone)
	day := civil.DateOf(at.In(p.Zone))
	if morning := p.morning(c, day); at.Before(morning) && civil.DateOf(morning.In(p.Zone)) == day {
		return morning
	}
	return at
}

// ofRole lists the people of some roles in file order, whether or not they can
// be reached. Where nobody has any of them it is the first contact of the file, who
// is a manager too where nobody is.
func (p *plan) ofRole(roles ...string) []person {
	var out []person
	led := !slices.Contains(roles, manager[0]) || slices.ContainsFunc(p.people, func(q person) bool { return q.Manager() })
	for i, q := range p.people {
		if q.is(roles...) || i == 0 && !led {
			out = append(out, q)
		}
	}
	if len(out) == 0 && len(p.people) > 0 {
		out = p.people[:1]
	}
	return out
}

// hearers are those whom a kind is for and who can be reached by the way that it
// goes.
func (p *plan) hearers(kind Kind) []person {
	row, to := kinds[kind], p.reached()
	switch {
	case row.atCutoff:
		to = p.withRole(p.cutoffRoles()...)
	case row.to != nil:
		to = p.withRole(row.to...)
	}
	if row.by == "" {
		return to
	}
	return slices.DeleteFunc(to, func(q person) bool { return !slices.Contains(q.media, row.by) })
}

func (p *plan) reached() []person { return reached(p.people) }

func reached(people []person) []person {
	return slices.DeleteFunc(slices.Clone(people), func(q person) bool { return len(q.media) == 0 })
}

func has(people []person, name string) bool {
	return slices.ContainsFunc(people, func(q person) bool { return q.Name == name })
}

// withRole lists those of some roles who can be reached. Where none can, the
// first of the file who can stands in: somebody must hear it.
func (p *plan) withRole(roles ...string) []person {
	if out := reached(p.ofRole(roles...)); len(out) > 0 {
		return out
	}
	all := p.reached()
	return all[:min(1, len(all))]
}

func (p *plan) missing(roles ...string) []string {
	var names []string
	for _, q := range p.ofRole(roles...) {
		if len(q.media) == 0 {
			names = append(names, q.Name)
		}
	}
	return names
}

// toldBy reports whether a rung is for a contact, the stand-in included.
func (p *plan) toldBy(r Rung, c Contact) bool {
	told, known := p.byRung[r.Before]
	if !known {
		told = map[string]bool{}
		for _, q := range p.withRole(r.Tell...) {
			told[q.Name] = true
		}
		if p.byRung == nil {
			p.byRung = map[int]map[string]bool{}
		}
		p.byRung[r.Before] = told
	}
	return told[c.Name]
}

// rungMedia is how a rung reaches a person: by text, or by mail where there is
// no other way, and by what the rung asks for besides.
func (c person) rungMedia(r Rung) []Medium {
	if len(c.media) == 0 {
		return nil
	}
	media := c.media[:1:1]
	for _, m := range r.AlsoBy {
		if slices.Contains(c.media, m) && !slices.Contains(media, m) {
			media = append(media, m)
		}
	}
	return media
}

func (p *plan) failing(m Medium) bool {
	return slices.ContainsFunc(p.Alarms, func(t Trouble) bool { return t.Medium == m })
}

// pressing is the medium for what cannot wait until a carrier is mended: the
// best one that works. What was said by one is not said again by another.
func (p *plan) pressing(c person, k Key) Medium {
	for _, m := range c.media {
		k.Medium = m
		if _, said := p.Said.at(k); said {
			return m
		}
	}
	for _, m := range c.media {
		if !p.failing(m) {
			return m
		}
	}
	return c.media[0]
}

// called is a person with a call before all other ways, where the farm has a
// carrier of calls and the call before was not refused today. What presses goes
// by it, and by the next way where the carrier of calls is in trouble.
func (p *plan) called(c person) person {
	if p.Calls && c.Phone != "" && !p.OptedOut[c.Phone] && !p.Said.dead(c.Name, Call, Instant(p.today, 0, p.Zone)) {
		c.media = append([]Medium{Call}, c.media...)
	}
	return c
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
