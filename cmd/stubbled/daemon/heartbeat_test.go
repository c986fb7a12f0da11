package daemon

import (
	"log/slog"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"
)

func TestABeatThatPanicsDoesNotStopTheHeart(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var beats atomic.Int32
		c, err := heartbeat(slog.New(slog.DiscardHandler), func() {
			if beats.Add(1) == 1 {
				panic("a fault in one turn")
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		c.Start()
		time.Sleep(5*time.Minute + time.Second)
		<-c.Stop().Done()
		if got := beats.Load(); got != 5 {
			t.Errorf("%d beats in five minutes, want 5", got)
		}
	})
}

func TestABeatThatLastsIsNotStartedTwice(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var running, most atomic.Int32
		c, err := heartbeat(slog.New(slog.DiscardHandler), func() {
			most.Store(max(most.Load(), running.Add(1)))
			time.Sleep(150 * time.Second)
			running.Add(-1)
		})
		if err != nil {
			t.Fatal(err)
		}
		c.Start()
		time.Sleep(10 * time.Minute)
		<-c.Stop().Done()
		if most.Load() != 1 {
			t.Errorf("%d turns ran at once", most.Load())
		}
	})
}
