package notify

import (
	"fmt"
	"time"

	"stubbled/notify/picture"
	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// Calendar is the cutoffs of a plan as a calendar file. A later file moves the
// entries of an earlier one.
func Calendar(o wording.Options, farm string, lines []ladder.Shut, issued time.Time) ([]byte, error) {
	c := picture.Calendar{Farm: farm, Name: farm, Issued: issued}
	for _, l := range lines {
		if l.Cutoff.IsZero() || l.FallUse {
			continue
		}
		title, note := wording.CalendarEntry(o, l.Name, l.Leave, l.Target, l.Frost)
		c.Entries = append(c.Entries, picture.Entry{Paddock: l.Paddock, Season: l.Cutoff.Year, First: l.Cutoff, Title: title, Note: note})
	}
	return c.ICS()
}

// calendarFile goes with the mails that speak of the season's cutoffs.
func calendarFile(o wording.Options, farm string, kind ladder.Kind, facts []ladder.Facts, now time.Time) ([]store.File, error) {
	if kind != ladder.FallAhead && kind != ladder.MondayMail || len(facts) == 0 || len(facts[0].Shuts) == 0 {
		return nil, nil
	}
	data, err := Calendar(o, farm, facts[0].Shuts, now)
	if err != nil {
		return nil, fmt.Errorf("write the calendar: %w", err)
	}
	return []store.File{{Name: "cutoffs.ics", Type: "text/calendar; charset=utf-8; method=PUBLISH", Data: data}}, nil
}
