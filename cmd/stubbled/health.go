package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// healthSocket is the name of the socket in the service's runtime folder on
// which other programs of this machine may ask how the daemon is:
//
//	curl --unix-socket /run/stubbled/health.sock http://localhost/
//
// It answers 200 where all is well and 503 where something fails.
const healthSocket = "health.sock"

// stalled is how old the last pass may be: a beat is a minute.
const stalled = 3 * time.Minute

// wellbeing is how the daemon is, for machines.
type wellbeing struct {
	OK       bool      `json:"ok"`
	Started  time.Time `json:"started"`
	LastPass time.Time `json:"last_pass"`
	Clock    bool      `json:"clock_sure"`
	Failing  []string  `json:"failing"`
	Unsaid   int       `json:"not_said"`
	Backup   string    `json:"last_backup,omitempty"`
}

func (d *daemon) wellbeing(now time.Time) wellbeing {
	s := d.state
	w := wellbeing{Failing: s.troubles(), Clock: d.sched.ClockSure()}
	for _, t := range d.sched.Troubles() {
		if !slices.Contains(w.Failing, t.What) {
			w.Failing = append(w.Failing, t.What)
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	w.Started, w.LastPass, w.Unsaid = s.started, s.lastPass, s.unsaid
	if !s.backup.IsZero() {
		w.Backup = s.backup.Format(time.DateOnly)
	}
	w.OK = len(w.Failing) == 0 && w.Clock && now.Sub(w.LastPass) < stalled
	return w
}

// ServeHTTP answers how the daemon is.
func (d *daemon) ServeHTTP(w http.ResponseWriter, _ *http.Request) {
	be := d.wellbeing(d.env.clock.Now())
	w.Header().Set("Content-Type", "application/json")
	if !be.OK {
		w.WriteHeader(http.StatusServiceUnavailable)
	}
	_ = json.NewEncoder(w).Encode(be) // who asked has gone
}

// serveHealth listens where the service manager gave a runtime folder; without
// one nobody is there to ask.
func (d *daemon) serveHealth(ctx context.Context) error {
	dir := os.Getenv("RUNTIME_DIRECTORY")
	if dir == "" {
		return nil
	}
	path := filepath.Join(dir, healthSocket)
	if err := os.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("health socket: %w", err)
	}
	l, err := net.Listen("unix", path)
	if err != nil {
		return fmt.Errorf("health socket: %w", err)
	}
	server := &http.Server{Handler: d, ReadHeaderTimeout: 5 * time.Second, MaxHeaderBytes: 8 << 10}
	go func() {
		<-ctx.Done()
		_ = server.Close()
	}()
	go func() {
		if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			d.log.Warn("health socket ended", "err", err)
		}
	}()
	return nil
}
