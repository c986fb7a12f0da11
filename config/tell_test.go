package config

import (
	"strings"
	"testing"

	"stubbled/scheduler/ladder"
)

func TestEachPartOfTheYearIsToldUntilItIsTurnedOff(t *testing.T) {
	const plain = `
farm: {name: Quail Fork, timezone: America/Chicago}
frost: {date: 10-16}
paddocks: [{id: creek, area: 22 acres, grass: eastern gamagrass}]
contacts: [{name: Ana, role: manager, phone: "+15555550142"}]
`
	all := ladder.Tell{Spring: true, Summer: true, Scorecard: true, Drought: true, Winter: true}
	quiet := all
	quiet.Spring, quiet.Winter = false, false
	for written, want := range map[string]ladder.Tell{
		"": all, "tell: {drought: true}": all, "tell: {spring: false, winter: no}": quiet,
		"tell: {spring: false, summer: false, scorecard: false, drought: false, winter: false}": {},
	} {
		f, err := LoadText("farm.yaml", []byte(plain+written+"\n"))
		if err != nil || f.Tell != want {
			t.Errorf("%q: got %+v, %v, want %+v", written, f, err, want)
		}
	}
	for _, wrong := range []string{"tell: {fall: false}", "tell: {spring: maybe}", "tell: off"} {
		if _, err := LoadText("farm.yaml", []byte(plain+wrong+"\n")); err == nil || !strings.Contains(err.Error(), "farm.yaml:6") {
			t.Errorf("%q: got %v, want it refused with its line", wrong, err)
		}
	}
}
