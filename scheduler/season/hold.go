package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// A Hold keeps a paddock shut because plants may be poisonous.
type Hold struct {
	Plants []grass.Hazard // every plant that a frost of it turned
	Began  civil.Date
	Until  civil.Date // the last day held, as long as no later frost makes it longer
	Short  bool       // only because the stand is short or was not read

	opened, last diary.Fact
	marks        []mark
}

// A mark is one frost of a hold and the last day held because of it.
type mark struct{ day, until civil.Date }

// holdOverFor is how many days after its last day a hold that the calendar
// ended is still news.
const holdOverFor = 7

// holds gives the hold over a paddock today, or the one that the calendar ended
// within the last week; both nil where there is neither.
//
// A hold begins with the first frost of 36 F or below anywhere on the farm, is
// restarted by each later frost up to and including the first killing freeze,
// and lasts through the longest published wait of its plants. After the killing
// freeze a frost restarts it only where regrowth was reported since, once for
// each report. A person's `clear` ends it. A frost that was taken back still
// holds, since what may have turned poisonous is looked at and not argued away;
// but it kills nothing, so later frosts still count.
func (l *look) holds(p *Paddock, risks []grass.Hazard, read *readings) (now, was *Hold) {
	if len(risks) == 0 || len(l.cold) == 0 {
		return nil, nil
	}
	h := l.lastHold(p, risks, read)
	switch {
	case h == nil || l.clearedAfter(p.ID, h.last, nil):
		return nil, nil
	case !l.Today.After(h.Until):
		return h, nil
	case l.Today.DaysSince(h.Until) <= holdOverFor:
		return nil, h
	}
	return nil, nil
}

// lastHold is the newest hold of the cold season, over or not.
func (l *look) lastHold(p *Paddock, risks []grass.Hazard, read *readings) *Hold {
	var h *Hold
	var killed civil.Date
	spent := 0 // reports of regrowth used up
	for _, f := range l.cold {
		if !killed.IsZero() {
			n := l.regrowth(p.ID, killed, f.Day)
			if n <= spent {
				continue
			}
			spent = n
		} else if l.kills(f, p) {
			killed = f.Day
		}
		plants := dangerous(risks, read, f.Day)
		if len(plants) == 0 {
			continue
		}
		m := mark{f.Day, f.Day.AddDays(longestWait(plants))}
		if h == nil || f.Day.After(h.Until) || l.clearedAfter(p.ID, h.last, &f) {
			h = &Hold{Began: f.Day, opened: f}
		}
		h.Plants, h.last = withPlants(h.Plants, plants), f
		h.Short = !always(h.Plants)
		h.marks = append(h.marks, m)
		if m.until.After(h.Until) {
			h.Until = m.until
		}
	}
	return h
}

// kills reports whether a frost is a killing freeze: 28 F, and the farm's own
// freeze where that is colder.
func (l *look) kills(f diary.Fact, p *Paddock) bool {
	if f.TempC == nil || !frost.KillingFreeze28F.Reached(frost.FromC(*f.TempC)) {
		return false
	}
	if p.Native() && !p.Rule.EndsAt.Reached(frost.FromC(*f.TempC)) {
		return false
	}
	_, stands := l.Book.Standing(f.ID)
	return stands
}

// regrowth counts the reports of regrowth on a paddock, or on the whole farm,
// between two days, both counted in.
func (l *look) regrowth(paddock string, from, to civil.Date) int {
	n := 0
	for f := range l.Book.About(paddock, diary.Regrowth, from) {
		if !f.Day.After(to) {
			n++
		}
	}
	return n
}

// clearedAfter reports whether a person checked the ground after a frost was
// known, and before another was; nil is up to today. A frost that the record
// brings late is known from the morning after it.
func (l *look) clearedAfter(paddock string, after diary.Fact, before *diary.Fact) bool {
	for f := range l.Book.About(paddock, diary.Clear, after.Day) {
		if !f.Day.After(l.Today) && saidLater(f, &after) && (before == nil || saidLater(before, f)) {
			return true
		}
	}
	return false
}

// saidLater reports whether one fact was known after another.
func saidLater(a, b *diary.Fact) bool {
	if a.At.Equal(b.At) {
		return a.ID > b.ID
	}
	return a.At.After(b.At)
}

// Cause is the fact that began the hold.
func (h *Hold) Cause() int64 { return h.opened.ID }

// Since is the instant at which it began.
func (h *Hold) Since() time.Time { return h.opened.At }

// Latest is the instant at which its last frost was known.
func (h *Hold) Latest() time.Time { return h.last.At }

// Step is which telling of the hold counts on a day, and the day it fell due. A
// hold is told when it begins, with its last day by then, and again on that day
// where frosts since have made it longer: nobody must turn in on an old date.
func (h *Hold) Step(today civil.Date) (step int, day civil.Date) {
	day = h.Began
	until := h.marks[0].until
	for !today.Before(until) {
		next := until
		for _, m := range h.marks {
			if !m.day.After(until) && m.until.After(next) {
				next = m.until
			}
		}
		if next == until {
			break
		}
		step, day, until = step+1, until, next
	}
	return step, day
}
