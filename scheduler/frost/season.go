package frost

import (
	"fmt"

	"github.com/golang-sql/civil"
)

// Season is one fall in a record, seen at one threshold.
type Season struct {
	// Year names the season: Aug 1 to Dec 31 of that year.
	Year int
	// First is the first day at or below the threshold, zero where none came by
	// Dec 31.
	First civil.Date
	// Min is that day's minimum, NoTemp where none came.
	Min Temp
	// Missing counts the days from Aug 1 to First, or to Dec 31 where none
	// came, without a usable minimum. Span counts all those days.
	Missing, Span int
	// Counted says whether fewer than 10 % of Span are missing.
	Counted bool
	// Why says in words why the season is not counted; empty where it is.
	Why string
	// Later is the first such day after Dec 31 and before the next Aug 1 where
	// none came in the season. It is for information and enters no sum.
	Later civil.Date
}

// Came says whether the season had a frost at all.
func (s Season) Came() bool { return !s.First.IsZero() }

// Offset is the frost's days after Aug 1; ask Came first.
func (s Season) Offset() int { return s.Span - 1 }

// Seasons is every season in which the record has at least one usable minimum,
// oldest first, whether it counts or not.
func (r *Record) Seasons(th Threshold) []Season {
	var all []Season
	for i := range r.years {
		if s, ok := r.Season(firstYear+i, th); ok {
			all = append(all, s)
		}
	}
	return all
}

// Season is the season of one year; false where the record has no usable
// minimum between its Aug 1 and Dec 31.
func (r *Record) Season(year int, th Threshold) (Season, bool) {
	y := r.year(year)
	if y == nil {
		return Season{}, false
	}
	s := Season{Year: year, Min: NoTemp, Span: seasonOf}
	for i, t := range y.of[lowest][aug1:] {
		if t == NoTemp {
			s.Missing++
			continue
		}
		if t <= th.limit {
			s.First, s.Min, s.Span = dateAt(year, aug1+i), t, i+1
			break
		}
	}
	if s.Missing == s.Span {
		return Season{}, false
	}
	s.Counted = s.Missing*10 < s.Span
	if !s.Counted {
		to := "Dec 31, and no frost seen"
		if s.Came() {
			to = "the frost on " + shortDate(s.First)
		}
		s.Why = fmt.Sprintf("%d of %d days missing from Aug 1 to %s", s.Missing, s.Span, to)
	}
	if !s.Came() {
		s.Later = r.firstAfterSeason(year, th)
	}
	return s, true
}

// firstAfterSeason is the first frost from Jan 1 to Jul 31 after the season.
func (r *Record) firstAfterSeason(year int, th Threshold) civil.Date {
	y := r.year(year + 1)
	if y == nil {
		return civil.Date{}
	}
	for i, t := range y.of[lowest][:aug1] {
		if th.Reached(t) {
			return dateAt(year+1, i)
		}
	}
	return civil.Date{}
}
