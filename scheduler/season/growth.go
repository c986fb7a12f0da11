package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
)

// chanceToldFrom is how many own seasons a paddock needs before a text tells
// its chance as a percentage. The rule of thumb alone makes every paddock a
// coin flip, and that is not news.
const chanceToldFrom = 3

// forecast is the height at frost if the paddock is rested from today on; nil
// where nothing can be said: no reading, too much grazed since it, no frost
// still to come, or a drought.
func (l *look) forecast(v *View, g grass.Growth) *Forecast {
	if v.Phase == Dormant {
		return nil
	}
	return l.forecastOn(l.today, v, g)
}

// forecastOn is the forecast made on a day up to today.
func (l *look) forecastOn(day civil.Date, v *View, g grass.Growth) *Forecast {
	if v.Reading == nil || !g.Known() {
		return nil
	}
	if end := l.firstFrost(v.Paddock, v.Year); !end.IsZero() && !end.After(l.today) {
		return nil // what stood at frost stands: it is read, not reckoned
	}
	days, from := l.moves.Grazed(v.Paddock.ID, v.Reading.Day, day)
	if days > oldReadingGrazed {
		return nil
	}
	p, a := v.Paddock, l.almanac(v.Year)
	behind := 0.0
	if day == l.today {
		behind = l.behind(from, a, p.FrostOffset)
	}
	f := g.Forecast(grass.Ask{
		Start: v.Reading.Sample.Mean, Behind: behind, Ahead: a.ahead(day, p.FrostOffset), Target: p.Rule.AtFrost, NoRain: v.Drought,
	})
	if !f.Known() {
		return nil
	}
	out := &Forecast{
		From: v.Reading.Sample.Mean, At: v.Dates.Frost, Mean: f.Mean, Low: f.Low, High: f.High, Chance: f.Chance,
		Seasons: g.Effect.Seasons, Known: g.Effect.Seasons >= chanceToldFrom, Falls: f.Falls,
	}
	if v.Phase == Open && day.Before(v.Dates.Cutoff) {
		out.ByCutoff = g.Reach(out.From, behind+a.mean(day, v.Dates.Cutoff, p.FrostOffset))
	}
	return out
}

// daily is the leaf growth in inches a day to be expected now.
func (l *look) daily(v *View, g grass.Growth) float64 {
	if v.Drought || !g.Known() || v.Phase == Dormant {
		return 0
	}
	if end := l.firstFrost(v.Paddock, v.Year); !end.IsZero() && !end.After(l.today) {
		return 0
	}
	return g.Rate() * l.almanac(v.Year).mean(l.today, l.today.AddDays(1), v.Paddock.FrostOffset)
}
