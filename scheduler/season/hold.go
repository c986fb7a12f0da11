package season

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season/shut"
)

// A Hold keeps a paddock shut because plants may be poisonous: all its causes
// together.
type Hold struct {
	Plants []grass.Hazard // each once
	Began  civil.Date
	Until  civil.Date // the last day held, as long as nothing restarts it; zero where only a person ends it
	Short  bool       // only because the stand is short or was not read

	Turned  []string // of those, by name, the ones that a frost or brown tops turned
	Wilted  bool     // cherry is down or wilted
	Regrown bool     // new shoots were seen

	opened, last diary.Fact
	marks        []shut.Mark
}

// holdOf is what the holds among some causes come to; nil where none is.
func holdOf(causes []shut.Cause) *Hold {
	var h *Hold
	for _, c := range causes {
		switch {
		case !c.Why.Holds():
			continue
		case h == nil:
			h = &Hold{Began: c.Since, Until: c.Until, Short: true, opened: c.First, last: c.Last}
		}
		if c.Since.Before(h.Began) || c.Since == h.Began && c.First.ID < h.opened.ID {
			h.Began, h.opened = c.Since, c.First
		}
		if shut.Later(&c.Last, &h.last) {
			h.last = c.Last
		}
		h.Until = longer(h.Until, c.Until)
		h.Short = h.Short && c.Short
		h.marks = append(h.marks, c.Marks...)
		plant, known := grass.Hazards.Find(c.Plant)
		if !known {
			plant = grass.Hazard{Name: c.Plant, Danger: c.Danger}
		}
		h.Plants = withPlants(h.Plants, []grass.Hazard{plant})
		switch c.Why {
		case shut.Wilted:
			h.Wilted = true
		case shut.Regrowth:
			h.Regrown = true
		default:
			h.Turned = append(h.Turned, plant.Name)
		}
	}
	if h != nil {
		slices.SortStableFunc(h.marks, func(a, b shut.Mark) int { return a.Day.DaysSince(b.Day) })
	}
	return h
}

// longer is the later of two last days, of which zero never comes.
func longer(a, b civil.Date) civil.Date {
	if a.IsZero() || b.IsZero() {
		return civil.Date{}
	}
	if b.After(a) {
		return b
	}
	return a
}

// holdOverFor is how many days after its last day a hold that the calendar
// ended is still news.
const holdOverFor = 7

// shutBy fills in why a paddock is shut: its causes, the hold they come to, and
// one that the calendar ended lately, whatever else keeps it shut.
func (l *look) shutBy(v *View, read *readings) {
	c := l.causes(v.Paddock)
	v.Shut, v.Hold, v.AtRisk, v.kinOut, v.unproved = c.now, holdOf(c.now), c.atRisk, c.kinOut, c.unproved
	v.Barred = l.barred(l.risks(v.Paddock))
	if v.Paddock.Grass.Saponin() {
		v.Liver = l.herdsOf(herd.Horse, herd.Sheep, herd.Goat)
	}
	was := holdOf(c.ended)
	if was == nil || v.Hold != nil || l.clearedSince(v.Paddock.ID, was.last) {
		return
	}
	if l.Today.DaysSince(was.Until) <= holdOverFor {
		v.WasHeld = was
	}
	if n := len(read.between(was.Until.AddDays(1), l.Today.AddDays(1))); n <= 1 && len(c.now) == 0 {
		v.Caution = was.Plants
	}
}

// caused is why a paddock is shut, or was until the calendar ended it.
type caused struct {
	now, ended []shut.Cause
	atRisk     []string
	kinOut     civil.Date
	unproved   bool
}

func (l *look) causes(p *Paddock) *caused {
	c := l.shut[p]
	if c == nil {
		g := l.ground(p, l.risks(p), l.readings(p))
		c = &caused{atRisk: shut.AtRisk(g), kinOut: shut.OutBy(g), unproved: shut.Unproved(g)}
		c.now, c.ended = shut.Causes(g)
		l.shut[p] = c
	}
	return c
}

// clearedSince reports whether a person checked the ground after a fact was known.
func (l *look) clearedSince(paddock string, f diary.Fact) bool {
	for c := range l.Book.About(paddock, diary.Clear, f.Day) {
		if shut.Later(c, &f) {
			return true
		}
	}
	return false
}

// Cause is the fact that began the hold.
func (h *Hold) Cause() int64 { return h.opened.ID }

// Since is the instant at which it began.
func (h *Hold) Since() time.Time { return h.opened.At }

// Latest is the instant at which its last cause was known.
func (h *Hold) Latest() time.Time { return h.last.At }

// Step is which telling of the hold counts on a day, and the day it fell due. A
// hold is told when it begins, with its last day by then, and again the day
// before that where something since has made it longer: nobody must turn in on
// an old date.
func (h *Hold) Step(today civil.Date) (step int, day civil.Date) {
	day = h.Began
	for until := h.toldUntil(day); !until.IsZero(); step++ {
		came := until.AddDays(-1)
		next, _ := h.longerBy(until, came)
		if next == until { // what comes on the last day itself is told then
			var on civil.Date
			next, on = h.longerBy(until, until)
			came = diary.LaterDay(came, on)
		}
		if next == until || came.After(today) {
			break
		}
		day, until = came, next
	}
	return step, day
}

// longerBy is the last day held by what had come up to a day, where that is later than
// one that was told, and the day on which the last of it came.
func (h *Hold) longerBy(until, by civil.Date) (longest, last civil.Date) {
	longest = until
	for _, m := range h.marks {
		if l := longer(longest, m.Until); l != longest && !m.Day.After(by) {
			longest, last = l, diary.LaterDay(last, m.Day)
		}
	}
	return longest, last
}

// toldUntil is the last day held by what had come up to a day.
func (h *Hold) toldUntil(day civil.Date) (until civil.Date) {
	for i, m := range h.marks {
		if m.Day.After(day) {
			break
		}
		if i == 0 {
			until = m.Until
		}
		until = longer(until, m.Until)
	}
	return until
}
