package season

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/season/shut"
)

// A View is everything there is to know of one paddock on one day.
type View struct {
	Paddock *Paddock
	Today   civil.Date
	Year    int // the season, labelled by the year of its fall
	Dates   Dates
	Phase   Phase
	Shut    []shut.Cause // why it is shut whatever its grass; empty where nothing shuts it
	Hold    *Hold        // what the holds among them come to; nil where it is not held
	AtRisk  []string     // the plants of it that a frost to come would turn
	Barred  []string     // the herds that may stand here at no height: horses, on sorghum kin
	Liver   []string     // the herds that its own grass harms: sheep, goats and horses, on switchgrass
	// Unwatched says that nothing measured the last two nights.
	Unwatched bool
	WasHeld   *Hold          // a hold that the calendar ended within the last week
	Caution   []grass.Hazard // of a hold that the calendar ended: said with the first height since
	Herds     Standing
	Reading   *Visit  // the latest reading of this season; nil where none
	Readings  int     // of this season
	Visits    []Visit // those readings, and what haying left, oldest first; not to be changed
	FallUse   bool
	UseAcres  float64
	Drought   bool
	// RainCame is the day that ended this season's drought; zero where none did.
	RainCame civil.Date
	// Failed says that the rest of this season came to too little, or of the last
	// one where this one's has not ended: nothing begins there early.
	Failed bool
	Begin  float64 // B as it applies today, in: later after a rest that failed
	// Ahead is what the grass will be at frost if rested from today; nil where
	// nothing can be said.
	Ahead   *Forecast
	Verdict Verdict
	// Cautions are what may harm animals here at any height, whichever herd it is.
	Cautions []Caution
	// RunsOut is the day from which animals must be off a fall-use paddock by the
	// latest reading; zero where unknown.
	RunsOut civil.Date
	// EndHeight is the height at the end of rest in inches, 0 where it was not
	// read; EndRead is the day of that reading.
	EndHeight float64
	EndRead   civil.Date
	Finished  *Finished // this season, once its rest has ended

	kinOut   civil.Date // the last day on which animals may stand on sorghum kin; zero on other ground
	unproved bool       // it is sown to sorghum kin that nobody has read tall enough within days
}

// aheadOfFrost is how many days before frost must be reckoned with no herd is sent
// to plants that it turns: as long as a paddock's grass is told for (assumption).
const aheadOfFrost = maxDays

// Perilous reports whether it is no place to send a herd: it is shut, frost may
// turn its plants while the herd is there, or nobody knows them tall enough.
func (v *View) Perilous() bool {
	soon := !v.Dates.Cold.IsZero() && !v.Today.AddDays(aheadOfFrost).Before(v.Dates.Cold)
	return len(v.Shut) > 0 || v.unproved || soon && len(v.AtRisk) > 0
}

// Bars reports whether some of the animals of other ground may not come here.
func (v *View) Bars(from *View) bool {
	if from.Herds.Occupancy == Unknown {
		return len(v.Barred) > 0
	}
	return slices.ContainsFunc(v.Barred, func(herd string) bool { return slices.Contains(from.Herds.Herds, herd) })
}

// Rests reports whether no herd is to be put in because of a rest: ground in fall use
// rests too once its days have run out by the latest reading.
func (v *View) Rests() bool {
	return v.Phase == Rest && (!v.FallUse || !v.RunsOut.IsZero() && !v.Today.Before(v.RunsOut))
}

// A Forecast is the height to come at one day if the paddock is rested until then.
type Forecast struct {
	From     float64 // in, the height it starts from
	At       civil.Date
	Mean     float64
	Low      float64 // 10 % point
	High     float64 // 90 % point
	Chance   float64 // of T at frost, 0-1
	Known    bool    // the paddock has the seasons for the chance to be told
	Seasons  int     // its own finished seasons
	Falls    int     // past falls that it rests on
	ByCutoff float64 // in, height expected at C if rested from today; 0 where C is past
}

// A Land is a farm on one day, of which each paddock is looked at when it is asked
// for.
type Land struct{ l *look }

// Land is the farm of a sight.
func (s Sight) Land() Land { return Land{s.look()} }

// View is the i-th paddock of the file.
func (l Land) View(i int) View { return l.l.view(&l.l.Farm.Paddocks[i]) }

// Of is the paddock with an id; false where none has it.
func (l Land) Of(id string) (View, bool) {
	p, ok := l.l.Farm.Paddock(id)
	if !ok {
		return View{}, false
	}
	return l.l.view(p), true
}

// Moves is where every herd has been.
func (l Land) Moves() *Moves { return l.l.moves }

// Look is every paddock of a farm on one day, in file order.
func Look(s Sight) []View { return s.Land().Look() }

// Look is every paddock, in file order.
func (l Land) Look() []View {
	views := make([]View, len(l.l.Farm.Paddocks))
	for i := range views {
		views[i] = l.View(i)
	}
	return views
}

func (l *look) view(p *Paddock) View {
	year, read := YearOf(l.Today, p.Rule.Spring), l.readings(p)
	v := View{Paddock: p, Today: l.Today, Year: year, Dates: l.datesOf(p, year), Herds: l.moves.Standing(p.ID)}
	v.Phase = phaseOf(v.Dates, l.Today, p.Native())
	if use, ok := l.Farm.UsedIn(p.ID, year); ok && p.Native() {
		v.FallUse, v.UseAcres = true, use.Acres
	}
	l.shutBy(&v, read)
	v.Unwatched = shut.Stopped(l.lastMin, l.Today)
	call, rain := l.drought(p, v.Dates.Turn)
	v.Drought, v.RainCame = call != nil && rain.IsZero(), rain

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
		v.Failed = l.failed(&v, known)
		v.Ahead = l.forecast(l.Today, &v, known.growth)
	}
	v.Begin = p.BeginsAt(v.Failed && v.Phase == Open)
	v.RunsOut = l.runsOut(&v, known)
	v.Cautions = l.cautions(&v)
	v.Verdict = l.judge(&v, known)
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

// LookAt is one paddock of a farm on one day.
func LookAt(s Sight, p *Paddock) View { return s.look().view(p) }
