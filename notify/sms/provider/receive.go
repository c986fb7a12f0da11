package provider

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"

	"golang.org/x/net/netutil"

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

// maxConnections bounds the callers at once; more wait in the kernel's queue, and
// with the times below a real call not long, however many say nothing.
const maxConnections = 1024

// listening serves the webhook until ctx ends; where the port is taken it
// tries again.
func (p *Provider) listening(ctx context.Context, accept notify.Accept, report func(error)) {
	for wait := time.Duration(0); notify.Wait(ctx, wait) == nil; wait = 30 * time.Second {
		l, err := net.Listen("tcp", p.o.Webhook.Listen)
		if err != nil {
			report(fmt.Errorf("cannot listen on %s: is something else there? %w", p.o.Webhook.Listen, err))
			continue
		}
		report(nil)
		if err := p.serve(ctx, l, accept, report); err != nil && ctx.Err() == nil {
			report(err)
		}
	}
}

// serve answers calls on a listener; every wait is bounded.
func (p *Provider) serve(ctx context.Context, l net.Listener, accept notify.Accept, report func(error)) error {
	s := &http.Server{
		Handler:           p.Handler(accept, report),
		ReadHeaderTimeout: 2 * time.Second,
		ReadTimeout:       5 * time.Second,
		WriteTimeout:      20 * time.Second,
		IdleTimeout:       5 * time.Second,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(p.o.Log.Handler(), slog.LevelDebug),
	}
	ended := make(chan struct{})
	stop := context.AfterFunc(ctx, func() {
		defer close(ended)
		// Calls in hand are finished: what was accepted must be said to be.
		grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
		defer cancel()
		if s.Shutdown(grace) != nil {
			s.Close()
		}
	})
	err := s.Serve(netutil.LimitListener(l, maxConnections))
	if !stop() {
		<-ended
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}
