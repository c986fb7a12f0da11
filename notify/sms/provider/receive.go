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
	faults := &faults{report: report, told: "not yet"}
	if p.o.Poll != nil {
		both.Go(func() { p.polling(ctx, cursor, accept, faults.of("poll")) })
	}
	if p.o.Webhook != nil {
		both.Go(func() { p.listening(ctx, accept, faults.of("webhook")) })
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
		var busy *tooBusy
		if errors.As(err, &busy) {
			wait = max(wait, min(busy.after, time.Hour))
		}
	}
}

// faults joins what polling and webhook say, and tells it when it changes.
type faults struct {
	mu     sync.Mutex
	report func(error)
	now    [2]error
	told   string
}

func (f *faults) of(part string) func(error) {
	i := 0
	if part == "webhook" {
		i = 1
	}
	return func(err error) {
		f.mu.Lock()
		defer f.mu.Unlock()
		if err != nil {
			err = fmt.Errorf("%s: %w", part, err)
		}
		f.now[i] = err
		all := errors.Join(f.now[:]...)
		if words := fmt.Sprint(all); words != f.told {
			f.told = words
			f.report(all)
		}
	}
}
