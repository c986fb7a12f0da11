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
	// written; of a frame count cells.
	Heights []float64 `json:"heights_in,omitempty"`
	// Adds says that bare numbers carry on the same person's reading of the
	// same paddock.
	Adds bool `json:"adds,omitempty"`
	// Wait is how far a rung is put off; 0 is the default (a day).
	Wait time.Duration `json:"wait,omitempty"`
	// TempC is the measured minimum of a frost in degrees C; nil where a
	// person reported it.
	TempC *float64 `json:"temp_c,omitempty"`
	// Plant is the hazard plant of a report, as the farm file spells it.
	Plant string `json:"plant,omitempty"`
	// Amount is what its kind counts: of rain inches, 0 where it was not said.
	Amount float64 `json:"amount,omitempty"`
	By     string  `json:"by,omitempty"`     // the contact's name, or the source of a measurement
	Source string  `json:"source,omitempty"` // text, keyboard, record, thermometer, service
	Inbox  int64   `json:"inbox,omitempty"`  // the inbox row it was read from
	Voids  int64   `json:"voids,omitempty"`  // the fact that it takes back
	Words  string  `json:"words,omitempty"`  // what was typed, for the person who reads the diary
}

// Measured reports whether an instrument rather than a person said so.
func (f Fact) Measured() bool { return f.TempC != nil }

// Concerns reports whether a fact is of a paddock, or of the whole farm.
func (f Fact) Concerns(paddock string) bool { return f.Paddock == "" || f.Paddock == paddock }

// EarlierDay and LaterDay are the earlier and the later of two days; a zero is none.
func EarlierDay(a, b civil.Date) civil.Date {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}

func LaterDay(a, b civil.Date) civil.Date {
	if a.After(b) {
		return a
	}
	return b
}
