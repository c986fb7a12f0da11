package diary

import (
	"time"

	"github.com/golang-sql/civil"
)

// An Observation is what an instrument or a weather service said about the air
// at one place: what was measured, or what is expected.
type Observation struct {
	Source string     // record, thermometer, service
	Place  string     // station or log name, for the person who reads it
	At     time.Time  // end of the period it covers; unique with Source and Forecast
	Day    civil.Date // the farm's day that it counts for
	// MinC is the lowest temperature in degrees C over the period; MaxC and
	// RainMM are nil where not given.
	MinC     float64
	MaxC     *float64
	RainMM   *float64
	Forecast bool
	Issued   time.Time // when a forecast was made
}
