package spring

import (
	"math"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/season"
)

// Move is how long animals may stay on open ground.
type Move struct {
	Days *int    `json:"days,omitempty"` // whole days, 0 is today and 14 may be more; nil where nobody knows
	Stop float64 `json:"stop"`           // the height at which they leave, in
}

// MoveFrom is that of a paddock that was read; nil where no animals stand on it, it
// is not open, or something else than its grass decides.
func MoveFrom(v *season.View) *Move {
	if v.Herds.Occupancy != season.Grazed || v.Phase != season.Open || v.FallUse || v.Reading == nil {
		return nil
	}
	m := &Move{Stop: v.Paddock.Floor()}
	switch v.Verdict.Reason {
	case season.UnderLeave, season.EatenDown:
		m.Days = new(int)
	case season.GrazedEnough:
		if v.Verdict.Days != nil {
			m.Days = new(int(math.Floor(*v.Verdict.Days + 1e-9)))
		}
	default:
		return nil
	}
	return m
}

// ladderBegins is how many days before a cutoff its own reminders speak of the
// ground, and where to go from it.
const ladderBegins = 10

// Summer reports whether a day lies between the year's turn and the reminders of a
// cutoff; zero is a cutoff that never comes.
func Summer(today, cutoff civil.Date) bool {
	return today.Month >= time.April && today.Month <= time.September && (cutoff.IsZero() || cutoff.DaysSince(today) > ladderBegins)
}

// Steer is whether a paddock will have at its cutoff what it must leave. Heights are
// inches.
type Steer struct {
	Days     int        `json:"days"` // to the cutoff
	Leave    float64    `json:"leave"`
	Height   float64    `json:"height,omitempty"` // as it was read; 0 where nobody read it this season
	Read     civil.Date `json:"read,omitzero"`
	Fresh    bool       `json:"fresh,omitempty"`     // the reading still says what stands there
	AtCutoff float64    `json:"at_cutoff,omitempty"` // if it is rested from today
	Passes   int        `json:"passes,omitempty"`    // down to Leave that still end in time, one under way counted
	Counted  bool       `json:"counted,omitempty"`   // there is a herd to count passes with
	Grazed   bool       `json:"grazed,omitempty"`
}

// Short reports whether it will lack what it must leave even if nothing more is
// taken.
func (s *Steer) Short() bool { return s.Fresh && s.AtCutoff < s.Leave }

// steerFrom is the month from which the height at the cutoff is looked ahead to.
const steerFrom = time.July

// SteerOf looks ahead to a paddock's cutoff; nil where none comes, before July, and
// where the ground is shut for another reason.
func SteerOf(v *season.View, ahead season.Prospect) *Steer {
	d := v.Dates
	if !v.Paddock.Native() || v.Phase != season.Open || v.FallUse || d.Cutoff.IsZero() || len(v.Shut) > 0 ||
		v.Today.Month < steerFrom || v.Today.Year != d.Cutoff.Year || !v.Today.Before(d.Cutoff) {
		return nil
	}
	s := &Steer{Days: d.Cutoff.DaysSince(v.Today), Leave: v.Paddock.Floor(), Grazed: v.Herds.Occupancy == season.Grazed}
	if v.Reading == nil {
		return s
	}
	s.Height, s.Read = v.Reading.Sample.Mean, v.Reading.Day
	if s.Fresh = v.Verdict.Action != season.ReadIt; s.Fresh {
		s.AtCutoff = ahead.Grown(ahead.Now, v.Today, d.Cutoff)
		s.Passes, s.Counted = passes(v, ahead)
	}
	return s
}

// regrows is how many days ground stands empty at least before it counts as another
// pass (assumption; 4 to 6 weeks are published for switchgrass by Mississippi State,
// 30 to 45 days for gamagrass by USDA-ARS 2001, for ground grazed to its stop each
// time).
const regrows = 14

// passes counts how often a paddock can still be grazed down to what it must leave
// before its cutoff, by the rows of the verdict on open ground; false with no herd
// on file.
func passes(v *season.View, ahead season.Prospect) (n int, known bool) {
	cutoff, leave := v.Dates.Cutoff, v.Paddock.Floor()
	day, height, ready := v.Today, ahead.Now, v.Today
	in := v.Herds.Occupancy == season.Grazed
	for day.Before(cutoff) {
		lasts, counted := ahead.Days(height)
		if !counted {
			return 0, false
		}
		left := cutoff.DaysSince(day)
		worth := min(lasts, float64(left)) >= season.WorthTurningIn && (height >= v.Begin || left <= season.LateInSeason) && !day.Before(ready)
		if in && lasts >= 1 || !in && worth {
			n++
			day = day.AddDays(max(1, int(math.Ceil(lasts))))
			height, ready, in = leave, day.AddDays(regrows), false
			continue
		}
		in = false
		height, day = ahead.Grown(height, day, day.AddDays(1)), day.AddDays(1)
	}
	return n, true
}
