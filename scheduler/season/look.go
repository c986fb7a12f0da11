package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// A look is one day's view over a farm.
type look struct {
	farm  *Farm
	book  *diary.Book
	today civil.Date
	shelf *Shelf
	air   *frost.Record // observed days up to yesterday; nil where none
	moves *Moves
	herds []herd.Herd // as the diary has them
}

// Sight is what a farm is looked at with.
type Sight struct {
	Farm  *Farm
	Book  *diary.Book
	Today civil.Date
	Shelf *Shelf
	// Air is the observed temperatures and rain, none of today or later; nil
	// where nothing is measured.
	Air *frost.Record
}

func (s Sight) look() *look {
	if s.Shelf == nil {
		s.Shelf = &Shelf{}
	}
	return &look{
		farm: s.Farm, book: s.Book, today: s.Today, shelf: s.Shelf, air: s.Air,
		moves: Follow(s.Farm, s.Book, s.Today),
		herds: weaned(s.Farm.Herds, s.Book, s.Today),
	}
}

// Look is every paddock of a farm on one day, in file order.
func Look(s Sight) []View {
	l := s.look()
	views := make([]View, len(s.Farm.Paddocks))
	for i := range s.Farm.Paddocks {
		views[i] = l.view(&s.Farm.Paddocks[i])
	}
	return views
}

// almanac is the one that a season is planned with.
func (l *look) almanac(year int) *Almanac { return l.shelf.Almanac(l.farm.Plan, year) }

func (l *look) view(p *Paddock) View {
	year := YearOf(l.today, p.Rule.Spring)
	v := View{Paddock: p, Today: l.today, Year: year, Dates: l.datesOf(p, year), Herds: l.moves.Standing(p.ID)}
	v.Phase = phaseOf(v.Dates, l.today, p.Native())
	if use, ok := l.farm.UsedIn(p.ID, year); ok && p.Native() {
		v.FallUse, v.UseAcres = true, use.Acres
	}
	v.Hold, v.WasHeld = l.holds(p, year)
	v.Drought = l.droughtSince(p, v.Dates)

	visits := l.visits(p.ID, v.Dates.Turn)
	v.Reading, v.Readings, v.Visits = lastVisit(visits, l.today), len(visits), visits
	if p.Native() && !v.Dates.Cutoff.IsZero() {
		v.Dates.LikelyEnd = l.likelyEnd(p, v.Dates)
	}
	if end := endVisit(visits, v.Dates.Ended); end != nil {
		v.EndHeight, v.EndRead = end.Sample.Mean, end.Day
	}
	if !v.Dates.Ended.IsZero() {
		done := l.finished(p, year, v.Dates)
		v.Finished = &done
	}
	grows := l.growth(p, year)
	v.Ahead = l.forecast(&v, grows)
	v.Verdict = l.judge(&v, grows)
	v.RunsOut = l.runsOut(&v, grows)
	return v
}

// judge gives the verdict on a paddock as it was read, with what must always
// be said beside it.
func (l *look) judge(v *View, grows grass.Growth) Verdict {
	c := l.caseOf(v, grows)
	out := Judge(c)
	if !c.Read {
		return out
	}
	s := v.Reading.Sample
	out.Patchy = v.Paddock.Native() && s.Patchy(c.Min)
	if out.Action != ReadIt && out.Floor > 0 && s.TodayOnly(out.Floor) {
		out.TodayOnly = true
		out.ReadMore = s.MoreToSettle(out.Floor)
	}
	out.ReadAgain = readAgain(out, c.AnimalsIn)
	return out
}

// readAgain is in how many days a paddock wants its next reading; 0 where it
// doesn't. Common practice: sooner while it is grazed.
func readAgain(v Verdict, in bool) int {
	switch {
	case v.Say != Go || !in:
		return 0
	case v.More:
		return 7
	case v.Days != nil:
		return min(max(int(*v.Days)-2, 1), oldReadingGrazed)
	}
	return oldReadingGrazed
}

func (l *look) caseOf(v *View, grows grass.Growth) Case {
	p := v.Paddock
	c := Case{
		Today: l.today, Phase: v.Phase, Native: p.Native(), Held: v.Hold != nil, FallUse: v.FallUse,
		AnimalsIn: v.Herds.Occupancy == Grazed,
		Leave:     p.Floor(), AtFrost: p.Rule.AtFrost, Min: p.Rule.Min, Begin: p.begin(),
		EndHeight: v.EndHeight, Frost: v.Dates.Frost, Cutoff: v.Dates.Cutoff,
	}
	if v.Reading == nil {
		return c
	}
	c.Read, c.Height, c.Age = true, v.Reading.Sample.Mean, l.today.DaysSince(v.Reading.Day)
	if v.Ahead != nil && !v.Drought {
		c.Growth = max(0, v.Ahead.Mean-c.Height)
	}
	c.DaysAbove = l.daysAbove(v, grows)
	return c
}

// begin is B: what the farm file says, else the species' own, else the farm's
// default.
func (p *Paddock) begin() float64 {
	if p.Native() || p.Rule.Begin > 0 {
		return p.Rule.Begin
	}
	return p.Grass.Begin.Value
}

// runsOut is the day on which the grass of a fall-use paddock runs out, judged
// on the day it was read.
func (l *look) runsOut(v *View, grows grass.Growth) civil.Date {
	if !v.FallUse || v.Phase != Rest || v.Reading == nil || v.Hold != nil || v.Reading.Day.Before(v.Dates.Cutoff) {
		return civil.Date{}
	}
	c := l.caseOf(v, grows)
	c.Age = 0
	out := Judge(c)
	switch {
	case out.Say == Wait:
		return v.Reading.Day
	case out.More || out.Days == nil:
		return civil.Date{}
	}
	return v.Reading.Day.AddDays(int(*out.Days))
}
