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

// took notes that a message goes now.
func (p *pace) took(now time.Time, every time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.next = now.Add(every)
}

// left is how long the next message has to wait.
func (p *pace) left(now time.Time, every time.Duration) time.Duration {
	p.mu.Lock()
	defer p.mu.Unlock()
	return min(p.next.Sub(now), every) // more: the clock was set back
}

// Turn waits until the service may be given the next message.
func (p *Provider) Turn(ctx context.Context) error {
	return notify.Wait(ctx, p.pace.left(p.now(), p.o.Every))
}
