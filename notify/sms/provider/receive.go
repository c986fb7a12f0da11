package provider

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"stubbled/notify"
)

// longest is the longest wait between two polls that fail.
const longest = 15 * time.Minute

// Receive hears by polling, by webhook, or both, until ctx ends.
func (p *Provider) Receive(ctx context.Context, cursor string, accept notify.Accept, report func(error)) error {
	var both sync.WaitGroup
	fails := each(report, "poll", "webhook")
	if p.o.Poll != nil {
		both.Go(func() { p.polling(ctx, cursor, accept, fails[0]) })
	}
	if p.o.Webhook != nil {
		both.Go(func() { p.listening(ctx, accept, fails[1]) })
	}
	both.Wait()
	<-ctx.Done()
	return ctx.Err()
}

// polling polls for ever; after a fault it waits longer and longer.
func (p *Provider) polling(ctx context.Context, cursor string, accept notify.Accept, report func(error)) {
	wait := time.Duration(0)
	for failed := 0; notify.Wait(ctx, wait) == nil; {
		next, err := p.poll(ctx, cursor, accept)
		if ctx.Err() != nil {
			return
		}
		cursor = next
		report(err)
		wait = p.o.Poll.Every
		if err == nil {
			failed = 0
			continue
		}
		wait = min(max(longest, wait), wait<<min(failed, 10))
		failed++
		if busy, ok := errors.AsType[*tooBusy](err); ok {
			wait = max(wait, min(busy.after, time.Hour))
		}
	}
}

// each is what polling and webhook report to: joined, and told when it changes.
func each(report func(error), parts ...string) []func(error) {
	var mu sync.Mutex
	now, told := make([]error, len(parts)), "not yet"
	out := make([]func(error), len(parts))
	for i, part := range parts {
		out[i] = func(err error) {
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				err = fmt.Errorf("%s: %w", part, err)
			}
			now[i] = err
			all := errors.Join(now...)
			if words := fmt.Sprint(all); words != told {
				told = words
				report(all)
			}
		}
	}
	return out
}
