package frost

import (
	"math"
	"time"

	"github.com/golang-sql/civil"
)

// The years that a daily record can be of. The oldest in GHCN-Daily is 1763.
const (
	firstYear = 1700
	lastYear  = 2199
)

// A slot is a day of the year counted from 0 in a year of 366 days, so every
// month and day has the same slot in every year and Feb 29 (slot 59) stays
// empty in the others. From Aug 1 on slots and offsets differ by aug1.
const (
	slots    = 366
	leapSlot = 59
	aug1     = 213 // slot of Aug 1
	seasonTo = 365 // slot of Dec 31
	seasonOf = seasonTo - aug1 + 1
)

// LastOffset is the offset of Dec 31, the last day of a season.
const LastOffset = seasonOf - 1

// What every line asks is worked out here by table: the time package takes
// longer over a date than the reader over the rest of the line.
var monthSlot = [13]int{0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366}

// slotOf is the slot of a month (1-12) and day.
func slotOf(month, day int) int { return monthSlot[month-1] + day - 1 }

func isLeap(year int) bool { return year%4 == 0 && (year%100 != 0 || year%400 == 0) }

// monthDays is how many days the month (1-12) of that year has.
func monthDays(year, month int) int {
	if month == 2 && !isLeap(year) {
		return 28
	}
	return monthSlot[month] - monthSlot[month-1]
}

// validDay says whether year, month and day are a day of a daily record.
func validDay(year, month, day int) bool {
	return firstYear <= year && year <= lastYear && 1 <= month && month <= 12 &&
		1 <= day && day <= monthDays(year, month)
}

// dateAt is the date of a slot in a year; Feb 29 of a common year is Mar 1.
func dateAt(year, slot int) civil.Date {
	d := civil.Date{Year: 2000, Month: time.January, Day: 1}.AddDays(slot)
	if d.Year = year; !d.IsValid() {
		d.Month, d.Day = time.March, 1
	}
	return d
}

// Offset is the days from Aug 1 of that date's own year, negative before it.
func Offset(d civil.Date) int { return OffsetIn(d.Year, d) }

// OffsetIn is the days from Aug 1 of the given year to a date, so Jan 2 of the
// next year is 154.
func OffsetIn(year int, d civil.Date) int {
	return d.DaysSince(civil.Date{Year: year, Month: time.August, Day: 1})
}

// DateIn is the date that lies offset days after Aug 1 of the year, to the
// nearest day, half a day up.
func DateIn(year int, offset float64) civil.Date {
	days := int(math.Floor(offset + 0.5))
	return civil.Date{Year: year, Month: time.August, Day: 1}.AddDays(days)
}

// MonthDay is an offset as MM-DD, to the nearest day, half a day up. The
// season has no Feb 29, so the year does not matter.
func MonthDay(offset float64) string { return DateIn(2001, offset).String()[len("2001-"):] }

// shortDate is `Oct 7`.
func shortDate(d civil.Date) string { return d.In(time.UTC).Format("Jan 2") }

// longDate is `Oct 7 2012`.
func longDate(d civil.Date) string { return d.In(time.UTC).Format("Jan 2 2006") }
