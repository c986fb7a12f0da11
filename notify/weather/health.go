package weather

import (
	"time"

	"stubbled/notify"
)

// A health tells changes only: a fault once when it begins or turns into
// another, and nil once when it is over. A week without data is one alarm.
type health struct {
	report func(error)
	said   string
	spoken bool
}

func (h *health) tell(kind string, err error) {
	if h.spoken && kind == h.said {
		return
	}
	h.spoken, h.said = true, kind
	h.report(err)
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

// backOff is how long to wait after the n-th failure in a row (from 1), spread
// by jitter (0 to 1).
func backOff(n int, jitter float64) time.Duration {
	return notify.ReconnectAfter(n, 30*time.Second, 30*time.Minute, jitter)
}
