// Package quiet is in charge of how little is texted outside of the fall: at most
// one text that nobody asked for a contact and week, Monday to Sunday, from January
// to July. It says which one; it knows no farm and makes no words.
package quiet

import (
	"time"

	"github.com/golang-sql/civil"
)

// A Rank is who goes first where two texts come due in one week; the others give
// way, and wait for the next week or stand in the Monday mail.
type Rank int

// The ranks. Free neither gives way nor counts: who is writing, what is on fire, the
// beginning of a hold, a cutoff's reminders, the machine's alarms.
const (
	Free    Rank = iota
	Drought      // a drought trigger, or the question whether it is one
	Ahead        // the fall ahead, 60 and 30 days before its first cutoff
	Asked        // whether it froze
	Ground       // when ground may be grazed again: turn-in, a hold that is over
	Rest         // all other news of a paddock
	Alive        // a sign of life; that of a month's first Monday is free
)

// Holds reports whether the rule holds on a day.
func Holds(day civil.Date) bool { return day.Month < time.August }

// Monday is the first day of a day's week.
func Monday(day civil.Date) civil.Date {
	back := (int(day.In(time.UTC).Weekday()) + 6) % 7
	return day.AddDays(-back)
}

// First reports whether a Monday is a month's first.
func First(monday civil.Date) bool { return monday.Day <= 7 }

// A Text is one that would go to one contact in a week. What is said together is one:
// all of one kind that is due.
type Text struct {
	Kind string
	Rank Rank
	Due  time.Time // later in the week: the week waits for it
}

// One is the text of a contact's week, of those that are still to be said; false where
// none is left or the week has had its own.
func One(texts []Text, had bool) (one Text, some bool) {
	for _, t := range texts {
		if t.Rank == Free || had {
			continue
		}
		if first := t.Rank < one.Rank || t.Rank == one.Rank && t.Due.Before(one.Due); !some || first {
			one, some = t, true
		}
	}
	return one, some
}
