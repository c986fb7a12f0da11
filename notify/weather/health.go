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

import (
	"context"

	"stubbled/notify"
	"stubbled/scheduler/diary"
)

// A health tells changes only: a fault once when it begins or turns into
// another, and nil once when it is over. A week without data is one alarm.
type health struct {
	report func(error)
	said   string // the last kind; empty before any
}

func (h *health) tell(kind string, err error) {
	if kind != h.said {
		h.said = kind
		h.report(err)
	}
}

// The bounds of any air temperature, in degrees C: what lies outside is a
// fault of the instrument. The coldest and warmest ever recorded on earth are
// -89.2 and 56.7 (World Meteorological Organization); no pasture comes near
// the first.
const (
	coldestC = -70
	warmestC = 60
)

func possible(c float64) bool { return c >= coldestC && c <= warmestC } // false for NaN

func fromF(f float64) float64 { return (f - 32) * 5 / 9 }

// maxBatch is how many observations are handed over at once.
const maxBatch = 1000

// handOver hands on what was observed, and gives back what could not be.
func handOver(ctx context.Context, observe notify.Observe, got []diary.Observation) (left []diary.Observation, err error) {
	for len(got) > 0 {
		n := min(len(got), maxBatch)
		if err := observe(ctx, got[:n]); err != nil {
			return got, err
		}
		got = got[n:]
	}
	return nil, nil
}
