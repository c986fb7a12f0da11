package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/dry"
	"stubbled/scheduler/season/shut"
)

// How a drought ends by rain: so much within so many days. Ours.
const (
	breakingMM   = 38.1 // 1.5 in
	breakingDays = 14
)

// drought is whether a drought lasts on a paddock, by the newest word of this
// season that there is one, and the day on which it ended; zero while it lasts,
// or where there was none. It begins with the manager's word and ends with it, or
// once enough rain was told or recorded.
func (l *look) drought(p *Paddock, turn civil.Date) (call *diary.Fact, ended civil.Date) {
	call = l.newest(p, diary.Dry, turn)
	if call == nil {
		return nil, civil.Date{}
	}
	if over := l.newest(p, diary.DryOver, call.Day); over != nil && shut.Later(over, call) {
		ended = over.Day
	}
	return call, diary.EarlierDay(ended, l.rained(p, call.Day))
}

// newest is the latest fact of a rare kind that concerns a paddock, from a day on.
func (l *look) newest(p *Paddock, kind diary.Kind, from civil.Date) (newest *diary.Fact) {
	facts := l.Book.Every(kind)
	for i := range facts {
		if f := &facts[i]; f.Concerns(p.ID) && !f.Day.Before(from) && !f.Day.After(l.Today) {
			newest = f
		}
	}
	return newest
}

// rained is the first day from a day on by which enough rain had fallen to end a
// drought. Of what was told of a day and what was recorded the most counts: it is the
// same rain.
func (l *look) rained(p *Paddock, from civil.Date) civil.Date {
	told := dry.Told(l.Book.Every(diary.Rain), p.ID)
	var fell [breakingDays]float64
	sum := 0.0
	for day, i := from, 0; !day.After(l.Today); day, i = day.AddDays(1), (i+1)%breakingDays {
		mm := told[day]
		if l.Air != nil {
			if r := l.Air.Day(day).Rain; r.Known() {
				mm = max(mm, r.MM())
			}
		}
		sum += mm - fell[i]
		fell[i] = mm
		if sum > breakingMM-1e-6 {
			return day
		}
	}
	return civil.Date{}
}
