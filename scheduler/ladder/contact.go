// Package ladder is in charge of who is told what, and when: contacts, rungs,
// notices, and the next moment at which any of that can change.
//
// It is pure: it reads no clock and no file, and makes no words. The whole
// list of what should be said is computed anew each time; what was said
// already is passed in.
package ladder

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"
)

// TimeOfDay is a time on the farm's clock in minutes after midnight.
type TimeOfDay int

// A Contact is a person who is told things.
type Contact struct {
	Name       string     `key:"name" as:"person" missing:"who it is, such as name: Ana"`
	Role       string     `key:"role" as:"role" missing:"what they do: manager, owner, helper, or a word of your own"` // manager, owner, helper have default rungs
	Phone      string     `key:"phone" as:"phone"`                                                                     // E.164, empty where none
	Email      string     `key:"email" as:"email"`                                                                     // empty where none
	Language   string     `key:"language" as:"language" default:"en"`                                                  // a tag of notify/language
	QuietHours QuietHours `key:"quiet" as:"quiet hours"`
}

// QuietHours are on the farm's clock; equal where there are none.
type QuietHours struct{ From, To TimeOfDay }

// Address is where a medium reaches the contact; empty where it doesn't.
func (c Contact) Address(m Medium) string {
	if m == Mail {
		return c.Email
	}
	return c.Phone
}

// Addresses are all ways to reach the contact.
func (c Contact) Addresses() []string {
	return slices.DeleteFunc([]string{c.Phone, c.Email}, func(a string) bool { return a == "" })
}

// OwnerOf is the contact who has an address, and the address as the farm file writes
// it; false for a stranger's.
func OwnerOf(contacts []Contact, address string) (c Contact, as string, ok bool) {
	for _, c := range contacts {
		for _, own := range c.Addresses() {
			if strings.EqualFold(own, address) {
				return c, own, true
			}
		}
	}
	return Contact{}, "", false
}

// Manager reports whether the contact may call a drought, end a hold, and is
// told everything that somebody must know.
func (c Contact) Manager() bool { return c.is(manager...) }

// is reports whether the contact has one of some roles.
func (c Contact) is(roles ...string) bool {
	return slices.ContainsFunc(roles, func(role string) bool { return strings.EqualFold(role, c.Role) })
}

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
	if h, m, _ := t.Clock(); h*60+m != int(tod) || civil.DateOf(t) != day {
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
	if first := t.Add(time.Duration(now-then) * time.Second); then > now && first.Before(start) {
		return first
	}
	return t
}

// quiet reports whether a contact's quiet hours hold at an instant.
func (c Contact) quiet(at time.Time) bool {
	h, m, _ := at.Clock()
	t := TimeOfDay(h*60 + m)
	if c.QuietHours.From <= c.QuietHours.To {
		return c.QuietHours.From <= t && t < c.QuietHours.To
	}
	return t >= c.QuietHours.From || t < c.QuietHours.To
}

// Quiet reports whether a contact's quiet hours hold at an instant on the
// farm's clock.
func (c Contact) Quiet(at time.Time, zone *time.Location) bool { return c.quiet(at.In(zone)) }

// quietFrom is when the contact's quiet hours begin next; zero where there are none.
func (c Contact) quietFrom(now time.Time, zone *time.Location) time.Time {
	if c.QuietHours.From == c.QuietHours.To {
		return time.Time{}
	}
	day := civil.DateOf(now.In(zone))
	if at := Instant(day, c.QuietHours.From, zone); at.After(now) {
		return at
	}
	return Instant(day.AddDays(1), c.QuietHours.From, zone)
}

// AfterQuiet is the first instant at or after one that is outside the
// contact's quiet hours.
func (c Contact) AfterQuiet(at time.Time, zone *time.Location) time.Time {
	local := at.In(zone)
	if !c.quiet(local) {
		return at
	}
	day := civil.DateOf(local)
	end := Instant(day, c.QuietHours.To, zone)
	if again := end.Add(time.Hour); !end.After(at) && again.After(at) && !c.quiet(again.In(zone)) {
		return again // in an hour that the clock shows twice: the second time
	}
	if !end.After(at) {
		end = Instant(day.AddDays(1), c.QuietHours.To, zone)
	}
	return end
}
