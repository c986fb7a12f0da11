package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
)

// forecast is the height at frost if the paddock is rested from a day up to today
// on; nil where nothing can be said: it is dormant, was not read, too much was
// grazed since, no frost is still to come, or a drought.
func (l *look) forecast(day civil.Date, v *View, g grass.Growth) *Forecast {
	p := v.Paddock
	if v.Reading == nil || !l.stillGrows(v, g) {
		return nil
	}
	days, from := l.moves.grazedDays(p.ID, v.Reading.Day, day)
	if days > oldReadingGrazed {
		return nil
	}
	q := l.restedFrom(day, v.Reading.Sample.Mean, v, g)
	if g.Early != 0 && v.Reading.Day.After(v.Dates.Cutoff) {
		q.gone = q.almanac.mean(v.Dates.Cutoff, v.Reading.Day, q.offset)
	}
	if day == l.Today {
		q.behind = l.behind(from, q.almanac, p.FrostOffset)
	}
	if v.Phase == Open && day.Before(v.Dates.Cutoff) {
		q.toCutoff = q.behind + q.almanac.mean(day, v.Dates.Cutoff, p.FrostOffset)
	}
	f := fresh(l.Cache, p.ID, q, func() expected { return q.forecast(g) })
	if !f.Known() {
		return nil
	}
	return &Forecast{
		From: q.start, At: v.Dates.Frost, Mean: f.Mean, Low: f.Low, High: f.High, Chance: f.Chance,
		Seasons: g.Effect.Seasons, Known: g.Effect.Seasons >= enoughToLearn, Falls: f.Falls, ByCutoff: f.byCutoff,
	}
}

// stillGrows reports whether what will stand at frost is to be reckoned: what stood
// when it came stands, and is read.
func (l *look) stillGrows(v *View, g grass.Growth) bool {
	return v.Phase != Dormant && g.Known() && !l.frostCame(v.Paddock, v.Year)
}

// restedFrom is a paddock that is rested from a day on at which it has a height.
func (l *look) restedFrom(day civil.Date, height float64, v *View, g grass.Growth) forecastFrom {
	p := v.Paddock
	return forecastFrom{
		almanac: l.almanac(v.Year), day: day, offset: p.FrostOffset, start: height, target: p.Rule.AtFrost, dry: v.Drought,
		g0: g.G0, effect: g.Effect.Mean, sd: g.Effect.SD, ceiling: g.Ceiling, falls: g.Falls, early: g.Early,
		scant: l.lateRain().Scant(),
	}
}

// HowLow is the least leaf height in inches to which a native may be grazed by today
// and, rested from then on, still make its height at frost in as many falls as its rule
// wants: never under the lowest stubble that spares the growing point. What it says is
// the inverse of a forecast from that height. Not found where no height does, nothing
// grows any more, or none can be said.
func (l Land) HowLow(v *View) grass.Cure {
	known := l.l.learn(v.Paddock, v.Year)
	rule := v.Paddock.Rule
	if !v.Paddock.Native() || !l.l.stillGrows(v, known.growth) || v.Drought {
		return grass.Cure{}
	}
	q := l.l.restedFrom(l.l.Today, rule.Min, v, known.growth)
	return known.growth.LeaveFor(q.ask(), rule.Confidence, rule.AtFrost)
}

// forecastFrom is all that the forecast of a paddock can change with.
type forecastFrom struct {
	almanac                 *almanac
	day                     civil.Date
	offset                  int
	start, behind, target   float64
	toCutoff                float64 // S to the cutoff; 0 once it is past
	g0, effect, sd, ceiling float64
	falls, early, gone      float64
	dry, scant              bool
}

// expected is a forecast, and the height that it expects at the cutoff.
type expected struct {
	grass.Forecast
	byCutoff float64
}

// forecast sums a paddock's forecast anew. Between two readings it is asked for
// every minute of a day.
func (q forecastFrom) forecast(g grass.Growth) expected {
	f := expected{Forecast: g.Forecast(q.ask())}
	if q.toCutoff > 0 && !q.dry {
		f.byCutoff = g.Reach(q.start, q.toCutoff)
	}
	return f
}

func (q forecastFrom) ask() grass.Ask {
	return grass.Ask{
		Start: q.start, Behind: q.behind, Ahead: q.almanac.ahead(q.day, q.offset), Target: q.target, NoRain: q.dry, Scant: q.scant, Gone: q.gone,
	}
}

// daily is the leaf growth in inches a day to be expected now.
func (l *look) daily(v *View, g grass.Growth) float64 {
	if v.Drought || !g.Known() || v.Phase == Dormant || l.frostCame(v.Paddock, v.Year) {
		return 0
	}
	return g.Rate() * l.almanac(v.Year).mean(l.Today, l.Today.AddDays(1), v.Paddock.FrostOffset)
}

// A Prospect is what a paddock's grass will do in the weeks to come, by what is known
// today. Heights are inches.
type Prospect struct {
	Now float64 // the height that was read, and what has grown since; 0 where none was
	// Grown is the height on a day of grass that stood at one on an earlier day and
	// is not grazed.
	Grown func(height float64, from, to civil.Date) float64
	// Days are the days of grass of a height above what must be left, at most 14;
	// false with no herd on file.
	Days func(height float64) (float64, bool)
}

// Prospect is that of a paddock that was looked at.
func (land Land) Prospect(v *View) Prospect {
	l := land.l
	p, known := v.Paddock, l.learn(v.Paddock, v.Year)
	grows, a := known.growth, l.almanac(v.Year)
	still := !grows.Known() || v.Drought || a.err != nil
	out := Prospect{
		Grown: func(height float64, from, to civil.Date) float64 {
			if still {
				return height
			}
			return grows.Reach(height, a.mean(from, to, p.FrostOffset))
		},
		Days: func(height float64) (float64, bool) {
			at := *v
			at.Reading = &Visit{Sample: grass.Sample{Mean: height}}
			return l.daysAbove(&at, known)(p.Floor())
		},
	}
	if v.Reading != nil {
		out.Now = l.grownBy(p, l.Today, v.Reading.Sample.Mean, false)
	}
	return out
}
