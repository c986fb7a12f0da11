package provider

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

	"golang.org/x/net/netutil"

	"stubbled/notify"
)

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
