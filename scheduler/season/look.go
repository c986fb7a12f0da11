package season

import (
	"stubbled/scheduler/diary"
)

// Look is every paddock of a farm on one day, in file order.
func Look(s Sight) []View {
	l := s.look()
	views := make([]View, len(s.Farm.Paddocks))
	for i := range s.Farm.Paddocks {
		views[i] = l.view(&s.Farm.Paddocks[i])
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
		v.Ahead = l.forecast(l.Today, &v, known.growth)
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
