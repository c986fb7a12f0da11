package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/season"
)

// facts are what nearly every notice of a paddock says.
func (p *plan) facts(v *season.View) PaddockFacts { return Describe(v, p.today) }

// Describe is what can be said of a paddock on a day.
func Describe(v *season.View, today civil.Date) PaddockFacts {
	f := PaddockFacts{
		Head:     Head{Place: PlaceOf(v.Paddock), Day: today},
		Standing: standing(v, today),
		OutBy:    v.Dates.OutBy,
		NoRest:   !v.Paddock.Native(),
	}
	if !f.Frost.IsZero() {
		f.DaysToFrost = f.Frost.DaysSince(today)
	}
	return f
}

// PlaceOf is a paddock by its names.
func PlaceOf(p *season.Paddock) Place { return Place{Paddock: p.ID, Name: p.Name, Say: p.Word()} }

func standing(v *season.View, today civil.Date) Standing {
	s := Standing{
		Cutoff:  v.Dates.Cutoff,
		Frost:   v.Dates.Frost,
		Grazed:  v.Herds.Occupancy == season.Grazed,
		Unknown: v.Herds.Occupancy == season.Unknown,
		FallUse: v.FallUse,
		Leave:   v.Paddock.Floor(),
		Height:  describeHeight(v),
		Expect:  describeExpect(v),
		Hold:    describeHold(v),
		Wait:    describeWait(v),
		Resting: v.Phase == season.Rest && v.Paddock.Native() && !v.FallUse,
		Failed:  v.Phase == season.Dormant && v.Failed,
	}
	if v.Paddock.Native() {
		s.Target = v.Paddock.Rule.AtFrost
	}
	if !s.Cutoff.IsZero() {
		s.Days = s.Cutoff.DaysSince(today)
		s.Left = max(0, v.Herds.LastOff.DaysSince(s.Cutoff))
	}
	return s
}

// describeHeight is the latest reading; nil where there is none this season.
func describeHeight(v *season.View) *Height {
	if v.Reading == nil {
		return nil
	}
	s := v.Reading.Sample
	h := &Height{
		Mean:      s.Mean,
		Plants:    s.Plants(),
		Day:       v.Reading.Day,
		More:      v.Verdict.ReadMore,
		Patchy:    v.Verdict.Patchy && s.Mean >= v.Paddock.Rule.Min, // else all of it is short
		TodayOnly: v.Verdict.TodayOnly,
	}
	if low, high, ok := s.Interval(); ok {
		h.Low, h.High = low, high
	}
	return h
}

func describeExpect(v *season.View) *Expect {
	a := v.Ahead
	if a == nil || v.Phase == season.Dormant {
		return nil
	}
	e := &Expect{At: a.At, Mean: a.Mean, Low: a.Low, High: a.High, Seasons: a.Seasons, ByCutoff: a.ByCutoff}
	if a.Known {
		e.Chance = new(a.Chance)
	}
	return e
}

// describeWait is the first of what shuts a paddock without a hold, with its plants.
func describeWait(v *season.View) *Wait {
	if v.Hold != nil || len(v.Shut) == 0 {
		return nil
	}
	w := &Wait{Why: v.Shut[0].Why, Since: v.Shut[0].Since, Height: v.Verdict.Floor, Who: v.Verdict.Who}
	for _, c := range v.Shut {
		if c.Why == w.Why && c.Plant != "" {
			w.Plants = append(w.Plants, c.Plant)
		}
	}
	return w
}

func describeHold(v *season.View) *Hold {
	if v.Hold == nil {
		return nil
	}
	h := &Hold{Until: v.Hold.Until, Short: v.Hold.Short, Wilted: v.Hold.Wilted, Regrown: v.Hold.Regrown}
	if h.Wilted || h.Regrown {
		h.Turned = v.Hold.Turned
	}
	for _, plant := range v.Hold.Plants {
		h.Plants = append(h.Plants, plant.Name)
		h.ByEye = h.ByEye || plant.ByEye
	}
	return h
}

// Line is a paddock's line in a plan.
func Line(v *season.View, today civil.Date) Shut {
	s := Shut{
		Place: PlaceOf(v.Paddock), Standing: standing(v, today), Judged: Judged{&v.Verdict},
		Phase: v.Phase, Native: v.Paddock.Native(), Wants: wants(v),
		Early: v.Dates.Early, Latest: v.Dates.Late, End: v.Dates.LikelyEnd,
	}
	if v.Phase == season.Rest {
		s.RestDay = -s.Days - s.Left
		if s.Grazed && !s.FallUse {
			s.Late = -s.Days
		}
	}
	if !v.Dates.Ended.IsZero() {
		s.End, s.Ended = v.Dates.Ended, true
	}
	for _, r := range v.Visits {
		s.Readings = append(s.Readings, Point{Day: r.Day, In: r.Sample.Mean})
	}
	return s
}

// wants is the one thing that a paddock needs next.
func wants(v *season.View) string {
	switch grazed := v.Herds.Occupancy != season.Empty; {
	case v.Hold != nil && grazed:
		return "off"
	case v.Phase == season.Rest && grazed && !v.FallUse:
		return "off"
	case v.Phase == season.Rest && !v.Dates.Frost.IsZero() && v.Today.After(v.Dates.Frost):
		return "brown"
	case v.Phase == season.Rest && !v.FallUse && v.Paddock.Native():
		return "keep-shut"
	case v.Verdict.Action == season.ReadIt && v.Phase != season.Dormant && v.Paddock.Native():
		return "read"
	}
	return "nothing"
}
