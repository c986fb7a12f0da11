package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// Sight is what a farm is looked at with.
type Sight struct {
	Farm  *Farm
	Book  *diary.Book
	Today civil.Date
	Cache *Cache
	// Air is the observed temperatures and rain, none of today or later; nil
	// where nothing is measured.
	Air *frost.Record
}

// A look is one day's view over a farm.
type look struct {
	Sight
	moves *Moves
	herds []herd.Herd // as the diary has them

	frosts    map[int][]diary.Fact // those that stand, by fall
	cold      []diary.Fact         // those of this cold season, taken back or not
	takenBack map[civil.Date]bool
	station   map[int]stationFall
	stands    map[string][]grass.Hazard // what a stand is by itself, by species
	farmwide  version
}

func (s Sight) look() *look {
	if s.Cache == nil {
		s.Cache = &Cache{}
	}
	l := &look{
		Sight:  s,
		herds:  weaned(s.Farm.Herds, s.Book, s.Today),
		frosts: frostsByFall(s.Book), cold: coldSeason(s.Book, s.Today), takenBack: takenBack(s.Book),
		station: map[int]stationFall{}, stands: map[string][]grass.Hazard{},
		farmwide: versionOf(s.Book.Farm(), s.Today),
	}
	l.moves = l.follow()
	return l
}

// PlannedFrost is the frost that a farm counts back from this season; the error
// says why there is none.
func (s Sight) PlannedFrost() (civil.Date, error) { return s.look().almanac(s.Today.Year).frost() }

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
func (l *look) almanac(year int) *almanac {
	k := almanacOf{l.Farm.Plan, year}
	return keep(l.Cache, k, func() *almanac { return newAlmanac(k.plan, k.year) })
}

func (l *look) view(p *Paddock) View {
	year, read := YearOf(l.Today, p.Rule.Spring), l.readings(p)
	v := View{Paddock: p, Today: l.Today, Year: year, Dates: l.datesOf(p, year), Herds: l.moves.Standing(p.ID)}
	v.Phase = phaseOf(v.Dates, l.Today, p.Native())
	if use, ok := l.Farm.UsedIn(p.ID, year); ok && p.Native() {
		v.FallUse, v.UseAcres = true, use.Acres
	}
	risks := l.risks(p)
	v.Risky = len(risks) > 0
	v.Hold, v.WasHeld = l.holds(p, risks, read)
	_, v.Drought = l.Book.Latest(diary.Dry, p.ID, v.Dates.Turn, l.Today)

	v.Visits = read.between(v.Dates.Turn, l.Today.AddDays(1))
	for i := range v.Visits {
		if !v.Visits[i].mown {
			v.Readings++
		}
	}
	if at := read.standing(l.Today); at != nil && !at.Day.Before(v.Dates.Turn) {
		v.Reading = at
	}
	known := l.learn(p, year)
	if p.Native() {
		v.Dates.LikelyEnd = l.likelyEnd(p, v.Dates)
		l.ended(&v, read)
		v.Ahead = l.forecast(&v, known.growth)
	}
	v.Verdict = l.judge(&v, known)
	v.RunsOut = l.runsOut(&v, known)
	return v
}

// ended fills in what a season came to, once its rest is over.
func (l *look) ended(v *View, read *readings) {
	if v.Dates.Ended.IsZero() {
		return
	}
	if end := read.end(v.Dates.Ended); end != nil {
		v.EndHeight, v.EndRead = end.Sample.Mean, end.Day
	}
	a := l.almanac(v.Year)
	done := []Finished{l.finished(v.Paddock, v.Year, v.Dates, read, a)}
	if a.err == nil {
		teach(l.prior(v.Paddock, a), done)
	}
	v.Finished = &done[0]
}
