package ladder

import (
	"strconv"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// RepeatAfter is how much later an unanswered rung of the last two days is said
// once more. Ours.
const RepeatAfter = 4 * time.Hour

// A Rung says that a number of days before cutoff certain roles are told.
type Rung struct {
	Before      int           // days before C; 0 is the cutoff
	Tell        []string      // roles
	AlsoBy      []Medium      // besides text
	RepeatAfter time.Duration // unanswered, it is said once more; 0 never
}

// DefaultRungs is the ladder of a farm file without one. Ten days are common
// practice; the rest is ours.
func DefaultRungs() []Rung {
	return []Rung{
		{Before: 60, Tell: []string{"manager", "owner"}, AlsoBy: []Medium{Mail}},
		{Before: 30, Tell: []string{"manager", "owner"}, AlsoBy: []Medium{Mail}},
		{Before: 10, Tell: []string{"manager"}},
		{Before: 5, Tell: []string{"manager"}},
		{Before: 2, Tell: []string{"manager", "helper"}, RepeatAfter: RepeatAfter},
		{Before: 0, Tell: []string{"manager", "helper"}, AlsoBy: []Medium{Mail}, RepeatAfter: RepeatAfter},
	}
}

// farmLevel is the number of days before cutoff from which a rung speaks of the
// whole fall and not of one paddock.
const farmLevel = 30

// kind is what a rung says of a paddock that is or may be grazed.
func (r Rung) kind() Kind {
	switch {
	case r.Before >= farmLevel:
		return FallAhead
	case r.Before > 5:
		return HeadsUp
	case r.Before > 2:
		return LastLook
	case r.Before > 0:
		return MovePlan
	}
	return ShutToday
}

// A step is one rung at its moment for one contact.
type step struct {
	rung Rung
	at   time.Time
}

// before is the ladder up to the day before cutoff: for each contact only the
// latest rung that has passed.
func (p *plan) before(v *season.View) {
	for _, c := range p.people {
		if s, ok := p.latestStep(v, c.Contact); ok {
			p.say(v, c, s)
		}
	}
}

// latestStep is the last paddock rung that has passed for a contact.
func (p *plan) latestStep(v *season.View, c Contact) (step, bool) {
	var last step
	found := false
	entered := p.opened(v).At // rungs before it were about another state of the paddock
	for _, r := range p.Rungs {
		if r.Before >= farmLevel || !p.toldBy(r, c) || v.Herds.Occupancy == season.Empty && !p.keepsShut(r) {
			continue
		}
		day := v.Dates.Cutoff.AddDays(-r.Before)
		at := p.morning(c, day)
		p.seen(at)
		// Of one that they left on or after its day the answer to `off` has said the rest.
		left := v.Herds.Occupancy == season.Empty && !v.Herds.LastOff.Before(day)
		if at.After(p.Now) || at.Before(entered) || left {
			continue
		}
		if !found || !at.Before(last.at) {
			last, found = step{r, at}, true
		}
	}
	return last, found
}

// keepsShut reports whether an empty paddock is spoken of at a rung: at the
// first one and at the cutoff.
func (p *plan) keepsShut(r Rung) bool {
	first := 0
	for _, other := range p.Rungs {
		if other.Before < farmLevel {
			first = max(first, other.Before)
		}
	}
	return r.Before == first || r.Before == 0
}

// opened is the `on` that opened the ladder of a paddock as it stands: the
// newest of this season that really brought animals in. Zero where the farm
// file put them there or the paddock is empty. That a second herd has left
// again, or that one was reported elsewhere, opens nothing anew.
func (p *plan) opened(v *season.View) diary.Fact {
	var newest diary.Fact
	if v.Herds.Occupancy == season.Empty {
		return newest
	}
	for _, stay := range p.Moves.Periods(v.Paddock.ID) {
		if stay.On.ID > newest.ID && !stay.On.Day.Before(v.Dates.Turn) {
			newest = *stay.On
		}
	}
	return newest
}

// cause names the fact that opened the ladder as it stands. An empty paddock has
// keys of its own: what was said of it while it was thought empty must not
// stand for what is said when an `off` is taken back.
func (p *plan) cause(v *season.View) Cause {
	if v.Herds.Occupancy == season.Empty {
		return Cause{Kind: "empty"}
	}
	if on := p.opened(v); on.ID > 0 {
		return Cause{"on", on.ID}
	}
	return Cause{Kind: "-"}
}

// say adds one rung for one contact, put off where they asked, and once more
// where nobody answered.
func (p *plan) say(v *season.View, c person, s step) {
	kind := s.rung.kind()
	if v.Herds.Occupancy == season.Empty {
		kind = KeepShut
	}
	until := p.untilNextStep(v, c.Contact, s)
	repeat := "0"
	if at, tag, ok := p.putOff(v, c.Contact, s.at); ok {
		if !at.Before(until) {
			return // by then the next rung says it
		}
		s.at, repeat = at, tag
	}
	for i, m := range p.sayBy(c, kind, s.rung) {
		n := p.rung(v, c, kind, m, s, repeat)
		n.GoodUntil = until
		p.wantRung(v, n)
		if repeat == "0" && i == 0 {
			p.repeat(v, c, n, s.rung.RepeatAfter)
		}
	}
}

// wantRung is want of a rung, with where to go where it is still to be said: that
// takes a plan.
func (p *plan) wantRung(v *season.View, n Notice) {
	if !p.wanted(&n) {
		return
	}
	f := n.Facts.(*RungFacts)
	if n.Kind == MovePlan || n.Kind == ShutToday || n.Kind == LastLook {
		f.Sends = p.moveTo(v)
	}
	if n.Kind == LastLook {
		f.Pass = p.LastPass()
		f.Changed = append(f.Changed, p.Changed(f.Pass)...)
	}
	p.add(n)
}

// sayBy is how a rung reaches a person: once for what needs no work, and on the
// day of cutoff by another way too where the first is in trouble.
func (p *plan) sayBy(c person, kind Kind, r Rung) []Medium {
	media := c.rungMedia(r)
	switch {
	case len(media) == 0:
		return nil
	case kind == KeepShut:
		return media[:1]
	case kind == ShutToday && p.failing(media[0]):
		return c.media
	}
	return media
}

func (p *plan) rung(v *season.View, c person, kind Kind, m Medium, s step, repeat string) Notice {
	k := cutoffKey(v, p.cause(v), strconv.Itoa(s.rung.Before), repeat)
	k.Contact, k.Medium = c.Name, m
	if repeat == "0" {
		k = p.dated(s.at, k)
	}
	f := RungFacts{PaddockFacts: p.facts(v), Missing: p.missing(s.rung.Tell...)}
	f.WasCutoff = p.wasCutoff(v, c.Name)
	f.Read = kind == KeepShut && s.rung.Before == 0 && v.Paddock.Native() && has(p.hearers(AskHeight), c.Name) &&
		!readSince(v, v.Dates.Cutoff.AddDays(-freshAtCutoff))
	return Notice{
		Key:       k,
		To:        c.Name,
		Medium:    m,
		Kind:      kind,
		Facts:     &f,
		NotBefore: s.at,
	}
}

// untilNextStep is when a rung is no longer what should be said: the moment of
// the next one, at the latest the morning after cutoff.
func (p *plan) untilNextStep(v *season.View, c Contact, s step) time.Time {
	until := p.morning(c, v.Dates.Cutoff.AddDays(1))
	for _, r := range p.Rungs {
		if r.Before >= s.rung.Before || !p.toldBy(r, c) || v.Herds.Occupancy == season.Empty && !p.keepsShut(r) {
			continue
		}
		if at := p.morning(c, v.Dates.Cutoff.AddDays(-r.Before)); at.After(s.at) && at.Before(until) {
			until = at
		}
	}
	return until
}

// cutoffMoved tells a moved cutoff where no rung has come that would: it was
// put off, or the paddock is spoken of again later, or it is empty and the new
// day is past.
func (p *plan) cutoffMoved(v *season.View) {
	empty := v.Herds.Occupancy == season.Empty
	if v.FallUse || v.Phase == season.Dormant || v.Phase == season.Rest && !(empty && p.today.After(v.Dates.Cutoff)) {
		return
	}
	for _, c := range p.hearers(CutoffMoved) {
		was := p.wasCutoff(v, c.Name)
		if was.IsZero() {
			continue
		}
		if _, rung := p.latestStep(v, c.Contact); rung && v.Phase == season.Open {
			continue
		}
		f := p.facts(v)
		f.WasCutoff = was
		until := v.Dates.Cutoff
		if !until.After(p.today) {
			until = p.today.AddDays(1)
		}
		p.tell(c, CutoffMoved, cutoffKey(v, Cause{Kind: was.String()}, "moved", "0"), &f, p.mornings(c, p.today, until))
	}
}
