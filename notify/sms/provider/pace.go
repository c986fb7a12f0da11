package provider

import (
	"context"
	"sync"
	"time"

	"stubbled/notify"
)

// pace keeps the least time between two messages.
type pace struct {
	mu   sync.Mutex
	next time.Time
}

// patience is how long a message waits for its turn here; longer waits are the
// courier's, which meanwhile sends what is more urgent.
const patience = 2 * time.Second

// turn waits for the next turn, or says how long it would take.
func (p *pace) turn(ctx context.Context, now time.Time, every time.Duration) (wait time.Duration, ok bool) {
	p.mu.Lock()
	wait = p.next.Sub(now)
	if wait > every { // the clock was set back
		wait = every
	}
	if wait > patience {
		p.mu.Unlock()
		return wait, false
	}
	p.next = now.Add(max(wait, 0) + every)
	p.mu.Unlock()
	if wait <= 0 || notify.Wait(ctx, wait) == nil {
		return 0, true
	}
	return wait, false
}
