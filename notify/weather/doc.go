// Package weather is in charge of observations coming in: from a thermometer's
// log file, and from the public weather service's open JSON.
//
// It never decides what a frost is or which day a minimum counts for; it hands
// on what was measured or forecast, with the instant. It never takes silence
// for warmth: where nothing usable has come for a while, that is reported.
//
// Invariants: a value in an unknown unit, with a failed check or out of any
// bound is left out and never guessed; a line that is still being written is
// not read; the service is asked no more often than it asks to be, and no
// answer of it is read without a bound.
package weather
