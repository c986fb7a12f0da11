package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
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
	}
	if v.Paddock.Native() {
		s.Target = v.Paddock.Rule.AtFrost
	}
	if !s.Cutoff.IsZero() {
		s.Days = s.Cutoff.DaysSince(today)
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
		Patchy:    v.Verdict.Patchy,
		TodayOnly: v.Verdict.TodayOnly,
	}
	if low, high, ok := s.Interval(); ok {
		h.Low, h.High = low, high
	}
	return h
}

// DescribeVerdict is the answer to a height as it is said.
func DescribeVerdict(v *season.View) *Verdict {
	return &Verdict{
		Say:       v.Verdict.Say,
		Action:    v.Verdict.Action,
		Reason:    v.Verdict.Reason,
		Days:      v.Verdict.Days,
		More:      v.Verdict.More,
		OutBy:     v.Verdict.OutBy,
		Floor:     v.Verdict.Floor,
		Lacks:     v.Verdict.Lacks,
		ReadAgain: v.Verdict.ReadAgain,
		Drought:   v.Drought,
	}
}

func describeExpect(v *season.View) *Expect {
	a := v.Ahead
	if a == nil || v.Phase == season.Dormant {
		return nil
	}
	e := &Expect{At: a.At, AtFrost: true, Mean: a.Mean, Low: a.Low, High: a.High, Seasons: a.Seasons, ByCutoff: a.ByCutoff}
	if a.Known {
		chance := a.Chance
		e.Chance = &chance
	}
	return e
}

func describeHold(v *season.View) *Hold {
	if v.Hold == nil {
		return nil
	}
	h := &Hold{Until: v.Hold.Until, Short: v.Hold.Short, Animals: v.Herds.Occupancy == season.Grazed}
	for _, plant := range v.Hold.Plants {
		h.Plants = append(h.Plants, plant.Name)
		h.Bloat = h.Bloat || plant.Danger == grass.Bloat
	}
	return h
}

// Line is a paddock's line in a plan.
func Line(v *season.View, today civil.Date) Shut {
	s := Shut{
		Place: PlaceOf(v.Paddock), Standing: standing(v, today), Judged: Judged{DescribeVerdict(v)},
		Phase: v.Phase, Native: v.Paddock.Native(), Wants: wants(v),
		Early: v.Dates.Early, Latest: v.Dates.Late, End: v.Dates.LikelyEnd,
	}
	if v.Phase == season.Rest {
		s.RestDay = -s.Days
		if s.Grazed && !s.FallUse {
			s.Late = -s.Days
		}
	}
	if !v.Dates.Ended.IsZero() {
		s.End, s.Ended = v.Dates.Ended, true
	}
	for _, r := range v.Visits {
		s.Readings = append(s.Readings, point{Day: r.Day, In: r.Sample.Mean})
	}
	return s
}

// wants is the one thing that a paddock needs next.
func wants(v *season.View) string {
	grazed := v.Herds.Occupancy != season.Empty
	switch {
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

// moveTo lists where a herd can go, as people say it.
func (p *plan) moveTo(v *season.View) []string {
	if v.Herds.Occupancy == season.Empty {
		return nil
	}
	return p.MoveTo(v.Paddock.ID, p.frosty())
}

// frosty reports whether frost has come this fall and the killing freeze has
// not: the next one would turn whatever stands.
func (p *plan) frosty() bool {
	firsts := p.firstOfEach()
	return firsts[0].ID > 0 && firsts[2].ID == 0
}

// wasCutoff is the cutoff that a contact was last told for a paddock this
// season, where it is no longer so.
func (p *plan) wasCutoff(v *season.View, to string) civil.Date {
	var last SaidRow
	for _, r := range p.Said.byPaddock[v.Paddock.ID] {
		if r.To == to && !r.Cutoff.IsZero() && kinds[r.Kind].tellsCutoff &&
			!r.Cutoff.Before(v.Dates.Turn) && r.Cutoff.Before(v.Dates.Next) && !r.At.Before(last.At) {
			last = r
		}
	}
	if last.Cutoff == v.Dates.Cutoff {
		return civil.Date{}
	}
	return last.Cutoff
}

// cutoffMoved tells a moved cutoff where no rung has come that would: it was
// put off, or the paddock is spoken of again later, or it is empty and the new
// day is past.
func (p *plan) cutoffMoved(v *season.View) {
	empty := v.Herds.Occupancy == season.Empty
	if v.FallUse || v.Phase == season.Dormant || v.Phase == season.Rest && !(empty && p.today.After(v.Dates.Cutoff)) {
		return
	}
	for _, c := range p.hearers(CutoffMoved) {
		was := p.wasCutoff(v, c.Name)
		if was.IsZero() {
			continue
		}
		if _, rung := p.latestStep(v, c.Contact); rung && v.Phase == season.Open {
			continue
		}
		f := p.facts(v)
		f.WasCutoff = was
		until := v.Dates.Cutoff
		if !until.After(p.today) {
			until = p.today.AddDays(1)
		}
		p.tell(c, CutoffMoved, cutoffKey(v, Cause{Kind: was.String()}, "moved", "0"), &f, p.mornings(c, p.today, until))
	}
}
