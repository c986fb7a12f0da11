package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// Ending is what ended a rest.
type Ending string

const (
	ByFreeze Ending = "freeze"   // a killing freeze, measured, or a frost that was enough by the farm's rule
	ByBrown  Ending = "brown"    // a person saw brown tops
	ByYear   Ending = "no frost" // Dec 31 was the last day of rest
)

// ending is the first dormant day of a season and what brought it; zero while it
// has not come. Where nothing else came Dec 31 was the last day of rest.
//
// A freeze that comes too soon ends growth and not rest, since one cold night on
// an instrument need not have killed a paddock: it is doubted until a second one a
// week or more later, or brown tops. Brown tops that come too soon are drought's.
func (l *look) ending(p *Paddock, year int) (end civil.Date, by Ending, doubted civil.Date) {
	newYear := civil.Date{Year: year + 1, Month: time.January, Day: 1}
	early := l.early(p, p.Rule.EndsAt, year)
	for _, f := range l.frosts(year) {
		if f.Day.After(l.Today) || !f.Concerns(p.ID) || !p.EndsRest(*f) {
			continue
		}
		if !f.Day.Before(early) || !doubted.IsZero() && f.Day.DaysSince(doubted) >= believedAfter {
			end, by = f.Day, ByFreeze
			break
		}
		doubted = diary.EarlierDay(doubted, f.Day)
	}
	if b := l.firstBrown(p, year, early); !b.IsZero() && b.Before(newYear) && (end.IsZero() || b.Before(end)) {
		end, by = b, ByBrown
	}
	if end.IsZero() && !l.Today.Before(newYear) {
		end, by = newYear, ByYear
	}
	return end, by, doubted
}

// believedAfter is how many days after a doubted killing freeze a second one is
// believed.
const believedAfter = 7

// firstBrown is the first day of a fall on which brown tops counted: from the early
// side of the killing freeze on, or after a frost of 32 F or below, or one that a
// person saw.
func (l *look) firstBrown(p *Paddock, year int, early civil.Date) (first civil.Date) {
	for _, f := range fallOf(l.Book.Every(diary.Brown), year) {
		if !f.Concerns(p.ID) || f.Day.After(l.Today) {
			continue
		}
		if froze := l.frozeBy(p, year); !early.IsZero() && !f.Day.Before(early) || !froze.IsZero() && !f.Day.Before(froze) {
			return f.Day
		}
	}
	return first
}

// frozeBy is the first freeze of a fall that brown tops can come of; zero where
// none came.
func (l *look) frozeBy(p *Paddock, year int) (first civil.Date) {
	for _, f := range l.frosts(year) {
		if f.Concerns(p.ID) && (f.TempC == nil || frost.Freeze32F.Reached(frost.FromC(*f.TempC))) {
			first = diary.EarlierDay(first, f.Day)
		}
	}
	return first
}

// frostCame reports whether the season's first frost has come to a paddock, so
// that nothing more grows.
func (l *look) frostCame(p *Paddock, year int) bool {
	first := l.firstFrost(p, year)
	return !first.IsZero() && !first.After(l.Today)
}

// firstFrost is the season's first frost at the planning threshold on a
// paddock, at which its growth ends; zero while none came. What was measured is
// moved by the paddock's offset as the station's past falls are; what a person
// saw is not.
//
// The station's own date counts where its record holds up to it. Else it is the
// first that the record or anybody has: a person's frost counts as 32 F, on a
// night that the station has no minimum of.
func (l *look) firstFrost(p *Paddock, year int) civil.Date {
	first, sure := l.stationFrost(year)
	if !first.IsZero() {
		first = first.AddDays(p.FrostOffset)
	}
	if sure {
		return first
	}
	for _, f := range l.frosts(year) {
		if f.Day.After(l.Today) || !f.Concerns(p.ID) {
			continue
		}
		day := f.Day
		switch {
		case f.TempC == nil:
			if !l.Farm.Plan.Threshold.Reached(frost.FromC(0)) || l.Air != nil && l.Air.Day(f.Day).Min.Known() {
				continue
			}
		case !l.Farm.Plan.Threshold.Reached(frost.FromC(*f.TempC)):
			continue
		default:
			day = day.AddDays(p.FrostOffset)
		}
		first = diary.EarlierDay(first, day)
	}
	return first
}

// stationFrost is the first frost of a fall that was observed and not taken
// back; sure where few days before it are missing.
func (l *look) stationFrost(year int) (first civil.Date, sure bool) {
	if l.Air == nil {
		return civil.Date{}, false
	}
	s, ok := l.station[year]
	if !ok {
		s = l.observedFrost(year)
		l.station[year] = s
	}
	return s.first, s.sure
}

func (l *look) observedFrost(year int) stationFall {
	th := l.Farm.Plan.Threshold
	s, ok := l.Air.Season(year, th)
	if !ok || !s.Came() {
		return stationFall{}
	}
	day := s.First
	for day.Year == year && (l.takenBack[day] || !th.Reached(l.Air.Day(day).Min)) {
		day = day.AddDays(1)
	}
	if day.Year != year || !day.Before(l.Today) {
		return stationFall{}
	}
	return stationFall{day, s.Counted}
}

// frosts are those of a fall that stand.
func (l *look) frosts(year int) []*diary.Fact { return fallOf(l.Book.Every(diary.Frost), year) }

// fallOf are facts in their order from Aug 1 to Dec 31 of a year.
func fallOf(facts []*diary.Fact, year int) []*diary.Fact {
	facts = facts[diary.From(facts, civil.Date{Year: year, Month: time.August, Day: 1}):]
	return facts[:diary.From(facts, civil.Date{Year: year + 1, Month: time.January, Day: 1})]
}

// takenBack are the days whose measured frost was taken back: the instrument
// was wrong.
func takenBack(book *diary.Book) map[civil.Date]bool {
	days := map[civil.Date]bool{}
	for _, f := range book.Voided() {
		if f.Kind == diary.Frost && f.Measured() {
			days[f.Day] = true
		}
	}
	return days
}

// stationFall is what the observed days say of one fall.
type stationFall struct {
	first civil.Date
	sure  bool
}

// EndsRest reports whether a fact that concerns a paddock is a freeze that ends
// its rest. A person's frost is a light one, which is enough only where the
// farm's rule is 32 F or above.
func (p *Paddock) EndsRest(f diary.Fact) bool {
	t := frost.FromC(0)
	if f.TempC != nil {
		t = frost.FromC(*f.TempC)
	}
	return f.Kind == diary.Frost && p.Native() && p.Rule.EndsAt.Reached(t)
}
