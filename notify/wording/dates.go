package wording

import (
	"strconv"
	"time"

	"github.com/golang-sql/civil"
)

// The names of days and months stand in said.txt, the first of each
// under 0 and 1.

// date is a day as people text it: 'Sep 1', '1 sep'. A day that was not given
// says so.
func (v voice) date(d civil.Date) string {
	if !d.IsValid() {
		return v.say("date.none")
	}
	if v.roomy {
		return v.say("date.long", "month", v.say("month."+strconv.Itoa(int(d.Month))), "day", d.Day)
	}
	return v.say("date", "month", v.say("mon."+strconv.Itoa(int(d.Month))), "day", d.Day)
}

// weekday is a day with its weekday: 'Tue Sep 1', 'mar 1 sep'.
func (v voice) weekday(d civil.Date) string {
	if !d.IsValid() {
		return v.say("date.none")
	}
	n := strconv.Itoa(int(d.In(time.UTC).Weekday()))
	if v.roomy {
		return v.say("date.weekday.long", "weekday", v.say("weekday."+n), "date", v.date(d))
	}
	return v.say("date.weekday", "weekday", v.say("day."+n), "date", v.date(d))
}
