package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// addWithin is how long bare numbers from the same person carry on a reading.
const addWithin = 2 * time.Hour

// visits are the readings of a paddock from a day on, oldest first, bare
// numbers added to the reading they carry on.
func (l *look) visits(paddock string, from civil.Date) []Visit {
	var all []Visit
	var lastAt time.Time
	for _, f := range l.book.Of(paddock) {
		if f.Kind != diary.Reading || f.Day.Before(from) || f.Day.After(l.today) {
			continue
		}
		n := len(all) - 1
		if f.Adds && n >= 0 && all[n].By == f.By && f.At.Sub(lastAt) <= addWithin {
			if s, err := all[n].Sample.Add(f.Heights...); err == nil {
				all[n].Sample, lastAt = s, f.At
			}
			continue
		}
		s, err := grass.NewSample(f.Heights...)
		if err != nil {
			continue // a height that cannot be is nobody's reading
		}
		all = append(all, Visit{Fact: f.ID, Day: f.Day, By: f.By, Sample: s})
		lastAt = f.At
	}
	return all
}

// visitBefore is the latest reading of the season on or before a day.
func (l *look) visitBefore(paddock string, day civil.Date) *Visit {
	return lastVisit(l.visits(paddock, civil.Date{Year: day.Year, Month: time.January, Day: 1}), day)
}

func lastVisit(visits []Visit, day civil.Date) *Visit {
	for i := len(visits) - 1; i >= 0; i-- {
		if !visits[i].Day.After(day) {
			return &visits[i]
		}
	}
	return nil
}

// endWithin is how many days after the end of rest a reading still tells the
// height that the paddock went into winter with.
const endWithin = 14

// endVisit is the reading that tells the height at the end of rest; nil where
// it was never read.
func endVisit(visits []Visit, ended civil.Date) *Visit {
	if ended.IsZero() {
		return nil
	}
	for i, v := range visits {
		if !v.Day.Before(ended) && v.Day.DaysSince(ended) <= endWithin {
			return &visits[i]
		}
	}
	return nil
}
