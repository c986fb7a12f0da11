package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// mornings is how many mornings in a row a grazed paddock is spoken of after
// cutoff before it is twice a week.
const mornings = 7

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
	p.ending(v)
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
	for _, r := range p.Rungs {
		if r.Before >= farmLevel || !p.toldBy(r, c) || v.Herds.Occupancy == season.Empty && !p.keepsShut(r) {
			continue
		}
		day := v.Dates.Cutoff.AddDays(-r.Before)
		at := p.morning(c, day)
		p.seen(at)
		if at.After(p.Now) || at.Before(entered(v)) || leftOn(v, day) {
			continue
		}
		if !found || !at.Before(last.at) {
			last, found = step{r, at}, true
		}
	}
	return last, found
}

// toldBy reports whether a rung is for a contact, the stand-in included.
func (p *plan) toldBy(r Rung, c Contact) bool {
	return slices.ContainsFunc(p.withRole(r.Tell...), func(q person) bool { return q.Name == c.Name })
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

// entered is when the animals came in that stand there now by somebody's word;
// rungs before it were about another state of the paddock.
func entered(v *season.View) time.Time {
	if v.Herds.Occupancy == season.Grazed && v.Herds.Entered != nil {
		return v.Herds.Entered.At
	}
	return time.Time{}
}

// leftOn reports whether the animals left on or after a day: its rung was about
// another state of the paddock, and the answer to `off` has said the rest.
func leftOn(v *season.View, day civil.Date) bool {
	return v.Herds.Occupancy == season.Empty && !v.Herds.LastOff.Before(day)
}

// cause names the fact that opened the ladder as it stands.
func cause(v *season.View) string {
	if v.Herds.Occupancy == season.Grazed && v.Herds.Entered != nil && v.Herds.Entered.ID > 0 {
		return "on" + num(v.Herds.Entered.ID)
	}
	return "-"
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
	media := c.rungMedia(s.rung)
	if kind == KeepShut {
		media = media[:min(1, len(media))] // once is enough for what needs no work
	}
	for _, m := range media {
		n := p.rung(v, c, kind, m, s, repeat)
		n.GoodUntil = until
		p.want(n)
		if repeat == "0" && m == Text {
			p.repeat(v, c, n, s.rung.RepeatAfter)
		}
	}
}

// rungMedia is how a rung reaches a person: by text, or by mail where there is
// no other way, and by what the rung asks for besides.
func (c person) rungMedia(r Rung) []Medium {
	if len(c.media) == 0 {
		return nil
	}
	media := c.media[:1]
	for _, m := range r.AlsoBy {
		if slices.Contains(c.media, m) && !slices.Contains(media, m) {
			media = append(media[:len(media):len(media)], m)
		}
	}
	return media
}

func (p *plan) rung(v *season.View, c person, kind Kind, m Medium, s step, repeat string) Notice {
	f := p.facts(v)
	f.WasCutoff = p.wasCutoff(v, c.Name)
	if kind == MovePlan || kind == ShutToday || kind == LastLook {
		f.MoveTo = p.moveTo(v)
	}
	return Notice{
		Key:       key(v.Paddock.ID, v.Dates.Cutoff.String(), cause(v), num(int64(s.rung.Before)), repeat, c.Name, string(m)),
		To:        c.Name,
		Medium:    m,
		Kind:      kind,
		Facts:     f,
		NotBefore: s.at,
	}
}

// repeat says an unanswered rung once more. Any answer from anybody stops it
// for everybody.
func (p *plan) repeat(v *season.View, c person, first Notice, after time.Duration) {
	if after <= 0 || v.Herds.Occupancy == season.Empty {
		return
	}
	saidAt, ok := p.Said.At(first.Key)
	if !ok || p.answered(v.Paddock.ID, saidAt) {
		return
	}
	again := first
	again.Key += "/again"
	again.NotBefore = c.AfterQuiet(saidAt.Add(after), p.Zone)
	again.Facts.Repeat = true
	p.want(again)
}

// answered reports whether anybody answered about a paddock since a moment.
func (p *plan) answered(paddock string, since time.Time) bool {
	for _, facts := range [][]diary.Fact{p.Book.Of(paddock), p.Book.Farm()} {
		for _, f := range facts {
			switch f.Kind {
			case diary.Reading, diary.Ack, diary.Later, diary.Off, diary.On:
				if !f.At.Before(since) && !f.Measured() {
					return true
				}
			}
		}
	}
	return false
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

// putOff is the moment until which a contact's newest `later` holds a step
// back, and the tag that tells the saying after it from the one before.
func (p *plan) putOff(v *season.View, c Contact, stepAt time.Time) (time.Time, string, bool) {
	l, ok := p.latestLater(v.Paddock.ID, c.Name)
	if !ok {
		return time.Time{}, "", false
	}
	wait := l.Wait
	if wait <= 0 {
		wait = 24 * time.Hour
	}
	shut := p.morning(c, v.Dates.Cutoff)
	limit := shut
	if !l.At.Before(shut) {
		limit = p.nextMorning(c, l.At)
	}
	at := l.At.Add(wait)
	if at.After(limit) {
		at = limit
	}
	at = c.AfterQuiet(at, p.Zone)
	switch {
	case stepAt.After(at):
		return time.Time{}, "", false // it was over before this step came
	case stepAt.After(l.At):
		return at, "0", true
	}
	return at, "later" + num(l.ID), true
}

func (p *plan) latestLater(paddock, by string) (diary.Fact, bool) {
	var newest diary.Fact
	for _, facts := range [][]diary.Fact{p.Book.Of(paddock), p.Book.Farm()} {
		for _, f := range facts {
			if f.Kind == diary.Later && f.By == by && f.ID > newest.ID {
				newest = f
			}
		}
	}
	return newest, newest.ID > 0
}

// nextMorning is the first morning after an instant.
func (p *plan) nextMorning(c Contact, after time.Time) time.Time {
	day := civil.DateOf(after.In(p.Zone))
	at := p.morning(c, day)
	if !at.After(after) {
		at = p.morning(c, day.AddDays(1))
	}
	return at
}
