package season

import (
	"math"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// holds gives the hold over a paddock today, or the one that the calendar ended
// within the last week; both nil where there is neither.
//
// A hold begins with the first frost of 36 F or below anywhere on the farm, is
// restarted by each later frost up to and including the first killing freeze,
// and lasts through the longest published wait of its plants. After the killing
// freeze a frost restarts it only where regrowth was reported, once for each
// report. A person's `clear` ends it. A frost that was taken back still holds:
// what may have turned poisonous is looked at, not argued away.
func (l *look) holds(p *Paddock, year int) (now, was *Hold) {
	h := l.lastHold(p, year)
	switch {
	case h == nil || l.clearedBetween(p.ID, h.lastFrost.ID, math.MaxInt64):
		return nil, nil
	case !l.today.After(h.Until):
		return h, nil
	case l.today.DaysSince(h.Until) <= 7:
		return nil, h
	}
	return nil, nil
}

// lastHold is the newest hold of a season, over or not.
func (l *look) lastHold(p *Paddock, year int) *Hold {
	var h *Hold
	risks := hazardsOf(p)
	if len(risks) == 0 {
		return nil
	}
	killed, regrown := false, 0 // regrown: reports of regrowth used up
	for _, f := range l.book.FrostsEver() {
		if f.Day.After(l.today) || !inColdSeason(f.Day, year, p.Rule.Spring) {
			continue
		}
		if killed {
			n := l.countUntil(diary.Regrowth, p.ID, year, f.Day)
			if n <= regrown {
				continue
			}
			regrown = n
		}
		killed = killed || f.TempC != nil && frost.KillingFreeze28F.Reached(frost.FromC(*f.TempC))
		plants, short := l.plantsAt(p.ID, risks, f.Day)
		if len(plants) == 0 {
			continue
		}
		if h == nil || f.Day.After(h.Until) || l.clearedBetween(p.ID, h.lastFrost.ID, f.ID) {
			h = &Hold{Began: f.Day, opened: f}
		}
		h.Plants, h.Short, h.lastFrost = plants, short, f
		h.wait = longestWait(plants)
		h.Until = f.Day.AddDays(h.wait)
		h.frosts = append(h.frosts, f.Day)
	}
	return h
}

// inColdSeason reports whether a frost belongs to a season: from Aug 1 to the
// year's turn.
func inColdSeason(day civil.Date, year int, turn MonthDay) bool {
	return !day.Before(civil.Date{Year: year, Month: time.August, Day: 1}) && day.Before(turn.In(year+1))
}

// plantsAt lists those of a paddock's risky plants that a frost on a day makes dangerous,
// and whether they are so only because the stand was short or was not read.
func (l *look) plantsAt(paddock string, risks []grass.Hazard, day civil.Date) (plants []grass.Hazard, short bool) {
	height, age := 0.0, -1
	if v := l.visitBefore(paddock, day); v != nil {
		height, age = v.Sample.Mean, day.DaysSince(v.Day)
	}
	short = true
	for _, h := range risks {
		if h.HeldWhen(height, age) {
			plants = append(plants, h)
			short = short && h.Conditional
		}
	}
	return plants, short && len(plants) > 0
}

// hazardsOf lists the hazard plants of a paddock: those that the farm file
// names and what its own grass is.
func hazardsOf(p *Paddock) []grass.Hazard {
	plants := append([]grass.Hazard(nil), p.Hazards...)
	own := p.Grass.Hazard
	if p.Grass.Dhurrin {
		own = p.Grass.Name
	}
	if h, ok := grass.LookupHazard(own); ok && own != "" {
		plants = append(plants, h)
	}
	return plants
}

func longestWait(plants []grass.Hazard) int {
	days := 0
	for _, h := range plants {
		days = max(days, h.Days)
	}
	return days
}

// countUntil counts the facts of a kind of the season, a paddock's own and the
// whole farm's, on or before a day.
func (l *look) countUntil(kind diary.Kind, paddock string, year int, day civil.Date) int {
	n := 0
	for _, facts := range [][]diary.Fact{l.book.Of(paddock), l.book.Farm()} {
		for _, f := range facts {
			if f.Kind == kind && f.Day.Year >= year && !f.Day.After(day) && !f.Day.Before(civil.Date{Year: year, Month: time.August, Day: 1}) {
				n++
			}
		}
	}
	return n
}

// clearedBetween reports whether a person checked the ground after one fact was
// written down and before another.
func (l *look) clearedBetween(paddock string, after, before int64) bool {
	for _, facts := range [][]diary.Fact{l.book.Of(paddock), l.book.Farm()} {
		for _, f := range facts {
			if f.Kind == diary.Clear && !f.Day.After(l.today) && f.ID > after && f.ID < before {
				return true
			}
		}
	}
	return false
}

// Cause is the fact that began the hold or began it anew.
func (h *Hold) Cause() int64 { return h.opened.ID }

// Step is which telling of the hold counts on a day, and the day it fell due. A
// hold is told when it begins, with its last day by then, and again on that day
// where frosts since have made it longer: nobody must turn in on an old date.
func (h *Hold) Step(today civil.Date) (step int, day civil.Date) {
	day = h.Began
	until := day.AddDays(h.wait)
	for !today.Before(until) {
		next := until
		for _, f := range h.frosts {
			if u := f.AddDays(h.wait); !f.After(until) && u.After(next) {
				next = u
			}
		}
		if next == until {
			break
		}
		step, day, until = step+1, until, next
	}
	return step, day
}

// Since is the instant at which it began.
func (h *Hold) Since() time.Time { return h.opened.At }

// Hazards names the plants of a paddock that turn on stock after a frost.
func (v *View) Hazards() []string {
	var names []string
	for _, h := range hazardsOf(v.Paddock) {
		names = append(names, h.Name)
	}
	return names
}

// Latest is the instant at which the frost was known that it is counted from
// now.
func (h *Hold) Latest() time.Time { return h.lastFrost.At }
