package picture

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"
	"github.com/golang-sql/civil"
)

// A Calendar is a file of cutoffs that a phone or a wall calendar takes in
// (RFC 5545). Sent again, it moves the entries that it made before: an entry
// is known by farm, paddock and season, never by its day.
type Calendar struct {
	// Farm is the calendar's title. It tells this farm from others: another one
	// makes new entries beside the old.
	Farm string
	// Issued is when this was true. A later file wins over an earlier one.
	Issued  time.Time
	Entries []Entry
}

// An Entry is the cutoff of one paddock.
type Entry struct {
	Paddock string // id
	Season  int    // the year of the fall
	Day     civil.Date
	Title   string
	Note    string // lines are kept
}

// sequenceFrom is where the count of seconds begins that is used as SEQUENCE.
// It fits 31 bits until 2088, and nothing need be remembered to make it rise.
var sequenceFrom = time.Date(2020, time.January, 1, 0, 0, 0, 0, time.UTC)

// ICS writes the file. An entry without a paddock, season or valid day is an
// error.
func (c Calendar) ICS() ([]byte, error) {
	if c.Issued.Before(sequenceFrom) {
		return nil, fmt.Errorf("calendar issued %s: want a day after %s", c.Issued.Format(time.DateOnly), sequenceFrom.Format(time.DateOnly))
	}
	cal := ics.NewCalendarFor("stubbled")
	cal.SetProductId("-//stubbled//paddock days//EN")
	cal.SetMethod(ics.MethodPublish)
	cal.SetXWRCalName(inLine(c.Farm))
	for _, e := range c.Entries {
		if err := c.add(cal, e); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	if err := cal.SerializeTo(&b, ics.WithNewLine("\r\n"), ics.WithLineLength(75)); err != nil {
		return nil, fmt.Errorf("write calendar: %w", err)
	}
	return b.Bytes(), nil
}

func (c Calendar) add(cal *ics.Calendar, e Entry) error {
	if e.Paddock == "" || e.Season == 0 {
		return fmt.Errorf("calendar entry %q: want a paddock and a season", e.Title)
	}
	if !e.Day.IsValid() {
		return fmt.Errorf("calendar entry %q: %s: no such day", e.Title, e.Day)
	}
	v := cal.AddEvent(e.uid(c.Farm))
	v.SetDtStampTime(c.Issued)
	v.SetSequence(int(c.Issued.Unix() - sequenceFrom.Unix()))
	v.SetAllDayStartAt(e.Day.In(time.UTC))
	v.SetAllDayEndAt(e.Day.AddDays(1).In(time.UTC)) // exclusive, RFC 5545 section 3.6.1
	v.SetSummary(inLine(e.Title))
	if note := clean(e.Note); note != "" {
		v.SetDescription(note)
	}
	v.SetTimeTransparency(ics.TransparencyTransparent) // it takes nobody's time
	v.SetStatus(ics.ObjectStatusConfirmed)
	for _, trigger := range alarms {
		a := v.AddAlarm()
		a.SetAction(ics.ActionDisplay)
		a.SetTrigger(trigger)
		a.SetDescription(inLine(e.Title))
	}
	return nil
}

// alarms ring at half past six, ten days before and on the day itself, counted
// from the day's midnight where the calendar is (RFC 5545 section 3.8.6.3).
var alarms = []string{"-P9DT17H30M", "PT6H30M"}

// uid stays the same however often the day moves or the names change.
func (e Entry) uid(farm string) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %d %q", farm, e.Paddock, e.Season, "cutoff"))
	return hex.EncodeToString(sum[:16]) + "@stubbled.invalid"
}

// clean leaves what a TEXT value may hold (RFC 5545 section 3.3.11).
func clean(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\r':
			return '\n'
		case unicode.IsControl(r), r == '\ufffd':
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "?")))
}

func inLine(s string) string { return strings.Join(strings.Fields(clean(s)), " ") }
