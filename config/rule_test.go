package config_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stubbled/config"
	"stubbled/config/settings"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/season"
)

// Sources run from 6 in (Polley, Univ. of Missouri) to 16 (Keyser, Univ. of Tennessee)
// to leave of eastern gamagrass, and from 12 (Univ. of Missouri) to 32 (Keyser) to begin.
func TestAFigureThatNoSourceHasIsNamedAndOneThatOneHasIsNot(t *testing.T) {
	const text = `
farm: {name: Quail Fork, timezone: America/Chicago}
frost: {date: 10-16}
paddocks:
  - {id: creek, area: 22 acres, grass: eastern gamagrass, rest: {leave: %s, days: %s}}
contacts: [{name: Ana, role: manager, phone: "+15555550142"}]
`
	for _, c := range []struct{ leave, days, wants string }{
		{"8in", "45 days", ""}, {"15in", "30 days", ""},
		{"17in", "45 days", "has 17 in for leave, and sources run 6-16"},
		{"8in", "90 days", "has 90 days for days, and sources run 30-60"},
	} {
		farm := strings.Replace(strings.Replace(text, "%s", c.leave, 1), "%s", c.days, 1)
		if w := load(t, farm).Warnings.Error(); c.wants == "" && strings.Contains(w, "sources run") || !strings.Contains(w, c.wants) {
			t.Errorf("leave %s, %s: %q, want %q", c.leave, c.days, w, c.wants)
		}
	}
}

func TestAFarmThatSaysNothingRestsTheUsualDays(t *testing.T) {
	usual := fmt.Sprintf("%g days", season.UsualRest.Value)
	if !slices.ContainsFunc(config.Keys(), func(k settings.Key) bool { return k.Name == "rest.days" && k.Usual == usual }) {
		t.Errorf("rest.days is not %q where it is not written", usual)
	}
}

func TestSoilAndStandAreKnownByTheirWords(t *testing.T) {
	const text = `
farm: {name: Quail Fork, timezone: America/Chicago}
frost: {date: 10-16}
paddocks:
  - {id: creek, area: 22 acres, grass: eastern gamagrass, soil: %s, stand: %s}
contacts: [{name: Ana, role: manager, phone: "+15555550142"}]
`
	for _, c := range []struct {
		soil, stand string
		wantSoil    grass.Soil
		wantStand   grass.Stand
	}{{"Dry", "Dense", grass.Dry, grass.Dense}, {"moist", "thin", grass.Moist, grass.Thin}, {"average", "AVERAGE", grass.Average, grass.Medium}} {
		if p := load(t, fmt.Sprintf(text, c.soil, c.stand)).Paddocks[0]; p.Soil != c.wantSoil || p.Stand != c.wantStand {
			t.Errorf("soil %s, stand %s: %q and %q", c.soil, c.stand, p.Soil, p.Stand)
		}
	}
}
