package season

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season/shut"
)

// judge gives the verdict on a paddock as it was read, with what must always
// be said beside it.
func (l *look) judge(v *View, known learned) Verdict {
	c := l.caseOf(v, known)
	out := Judge(c)
	if v.FallUse && v.Phase == Open && out.Say == Go {
		// It is grazed on through its rest, so the cutoff is no day to be out.
		c.Cutoff, c.Begin = civil.Date{}, 0
		out = Judge(c)
	}
	out.backBy(v.Dates.OutBy, l.Today)
	out.backBy(v.kinOut, l.Today)
	out.because(v.Shut)
	out.Drought = v.Drought
	if out.Say == Go {
		out.Cautions = v.harming(v.grazes)
	}
	if !c.Read {
		return out
	}
	s := v.Reading.Sample
	out.Patchy = v.Paddock.Native() && s.Patchy(c.Min)
	if out.Action != ReadIt && out.Reason != KinShort && out.Floor > 0 && s.TodayOnly(out.Floor) {
		out.TodayOnly = true
		out.ReadMore = s.MoreToSettle(out.Floor)
	}
	if n := s.Plants(); out.Say == Go && !v.kinOut.IsZero() && n < grass.EnoughPlants {
		out.TodayOnly, out.ReadMore = true, grass.EnoughPlants-n // a short plant among few is easily missed
	}
	out.ReadAgain = readAgain(out, c.AnimalsIn)
	return out
}

// because names the plants that shut ground without a hold, since when, and the
// height that would be safe.
func (v *Verdict) because(causes []shut.Cause) {
	for _, c := range causes {
		if Reason(c.Why) != v.Reason {
			continue
		}
		v.Since = c.Since
		if v.Reason.Asked() {
			v.Who = c.First.By
		}
		if c.Plant != "" && !slices.Contains(v.Plants, c.Plant) {
			v.Plants = append(v.Plants, c.Plant)
		}
		if v.Reason == KinShort {
			plant, _ := grass.Hazards.Find(c.Plant)
			v.Floor = max(v.Floor, plant.Safe.Value)
		}
	}
}

// backBy ends a GO on the day that the ground must be given back.
func (v *Verdict) backBy(outBy, today civil.Date) {
	if v.Say != Go || outBy.IsZero() || !v.OutBy.IsZero() && !outBy.Before(v.OutBy) {
		return
	}
	v.OutBy = outBy
	if left := float64(outBy.DaysSince(today)); v.Days != nil && *v.Days > left {
		v.Days, v.More = &left, false
	}
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

func (l *look) caseOf(v *View, known learned) Case {
	p := v.Paddock
	c := Case{
		Today: l.Today, Phase: v.Phase, Native: p.Native(), Held: v.Hold != nil, FallUse: v.FallUse,
		AnimalsIn: v.Herds.Occupancy == Grazed, Unsure: v.Herds.Occupancy == Unknown,
		Rule: p.Rule, EndHeight: v.EndHeight, Failed: v.Failed, GivenBack: v.Dates.givenBack(l.Today), Frost: v.Dates.Frost, Cutoff: v.Dates.Cutoff,
	}
	c.Leave, c.Begin = p.Floor(), v.Begin
	if len(v.Shut) > 0 && v.Hold == nil {
		c.Waits = Reason(v.Shut[0].Why)
	}
	if v.Reading == nil {
		return c
	}
	c.Read, c.Height, c.Age = true, v.Reading.Sample.Mean, l.Today.DaysSince(v.Reading.Day)
	if grazed, _ := l.moves.grazedDays(p.ID, v.Reading.Day, l.Today); grazed > oldReadingGrazed {
		c.Age = max(c.Age, oldReading+1) // what was read has been eaten since
	}
	c.Growth = growthOf(v.Ahead)
	c.Eaten = c.AnimalsIn && !v.RunsOut.IsZero() && !v.RunsOut.After(l.Today)
	c.DaysAbove = l.daysAbove(v, known)
	return c
}

// growthOf is the growth that a forecast expects, in inches; 0 without one.
func growthOf(f *Forecast) float64 {
	if f == nil {
		return 0
	}
	return max(0, f.Mean-f.From)
}

// daysAbove gives the days of grass above a floor.
func (l *look) daysAbove(v *View, known learned) func(float64) (float64, bool) {
	return func(floor float64) (float64, bool) {
		g, lb, ok := l.offers(v, known)
		if !ok {
			return 0, false
		}
		g.Floor = floor
		d := g.Days(lb)
		return d.Days, d.Known
	}
}

// offers is what a paddock that was read has for the animals that stand there or
// would, and what they take of it a day in lb; false with no herd on file.
func (l *look) offers(v *View, known learned) (g herd.Grass, lb float64, ok bool) {
	g = herd.Grass{Acres: v.Paddock.Acres, Eaten: known.eaten.Eaten, Height: v.Reading.Sample.Mean, Regrowth: l.daily(v, known.growth)}
	if v.FallUse && v.Phase == Rest && v.UseAcres > 0 {
		g.Acres = v.UseAcres
	}
	lb, ok = l.demand(v)
	return g, lb, ok
}

// Offers is what a paddock has for the animals that stand there or would, and what
// they take of it a day in lb; false where it was not read, or no herd is on file.
func (l Land) Offers(v *View) (g herd.Grass, lb float64, ok bool) {
	if v.Reading == nil {
		return g, 0, false
	}
	return l.l.offers(v, l.l.learn(v.Paddock, v.Year))
}

// demand is what the animals of a paddock take a day: the herds that stand
// there, or the one that would go in where none does. ok is false with no herd on
// file.
func (l *look) demand(v *View) (lb float64, ok bool) {
	for _, h := range l.herds {
		if slices.Contains(v.Herds.Herds, h.ID) {
			lb += h.Demand(l.Today)
		}
	}
	if lb == 0 {
		next, _ := l.goesIn(v.Reading)
		lb = next.Demand(l.Today)
	}
	return lb, lb > 0
}

// runsOut is the day from which the animals must be off a fall-use paddock, by what
// was expected on the day that it was read and the days it was grazed since; zero
// where that cannot be told. Verdict and ladder both go by it: what was told to stay
// today is not told to leave before tomorrow.
func (l *look) runsOut(v *View, known learned) civil.Date {
	if !v.FallUse || v.Phase != Rest || v.Reading == nil || v.Hold != nil || v.Reading.Day.Before(v.Dates.Cutoff) {
		return civil.Date{}
	}
	c := l.caseOf(v, known)
	c.Age, c.Today = 0, v.Reading.Day
	c.Growth = growthOf(l.forecast(v.Reading.Day, v, known.growth))
	out, lasts := Judge(c), 0
	switch {
	case out.Say == Wait:
	case out.More || out.Days == nil:
		return civil.Date{}
	default:
		lasts = max(1, int(*out.Days))
	}
	grazed, _ := l.moves.grazedDays(v.Paddock.ID, v.Reading.Day, l.Today)
	return l.Today.AddDays(lasts - grazed)
}
