package daemon

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// healthSocket is the name of the socket in the service's runtime folder on
// which other programs of this machine may ask how the daemon is:
//
//	curl --unix-socket /run/stubbled/health.sock http://localhost/
//
// It answers 200 where all is well and 503 where something fails.
const healthSocket = "health.sock"

// runtimeDir names the folder that the service manager gave for as long as the
// service is wanted. It lies in memory.
const runtimeDir = "RUNTIME_DIRECTORY"

// Stalled is how old the last pass may be: a beat is a minute.
const Stalled = 3 * time.Minute

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

func (s *state) wellbeing() wellbeing {
	now := s.clock.Now()
	s.mu.Lock()
	defer s.mu.Unlock()
	w := wellbeing{Started: s.started, LastPass: s.lastPass, Clock: s.sure, Failing: s.faults(s.told), Unsaid: s.looked.Unsent}
	if day := s.looked.LastBackup; !day.IsZero() {
		w.Backup = day.String()
	}
	w.OK = len(w.Failing) == 0 && w.Clock && now.Sub(w.LastPass) < Stalled
	return w
}

// line says in a line how the daemon is, with the mend of what fails longest, and
// how the store is.
func (s *state) line(store error) string {
	if store != nil {
		return store.Error()
	}
	be := s.wellbeing()
	if len(be.Failing) > 0 {
		line := "something fails: " + strings.Join(be.Failing, ", ")
		if f, ok := s.longest(""); ok {
			line += "; " + f.detail
		}
		return line
	}
	if !be.Clock {
		return "the clock is not believed yet: reminders wait"
	}
	return "all is well"
}

// ServeHTTP answers how the daemon is.
func (s *state) ServeHTTP(w http.ResponseWriter, _ *http.Request) {
	be := s.wellbeing()
	w.Header().Set("Content-Type", "application/json")
	if !be.OK {
		w.WriteHeader(http.StatusServiceUnavailable)
	}
	_ = json.NewEncoder(w).Encode(be) // who asked has gone
}

// serve answers where the service manager gave a runtime folder; without one
// nobody is there to ask.
func (s *state) serve(ctx context.Context, log *slog.Logger) error {
	dir := os.Getenv(runtimeDir)
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
	server := &http.Server{Handler: s, ReadHeaderTimeout: 5 * time.Second, MaxHeaderBytes: 8 << 10}
	go func() {
		<-ctx.Done()
		_ = server.Close()
	}()
	go func() {
		if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			log.Warn("health socket ended", "err", err)
		}
	}()
	return nil
}
