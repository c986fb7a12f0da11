package ladder

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

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
	for f := range p.Book.About(paddock, diary.Later, civil.Date{}) {
		if f.By == by && f.ID > newest.ID {
			newest = *f
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

// shiftOnLater tells one more contact at once where somebody put a cutoff that
// has come off until tomorrow: the next in file order who has not been told by
// then.
func (p *plan) shiftOnLater(v *season.View, first, others []person) {
	for _, facts := range [][]diary.Fact{p.Book.Of(v.Paddock.ID), p.Book.Farm()} {
		for _, f := range facts {
			shut := p.morning(p.contact(f.By), v.Dates.Cutoff)
			if f.Kind == diary.Later && civil.DateOf(f.At.In(p.Zone)) == p.today && !f.At.Before(shut) {
				p.shift(v, f, first, others)
			}
		}
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
		g.MoveTo = p.moveTo(v)
		p.tell(c, Overdue, cutoffKey(v, Cause{"later", f.ID}, "next", "0"), &g, span{from: at, until: p.morning(c.Contact, p.today.AddDays(1))})
		return
	}
}
