// Package ladder is in charge of who is told what, and when: contacts, rungs,
// notices, and the next moment at which any of that can change.
//
// It is pure: it reads no clock and no file, and makes no words. The whole
// list of what should be said is computed anew each time; what was said
// already is passed in.
package ladder

import (
	"time"
)

// TimeOfDay is a time on the farm's clock in minutes after midnight.
type TimeOfDay int

// A Contact is a person who is told things.
type Contact struct {
	Name     string
	Role     string // free text; manager, owner, helper have default rungs
	Phone    string // E.164, empty where none
	Email    string // empty where none
	Language string // en, es
	// Quiet hours on the farm's clock; equal where none.
	QuietFrom, QuietTo TimeOfDay
	// SuppressedText and SuppressedMail: opted out, by the store.
}

// A Rung says that a number of days before cutoff certain roles are told.
type Rung struct {
	Before      int           // days before C; 0 is the cutoff
	Tell        []string      // roles
	AlsoBy      []Medium      // besides text
	Written     bool          // written in the farm file, not a default
	RepeatAfter time.Duration // unanswered, it is said once more; 0 never
}
