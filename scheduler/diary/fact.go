// Package diary is in charge of the facts of a farm: what can be recorded, how
// one fact takes another back, and how the list folds to what still stands.
//
// It never decides what a fact means for the grass, and never reads or writes
// a file. A fact is never changed: a correction voids it and stands beside it.
package diary

import (
	"time"

	"github.com/golang-sql/civil"
)

// Kind says what a text was taken for. Kinds for which Recorded is true are
// written in the diary; the others are requests.
type Kind string

// The kinds of the trade.
const (
	Reading  Kind = "reading"  // one visit to one paddock: plant heights
	Off      Kind = "off"      // animals have left the paddock
	On       Kind = "on"       // animals were turned in
	Hayed    Kind = "hayed"    // cut for hay; Heights[0], if any, is the height left
	Burned   Kind = "burned"   // burned over
	Frost    Kind = "frost"    // a minimum of 36 F or below, measured (TempC) or seen by a person
	Brown    Kind = "brown"    // the tops are brown: dormant
	Regrowth Kind = "regrowth" // green regrowth seen on hazard plants after frost
	Clear    Kind = "clear"    // the manager ends a hold: checked on the ground
	Dry      Kind = "dry"      // the manager calls a drought: no growth is promised
	Wean     Kind = "wean"     // the calves of a herd were weaned
	Later    Kind = "later"    // put a rung off
	Ack      Kind = "ack"      // the newest open question was confirmed
	Void     Kind = "void"     // takes Voids back

	Undo   Kind = "undo"
	Status Kind = "status"
	Help   Kind = "help"
	Stop   Kind = "stop"
	Start  Kind = "start"
)

// Recorded reports whether facts of this kind are written in the diary.
func (k Kind) Recorded() bool {
	switch k {
	case Undo, Status, Help, Stop, Start:
		return false
	}
	return true
}

// Where a fact came from.
const (
	FromText     = "text"
	FromKeyboard = "keyboard"
	// A measured minimum carries "record", "thermometer" or "service" and is
	// unique by source, kind, paddock and day.
	FromRecord      = "record"
	FromThermometer = "thermometer"
	FromService     = "service"
)

// A Fact is one thing that happened, or was asked for.
type Fact struct {
	ID      int64      `json:"id,omitempty"`
	At      time.Time  `json:"at,omitzero"`       // the instant it was sent or measured
	Day     civil.Date `json:"date,omitzero"`     // the farm's day that it speaks of
	Kind    Kind       `json:"kind"`              //
	Paddock string     `json:"paddock,omitempty"` // id; empty is the whole farm
	Herd    string     `json:"herd,omitempty"`    // id; empty is every herd there
	// Heights are leaf heights in inches, above 0 and up to 120, in the order
	// written.
	Heights []float64 `json:"heights_in,omitempty"`
	// Adds says that bare numbers carry on the same person's reading of the
	// same paddock.
	Adds bool `json:"adds,omitempty"`
	// Wait is how far a rung is put off; 0 is the default (a day).
	Wait time.Duration `json:"wait,omitempty"`
	// TempC is the measured minimum of a frost in degrees C; nil where a
	// person reported it.
	TempC  *float64 `json:"temp_c,omitempty"`
	By     string   `json:"by,omitempty"`     // the contact's name, or the source of a measurement
	Source string   `json:"source,omitempty"` // text, keyboard, record, thermometer, service
	Inbox  int64    `json:"inbox,omitempty"`  // the inbox row it was read from
	Voids  int64    `json:"voids,omitempty"`  // the fact that it takes back
	Words  string   `json:"words,omitempty"`  // what was typed, for the person who reads the diary
}

// Measured reports whether an instrument rather than a person said so.
func (f Fact) Measured() bool { return f.TempC != nil }
