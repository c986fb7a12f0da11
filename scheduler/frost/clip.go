package frost

import "github.com/golang-sql/civil"

// Before is the record as it stood when a day began: that day and all later
// ones are left out.
func (r *Record) Before(day civil.Date) *Record {
	cut := *r
	for i := range cut.years {
		switch year := firstYear + i; {
		case year > day.Year:
			cut.years[i], cut.rains[i] = nil, nil
		case year == day.Year && r.years[i] != nil:
			cut.copyYear(r, year)
			cut.blank(i, slotOf(int(day.Month), day.Day))
		}
	}
	return &cut
}

// blank removes a year's days from a slot on.
func (r *Record) blank(i, slot int) {
	y := r.years[i]
	for s := slot; s < slots; s++ {
		y.min[s], y.max[s], y.seen[s] = NoTemp, NoTemp, 0
		if r.rains[i] != nil {
			r.rains[i][s] = 0
		}
	}
}
