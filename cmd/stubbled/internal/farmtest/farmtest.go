// Package farmtest is the invented farm of the command's tests, and a clock
// that a test sets.
package farmtest

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// Text is an invented farm with a frost by hand, so that every date can be
// counted on fingers: frost Oct 16, 45 days, cutoff Sep 1 (common practice).
const Text = `
farm: {name: Quail Fork, timezone: America/Chicago}
frost: {date: 10-16}
paddocks:
  - {id: creek, name: Creek Bottom, aliases: [cb], area: 22 acres, grass: eastern gamagrass}
  - {id: north40, name: North 40, aliases: [n40], area: 40 acres, grass: big bluestem}
  - {id: lane, name: Lane, area: 30 acres, grass: tall fescue, hazard_plants: [johnsongrass]}
herds:
  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march, paddock: creek}
contacts:
  - {name: Ana, role: manager, phone: "+15555550142", language: en, quiet: "21:00-06:00"}
  - {name: Luis, role: helper, phone: "+15555550143", language: es}
  - {name: Ruth, role: owner, phone: "+15555550144", language: en}
`

// File puts a farm file in a folder of the test's own.
func File(t testing.TB, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "farm.yaml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Top is the folder of the whole project.
func Top(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for !Exists(filepath.Join(dir, "go.mod")) {
		dir = filepath.Dir(dir)
	}
	return dir
}

// Exists reports whether a file is there.
func Exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// A Clock shows what the test sets.
type Clock struct{ Time time.Time }

func (c *Clock) Now() time.Time           { return c.Time }
func (c *Clock) SinceBoot() time.Duration { return c.Time.Sub(time.Unix(0, 0)) }
func (c *Clock) Synced() bool             { return true }

// Ruin writes rubbish over a database.
func Ruin(t testing.TB, db string) {
	t.Helper()
	if err := os.WriteFile(db, []byte(strings.Repeat("not a database", 1000)), 0o600); err != nil {
		t.Fatal(err)
	}
}

// A MovingClock may be set while others read it.
type MovingClock struct{ At atomic.Int64 }

func (c *MovingClock) Now() time.Time           { return time.Unix(c.At.Load(), 0) }
func (c *MovingClock) SinceBoot() time.Duration { return time.Duration(c.At.Load()) * time.Second }
func (c *MovingClock) Synced() bool             { return true }

// A Screen may be read while others write to it.
type Screen struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *Screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *Screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}
