package config

import (
	"strings"
	"testing"
)

func TestTheBoardIsOnThisMachineAloneOrOff(t *testing.T) {
	const plain = `
farm: {name: Quail Fork, timezone: America/Chicago}
frost: {date: 10-16}
paddocks: [{id: creek, area: 22 acres, grass: eastern gamagrass}]
contacts: [{name: Ana, role: manager, phone: "+15555550142"}]
`
	for board, want := range map[string]string{
		"": "", "board: off": "", "board: {listen: \"127.0.0.1:8826\"}": "127.0.0.1:8826", "board: {listen: \"localhost:9000\"}": "localhost:9000",
		"board: {}": "127.0.0.1:8826", "board: {listen: \"0.0.0.0:8826\"}": "refused: reverse proxy", "board: {listen: \":8826\"}": "refused: ", "board: {listen: \"10.0.0.5:8826\"}": "refused: reverse proxy",
		"board: on": "refused: ", "hay: off": "refused: ",
	} {
		f, err := LoadText("farm.yaml", []byte(plain+board+"\n"))
		why, refused := strings.CutPrefix(want, "refused: ")
		got := ""
		if f != nil && f.Board != nil {
			got = f.Board.Listen
		}
		switch {
		case refused && (err == nil || !strings.Contains(err.Error(), why)):
			t.Errorf("%q: got %q, %v, want it refused", board, got, err)
		case !refused && (err != nil || got != want):
			t.Errorf("%q: got %q, %v", board, got, err)
		}
	}
}
