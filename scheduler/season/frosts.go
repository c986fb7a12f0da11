package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// frostsByFall are the frosts that stand, by the year of their fall, Aug 1 to
// Dec 31.
func frostsByFall(book *diary.Book) map[int][]diary.Fact {
	by := map[int][]diary.Fact{}
	for _, f := range book.Frosts() {
		if f.Day.Month >= time.August {
			by[f.Day.Year] = append(by[f.Day.Year], f)
		}
	}
	return by
}

// takenBack are the days whose measured frost was taken back: the instrument
// was wrong.
func takenBack(book *diary.Book) map[civil.Date]bool {
	days := map[civil.Date]bool{}
	for _, f := range book.FrostsEver() {
		if _, stands := book.Standing(f.ID); !stands && f.Measured() {
			days[f.Day] = true
		}
	}
	return days
}

// stationFall is what the observed days say of one fall.
type stationFall struct {
	first civil.Date
	sure  bool
}

// EndsRest reports whether a fact that concerns a paddock is a freeze that ends
// its rest. A person's frost is a light one, which is enough only where the
// farm's rule is 32 F or above.
func (p *Paddock) EndsRest(f diary.Fact) bool {
	t := frost.FromC(0)
	if f.TempC != nil {
		t = frost.FromC(*f.TempC)
	}
	return f.Kind == diary.Frost && p.Native() && p.Rule.EndsAt.Reached(t)
}
