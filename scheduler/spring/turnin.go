package spring

import (
	"math"
	"time"

	"github.com/golang-sql/civil"
	"gonum.org/v1/gonum/stat"

	"stubbled/scheduler/figure"
	"stubbled/scheduler/season"
)

// What is known of spring growth. Sources give no inches a day for any month.
var (
	// toBegin is days from the start of growth to the height to begin at.
	toBegin = figure.Of(17, 10, 26, figure.Derived, "big bluestem starts early in May (Univ. of Tennessee SP731-C) and is grazed from mid to late May (Agron. J. 95:1240, 2003)")
	// daily is spring growth, inches a day of grass that is begun at 14 in; others in
	// proportion.
	daily = figure.Of(0.4, 0.25, 0.6, figure.Assumption, "no inches a day found published for any month")
	// burned is days that it all comes sooner after a spring fire.
	burned = figure.Of(14, 0, 0, figure.SecondHand, "about two weeks (Univ. of Tennessee, Drovers)")
)

const tallBegin = 14 // in, that daily is said for

// Figures are those that turn-in rests on.
func Figures() (all figure.Names) {
	all.Add("spring", "start of growth to begin", "days", toBegin)
	all.Add("spring", "growth of tall natives", "in a day", daily)
	all.Add("spring", "sooner after a fire", "days", burned)
	return all
}

// How own springs are weighed (assumptions): one differs from the next by about
// a week, and as much is believed before there are four.
const (
	springsDiffer = 8.0 // days
	believed      = 3.0 // springs
	mostOf10      = 1.28
	tells         = 8.0 // in that a reading may lie from a height and still tell its day
	freshFor      = 21  // days that a spring reading says more than the calendar
	lastMonth     = time.June
)

// TurnIn is when a paddock may be begun after winter. Heights are inches.
type TurnIn struct {
	Begin              float64    `json:"begin"` // B as it applies: later after a rest that failed
	About, Early, Late civil.Date // by which it will stand that tall
	Springs            int        `json:",omitempty"` // own springs that it rests on; 0 are published dates
	Height             float64    `json:",omitempty"` // as read this spring; 0 where nobody did
	Read               civil.Date `json:",omitzero"`
	Rested             bool       `json:",omitempty"` // all last fall
	Failed             bool       `json:",omitempty"` // last fall's rest came to too little: it is begun last
	ByReading          bool       `json:",omitempty"` // the days come from this spring's reading
	Ready              bool       `json:",omitempty"` // it stood that tall when it was read
	Stale              bool       `json:",omitempty"` // which is too long ago to turn in on
}

// Turn is when a paddock may be begun; nil where it was begun, is no native, or is shut
// for another reason, and outside of spring.
func Turn(v *season.View, springs []season.Spring) *TurnIn {
	now, open := thisSpring(v, springs)
	if !open || v.Herds.Occupancy == season.Grazed || !now.Grazed.IsZero() {
		return nil
	}
	t := &TurnIn{Begin: v.Begin, Failed: v.Failed}
	if f := now.Before; f != nil {
		t.Rested = f.Failed == "" && !f.Grazed && f.RealRest > 0
	}
	t.expect(v, springs)
	return t
}

// Begins reports whether it is spring on native ground that nothing else shuts.
func Begins(v *season.View) bool {
	return v.Paddock.Native() && v.Phase == season.Open && len(v.Shut) == 0 && v.Today.Month <= lastMonth && v.Today.Year == v.Year
}

// thisSpring is that of a paddock where it can be begun; false where it is not for its
// grass to decide.
func thisSpring(v *season.View, springs []season.Spring) (now season.Spring, open bool) {
	if len(springs) == 0 || !Begins(v) {
		return now, false
	}
	now = springs[len(springs)-1]
	return now, now.Year == v.Year
}

// expect is the day of B: from this spring's reading, else from the paddock's own
// springs by their date, which explains more than heat does for these grasses (Mead,
// Nebraska; Intl. Grassland Congress 1997), else from published dates.
func (t *TurnIn) expect(v *season.View, springs []season.Spring) {
	var own []float64
	for _, s := range springs[:len(springs)-1] {
		if day, ok := Reached(s, t.Begin, rate(springs, t.Begin)); ok && !s.Burned {
			own = append(own, float64(day.DaysSince(s.Turn)))
		}
	}
	turn := v.Dates.Turn
	if t.Springs = len(own); t.Springs > 0 {
		mean, sum := stat.Mean(own, nil), believed*springsDiffer*springsDiffer
		for _, d := range own {
			sum += (d - mean) * (d - mean)
		}
		n := float64(len(own))
		reach := mostOf10 * math.Sqrt(sum/(believed+n-1)*(1+1/n))
		t.About, t.Early, t.Late = after(turn, mean), after(turn, mean-reach), after(turn, mean+reach)
	} else {
		starts, year := v.Paddock.Grass.Starts, civil.Date{Year: v.Year, Month: time.January, Day: 0}
		more := max(0, t.Begin-v.Paddock.Grass.Begin.Value) / (daily.Value * v.Paddock.Grass.Begin.Value / tallBegin)
		t.About, t.Early, t.Late = after(year, starts.Value+toBegin.Value+more), after(year, starts.Low+toBegin.Low+more), after(year, starts.High+toBegin.High+more)
	}
	if springs[len(springs)-1].Burned {
		sooner := -int(burned.Value)
		t.About, t.Early, t.Late = t.About.AddDays(sooner), t.Early.AddDays(sooner), t.Late.AddDays(sooner)
	}
	if v.Reading == nil {
		return
	}
	t.Height, t.Read = v.Reading.Sample.Mean, v.Reading.Day
	t.Stale = v.Verdict.Action == season.ReadIt
	if t.Ready = t.Height >= t.Begin; t.Ready || v.Today.DaysSince(t.Read) > freshFor {
		return
	}
	t.ByReading = true
	lacks, r := max(0, t.Begin-t.Height), rate(springs, t.Begin)
	t.About, t.Early, t.Late = after(t.Read, lacks/r), after(t.Read, lacks/r*daily.Value/daily.High), after(t.Read, lacks/r*daily.Value/daily.Low)
}

