package email

import (
	"errors"
	"time"

	"stubbled/notify"
)

// pause is how long to wait after the n-th failure in a row (from 1), spread
// by jitter (0 to 1). A refused login waits longer: a mailbox may be locked by
// too many tries.
func pause(n int, err error, jitter float64) time.Duration {
	if errors.Is(err, errLogin) {
		return notify.ReconnectAfter(n, 5*time.Minute, time.Hour, jitter)
	}
	return notify.ReconnectAfter(n, 5*time.Second, 5*time.Minute, jitter)
}
