package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// chanceToldFrom is how many own seasons a paddock needs before a text tells
// its chance as a percentage. The rule of thumb alone makes every paddock a
// coin flip, and that is not news.
const chanceToldFrom = 3

// growth is how a paddock's leaves grow, with what its finished seasons taught.
func (l *look) growth(p *Paddock, year int) grass.Growth {
	if !p.Native() {
		return grass.Growth{}
	}
	a := l.almanac(year)
	if a.err != nil {
		return grass.Growth{}
	}
	var taught []grass.Finished
	for _, f := range l.history(p, year) {
		if f.Teaches {
			taught = append(taught, grass.Finished{Year: f.Year, Start: f.Start, End: f.End, S: f.Heat})
		}
	}
	return grass.Prior(p.Grass, a.restHeat(p.FrostOffset), p.Soil).With(taught)
}

// forecast is the height at frost if the paddock is rested from its latest
// reading on; nil where nothing can be said.
func (l *look) forecast(v *View, g grass.Growth) *Forecast {
	if v.Reading == nil || !g.Known() || v.Phase == Dormant {
		return nil
	}
	p, a := v.Paddock, l.almanac(v.Year)
	f := g.Forecast(grass.Ask{
		Start:  v.Reading.Sample.Mean,
		Behind: l.behind(v, a),
		Ahead:  a.ahead(l.today, p.FrostOffset),
		Target: p.Rule.AtFrost,
		NoRain: v.Drought,
	})
	if !f.Known() {
		return nil
	}
	out := &Forecast{
		From: v.Reading.Sample.Mean, At: v.Dates.Frost, Mean: f.Mean, Low: f.Low, High: f.High, Chance: f.Chance,
		Seasons: g.Effect.Seasons, Known: g.Effect.Seasons >= chanceToldFrom, Falls: f.Falls,
	}
	if v.Phase == Open && l.today.Before(v.Dates.Cutoff) {
		out.ByCutoff = g.Reach(out.From, l.behind(v, a)+a.mean(l.today, v.Dates.Cutoff, p.FrostOffset))
	}
	return out
}

// behind is S from the reading to today as far as a forecast may count it. Heat
// that was not measured stands at the mean year's.
func (l *look) behind(v *View, a *Almanac) float64 {
	from := v.Reading.Day
	mean := a.mean(from, l.today, v.Paddock.FrostOffset)
	if l.air == nil || a.warmth == nil {
		return mean
	}
	observed := l.observed(a, l.today).Between(from, l.today).Total
	return grass.Heat(observed, mean, l.air.Rainfall(l.today, frost.RainDays).Ample())
}

// observed is the season's own heat before a day, gaps at the mean year's.
func (l *look) observed(a *Almanac, day civil.Date) *frost.YearWarmth {
	w, ok := l.air.Warmth(frost.GrowthMethod, a.Year)
	if !ok {
		return a.warmth.Year(a.Year)
	}
	return w.YearTo(day)
}

// regrowth is the leaf growth in inches a day to be expected now.
func (l *look) regrowth(v *View, g grass.Growth) float64 {
	if v.Drought || !g.Known() || v.Phase == Dormant {
		return 0
	}
	a := l.almanac(v.Year)
	return g.Rate() * a.mean(l.today, l.today.AddDays(1), v.Paddock.FrostOffset)
}