func after(from civil.Date, days float64) civil.Date { return from.AddDays(int(math.Round(days))) }

// Near reports whether a decision is near: within two weeks of the day expected, and
// not before the earliest.
func (t *TurnIn) Near(today civil.Date) bool {
	return !today.Before(t.Early) && !today.Before(t.About.AddDays(-Near))
}

// Near is how many days before the day expected its height is wanted.
const Near = 14

// rate is spring growth in inches a day by all springs given, about what is believed
// before any was read.
func rate(springs []season.Spring, begin float64) float64 {
	believed := daily.Value * begin / tallBegin
	up, over := believed*rateWeight, float64(rateWeight)
	for _, s := range springs {
		for i := 1; i < len(s.Read); i++ {
			a, b := &s.Read[i-1], &s.Read[i]
			if days := float64(b.Day.DaysSince(a.Day)); days >= 3 && days <= 40 {
				up, over = up+(b.Sample.Mean-a.Sample.Mean)*days, over+days*days
			}
		}
	}
	return min(max(up/over, believed/3), believed*3)
}

// rateWeight is how much the belief weighs against days squared of own readings: two
// readings two weeks apart (assumption).
const rateWeight = 200

// Reached is the day of a spring on which a paddock stood at a height, in inches: between
// two readings on either side of it, else by the nearest at the growth given.
func Reached(s season.Spring, height, daily float64) (day civil.Date, ok bool) {
	best := -1
	for i := range s.Read {
		h := s.Read[i].Sample.Mean
		if i > 0 && h >= height && s.Read[i-1].Sample.Mean < height {
			before := &s.Read[i-1]
			share := (height - before.Sample.Mean) / (h - before.Sample.Mean)
			return after(before.Day, share*float64(s.Read[i].Day.DaysSince(before.Day))), true
		}
		if best < 0 || math.Abs(h-height) < math.Abs(s.Read[best].Sample.Mean-height) {
			best = i
		}
	}
	if best < 0 || math.Abs(s.Read[best].Sample.Mean-height) > tells {
		return civil.Date{}, false
	}
	return after(s.Read[best].Day, (height-s.Read[best].Sample.Mean)/daily), true
}

// Early is ground that was begun too early: under B, or where nobody read it before
// it can stand that tall. Heights are inches.
type Early struct {
	Begin  float64    `json:"begin"`
	Since  civil.Date `json:"since"` // when the animals came
	Height float64    `json:"height,omitempty"`
	Read   civil.Date `json:"read,omitzero"`
	About  civil.Date `json:"about,omitzero"` // when it would have stood that tall, where nobody read it
}

// What tells the height at which animals came in, days before and after; and how
// long it is told.
const (
	entryBefore = 10
	entryAfter  = 3
	EarlyFor    = 21
)

// TooEarly is ground that was begun too early this spring and is grazed still; nil
// where it was not, where it stands tall enough by now, or near its cutoff.
func TooEarly(v *season.View, springs []season.Spring) *Early {
	now, open := thisSpring(v, springs)
	cutoff := v.Dates.Cutoff
	if !open || v.Herds.Occupancy != season.Grazed || now.Grazed.IsZero() || v.Herds.Since.After(now.Grazed) ||
		v.Today.DaysSince(now.Grazed) > EarlyFor || !cutoff.IsZero() && cutoff.DaysSince(v.Today) <= season.LateInSeason {
		return nil
	}
	failed := now.Before != nil && now.Before.Failed != ""
	e := &Early{Begin: v.Paddock.BeginsAt(failed), Since: now.Grazed}
	for i := range v.Visits {
		h, ago := v.Visits[i].Sample.Mean, now.Grazed.DaysSince(v.Visits[i].Day)
		low := ago <= freshFor && h+float64(ago)*daily.High*e.Begin/tallBegin < e.Begin // however fast it grew
		if ago >= -entryAfter && (ago <= entryBefore || low) {
			e.Height, e.Read = h, v.Visits[i].Day
		}
	}
	if v.Reading != nil && v.Reading.Sample.Mean >= e.Begin || e.Height >= e.Begin {
		return nil
	}
	if e.Height == 0 {
		t := TurnIn{Begin: e.Begin}
		at := *v
		at.Reading = nil
		t.expect(&at, springs)
		if e.About = t.About; !now.Grazed.Before(t.Early) {
			return nil // nobody knows, and it may have been
		}
	}
	return e
}
