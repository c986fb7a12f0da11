package wording

import (
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
		return v.say("date.long", "month", v.say(monthKey("month.", d)), "day", d.Day)
	}
	return v.say("date", "month", v.say(monthKey("mon.", d)), "day", d.Day)
}

// weekday is a day with its weekday: 'Tue Sep 1', 'mar 1 sep'.
func (v voice) weekday(d civil.Date) string {
	if !d.IsValid() {
		return v.say("date.none")
	}
	if v.roomy {
		return v.say("date.weekday.long", "weekday", v.say(dayKey("weekday.", d)), "date", v.date(d))
	}
	return v.say("date.weekday", "weekday", v.say(dayKey("day.", d)), "date", v.date(d))
}

var digits = [...]string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12"}

func monthKey(prefix string, d civil.Date) string { return prefix + digits[d.Month] }

func dayKey(prefix string, d civil.Date) string {
	return prefix + digits[d.In(time.UTC).Weekday()]
}
