package notify_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/notify"
)

func TestAFailingCarrierIsTriedEverMoreSeldom(t *testing.T) {
	for _, c := range []struct {
		name   string
		n      int
		lo, hi time.Duration
	}{
		{"after the first failure", 1, 5 * time.Second, 10 * time.Second},
		{"after the second", 2, 10 * time.Second, 20 * time.Second},
		{"after the fourth, where doubling would pass the most", 4, 30 * time.Second, time.Minute},
		{"after a year of them", 1 << 40, 30 * time.Second, time.Minute},
		{"a count that never began is the first", -3, 5 * time.Second, 10 * time.Second},
	} {
		lo, hi := notify.ReconnectAfter(c.n, 10*time.Second, time.Minute, 0), notify.ReconnectAfter(c.n, 10*time.Second, time.Minute, 1)
		if lo != c.lo || hi != c.hi {
			t.Errorf("%s: %v to %v, want %v to %v", c.name, lo, hi, c.lo, c.hi)
		}
	}
}

func TestReconnectingGrowsAndStaysWithinItsBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := time.Duration(rapid.Int64Range(1, int64(10*time.Minute)).Draw(t, "first"))
		most := first + time.Duration(rapid.Int64Range(0, int64(time.Hour)).Draw(t, "more"))
		n, jitter := rapid.IntRange(-5, 100).Draw(t, "n"), rapid.Float64Range(0, 1).Draw(t, "jitter")
		this, next := notify.ReconnectAfter(n, first, most, jitter), notify.ReconnectAfter(n+1, first, most, jitter)
		if this < first/2 || this > most || next < this {
			t.Fatalf("%v, then %v, of %v to %v", this, next, first, most)
		}
	})
}

func TestAWaitEndsWithTheDaemon(t *testing.T) {
	over, end := context.WithCancel(t.Context())
	end()
	if err := notify.Wait(over, time.Hour); !errors.Is(err, context.Canceled) {
		t.Errorf("a long wait after the end: %v", err)
	}
	if err := notify.Wait(over, 0); !errors.Is(err, context.Canceled) {
		t.Errorf("no wait at all after the end: %v", err)
	}
	if err := notify.Wait(t.Context(), 0); err != nil {
		t.Errorf("a wait that is over: %v", err)
	}
}
