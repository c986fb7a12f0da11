package ladder

import (
	"strconv"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// putOff is the moment until which a contact's newest `later` holds a step
// back, and the tag that tells the saying after it from the one before.
func (p *plan) putOff(v *season.View, c Contact, stepAt time.Time) (time.Time, string, bool) {
	var l diary.Fact
	for _, f := range p.Book.Every(diary.Later) {
		if f.Concerns(v.Paddock.ID) && f.By == c.Name && f.ID > l.ID {
			l = *f
		}
	}
	if l.ID == 0 {
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

// nextMorning is the first morning after an instant.
func (p *plan) nextMorning(c Contact, after time.Time) time.Time {
	day := civil.DateOf(after.In(p.Zone))
	at := p.morning(c, day)
	if !at.After(after) {
		at = p.morning(c, day.AddDays(1))
	}
	return at
}

// mostLate is longer than anything that counts days stays worth saying.
const mostLate = 60

// dated gives a key of what counts the days its repeat part: "0", and for what
// could not be said on its day how late it is, so that no carrier that comes
// back says an old count. What was said keeps its part.
func (p *plan) dated(at time.Time, k Key) Key {
	with := func(late int) Key {
		k.Repeat = "0"
		if late > 0 {
			k.Repeat = "late" + strconv.Itoa(late)
		}
		return k
	}
	for late := range mostLate {
		if _, said := p.Said.at(with(late)); said {
			return with(late)
		}
	}
	return with(p.today.DaysSince(civil.DateOf(at.In(p.Zone))))
}

// repeat says an unanswered rung once more. Any answer from anybody since it
// was first said to anybody stops it for everybody.
func (p *plan) repeat(v *season.View, c person, first Notice, after time.Duration) {
	if after <= 0 || v.Herds.Occupancy == season.Empty {
		return
	}
	saidAt, ok := p.Said.at(first.Key)
	if !ok || p.answered(v.Paddock.ID, p.firstSaidTo(v.Paddock.ID, first, saidAt)) {
		return
	}
	again := first
	again.Key.Again = true
	again.NotBefore = c.AfterQuiet(saidAt.Add(after), p.Zone)
	facts := *first.Facts.(*RungFacts)
	facts.Repeat = true
	again.Facts = &facts
	p.wantRung(v, again)
}

// firstSaidTo is when a rung was first said to anybody; a contact's quiet hours
// may end later than another's.
func (p *plan) firstSaidTo(paddock string, n Notice, saidAt time.Time) time.Time {
	rung := func(k Key) Key {
		k.Contact, k.Medium, k.Again = "", "", false
		return k
	}
	for _, r := range p.Said.byPaddock[paddock] {
		if rung(r.Key) == rung(n.Key) && r.At.Before(saidAt) {
			saidAt = r.At
		}
	}
	return saidAt
}

// answered reports whether anybody answered about a paddock since a moment.
func (p *plan) answered(paddock string, since time.Time) bool {
	for f := range p.Book.Since(paddock, since) {
		nothing := f.Kind == diary.Ack && f.Paddock == "" // a nod to nothing
		if f.Kind.Row().Answers && !nothing {
			return true
		}
	}
	return false
}

// wasCutoff is the cutoff that a contact was last told for a paddock this
// season, where it is no longer so.
func (p *plan) wasCutoff(v *season.View, to string) civil.Date {
	var last SaidRow
	for _, r := range p.Said.byPaddock[v.Paddock.ID] {
		if r.To == to && !r.Cutoff.IsZero() && kinds[r.Kind].tellsCutoff &&
			!r.Cutoff.Before(v.Dates.Turn) && r.Cutoff.Before(v.Dates.Next) && !r.At.Before(last.At) {
			last = *r
		}
	}
	if last.Cutoff == v.Dates.Cutoff {
		return civil.Date{}
	}
	return last.Cutoff
}
