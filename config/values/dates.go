package values

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

var (
	monthDay  = regexp.MustCompile(`^([0-9]{1,2})-([0-9]{1,2})$`)
	clockTime = regexp.MustCompile(`^([0-9]{1,2}):([0-9]{2})$`)
)

// parseMonthDay reads a day of any year, month first: 10-18. Feb 29 counts as
// a day.
func parseMonthDay(text string) (season.MonthDay, error) {
	part := monthDay.FindStringSubmatch(strings.TrimSpace(text))
	if part == nil {
		return season.MonthDay{}, fmt.Errorf(`want a month and day such as "10-18", got %q%s`, Clip(text), DidYouMean(dayMeant(text)))
	}
	month, _ := strconv.Atoi(part[1])
	day, _ := strconv.Atoi(part[2])
	const leap = 2024
	if month < 1 || month > 12 || day < 1 || day > time.Date(leap, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC).Day() {
		return season.MonthDay{}, fmt.Errorf(`there is no day %q in any year; want month and day, month first, such as "10-18"`, Clip(text))
	}
	return season.MonthDay{Month: month, Day: day}, nil
}

// dayMeant is a day that is written in another way, as it should be; empty where
// it is none.
func dayMeant(text string) string {
	for _, form := range []string{"Jan 2", "January 2", "2 Jan", "2 January", "1/2"} {
		if day, err := time.Parse(form, strings.TrimSpace(text)); err == nil {
			return day.Format("01-02")
		}
	}
	return ""
}

// dayWithin is parseMonthDay for a day of a range, such as 08-01..12-31, and
// why; any day where there is none.
func dayWithin(in string) func(string) (season.MonthDay, error) {
	if in == "" {
		return parseMonthDay
	}
	days, why, _ := strings.Cut(in, ", ")
	from, to, _ := strings.Cut(days, "..")
	return func(text string) (season.MonthDay, error) {
		d, err := parseMonthDay(text)
		if err != nil {
			return d, err
		}
		if day := fmt.Sprintf("%02d-%02d", d.Month, d.Day); day < from || day > to {
			return d, fmt.Errorf("want a day from %s to %s (%s), got %q", from, to, why, text)
		}
		return d, nil
	}
}

// parseClock reads a time of day: 06:30.
func parseClock(text string) (ladder.TimeOfDay, error) {
	part := clockTime.FindStringSubmatch(strings.TrimSpace(text))
	if part == nil {
		return 0, fmt.Errorf(`want a time of day such as "06:30", got %q`, Clip(text))
	}
	hour, _ := strconv.Atoi(part[1])
	minute, _ := strconv.Atoi(part[2])
	if hour > 23 || minute > 59 {
		return 0, fmt.Errorf(`there is no time %q; want 00:00 to 23:59, such as "06:30"`, text)
	}
	return ladder.TimeOfDay(hour*60 + minute), nil
}

// parseQuiet reads quiet hours such as 21:00-06:00, or none.
func parseQuiet(text string) (ladder.QuietHours, error) {
	bare := strings.TrimSpace(text)
	if bare == "none" {
		return ladder.QuietHours{}, nil
	}
	from, to, _ := strings.Cut(strings.ReplaceAll(bare, "–", "-"), "-")
	a, errA := parseClock(from)
	b, errB := parseClock(to)
	switch {
	case errA != nil || errB != nil:
		return ladder.QuietHours{}, fmt.Errorf(`want quiet hours such as "21:00-06:00", or none, got %q`, Clip(text))
	case a == b:
		return ladder.QuietHours{}, fmt.Errorf(`quiet hours %q begin and end at the same time; leave them out, or write "none"`, text)
	}
	return ladder.QuietHours{From: a, To: b}, nil
}

// parseDate reads a day: 2026-10-05.
func parseDate(text string) (civil.Date, error) {
	d, err := civil.ParseDate(strings.TrimSpace(text))
	if err != nil || !d.IsValid() || d.Year < 1900 || d.Year > 2199 {
		return civil.Date{}, fmt.Errorf(`want a day such as "2026-10-05", got %q`, Clip(text))
	}
	return d, nil
}
