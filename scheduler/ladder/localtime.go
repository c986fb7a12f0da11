package ladder

import (
	"fmt"
	"time"

	"github.com/golang-sql/civil"
)

// ParseTimeOfDay reads a time such as "06:30".
func ParseTimeOfDay(text string) (TimeOfDay, error) {
	t, err := time.Parse("15:04", text)
	if err != nil {
		return 0, fmt.Errorf("want a time such as 06:30, got %q", text)
	}
	return TimeOfDay(t.Hour()*60 + t.Minute()), nil
}

// String is the time as 06:30.
func (t TimeOfDay) String() string { return fmt.Sprintf("%02d:%02d", int(t)/60, int(t)%60) }

// Instant is when a clock on the farm's wall shows a time on a day. A time that
// the clock jumps over is the moment of the jump; one that it shows twice is
// the first.
func Instant(day civil.Date, tod TimeOfDay, zone *time.Location) time.Time {
	t := time.Date(day.Year, day.Month, day.Day, 0, int(tod), 0, 0, zone)
	h, m, _ := t.Clock()
	if h*60+m != int(tod) || civil.DateOf(t) != day {
		// time.Date guessed with the offset of one side of the gap.
		start, end := t.ZoneBounds()
		if civil.DateOf(t).Before(day) || civil.DateOf(t) == day && h*60+m < int(tod) {
			return end
		}
		return start
	}
	start, _ := t.ZoneBounds()
	if start.IsZero() {
		return t
	}
	_, now := t.Zone()
	_, then := start.Add(-time.Second).In(zone).Zone()
	first := t.Add(time.Duration(now-then) * time.Second)
	if then > now && first.Before(start) {
		return first
	}
	return t
}

// quiet reports whether a contact's quiet hours hold at an instant.
func (c Contact) quiet(at time.Time) bool {
	h, m, _ := at.Clock()
	t := TimeOfDay(h*60 + m)
	if c.QuietFrom <= c.QuietTo {
		return c.QuietFrom <= t && t < c.QuietTo
	}
	return t >= c.QuietFrom || t < c.QuietTo
}

// Quiet reports whether a contact's quiet hours hold at an instant on the
// farm's clock.
func (c Contact) Quiet(at time.Time, zone *time.Location) bool { return c.quiet(at.In(zone)) }

// AfterQuiet is the first instant at or after one that is outside the
// contact's quiet hours.
func (c Contact) AfterQuiet(at time.Time, zone *time.Location) time.Time {
	local := at.In(zone)
	if !c.quiet(local) {
		return at
	}
	day := civil.DateOf(local)
	end := Instant(day, c.QuietTo, zone)
	if !end.After(at) {
		end = Instant(day.AddDays(1), c.QuietTo, zone)
	}
	return end
}
