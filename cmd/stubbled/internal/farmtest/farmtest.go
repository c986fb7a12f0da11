// Package farmtest is the invented farm of the command's tests, and a clock
// that a test sets.
package farmtest

import (
	"os"
	"path/filepath"
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
