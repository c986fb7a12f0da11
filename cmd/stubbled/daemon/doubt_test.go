package daemon

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
)

// A lostClock has neither a battery nor a time server.
type lostClock struct{ farmtest.Clock }

func (*lostClock) Synced() bool { return false }

// Half an hour of doubt is nobody's business; a clock that stays wrong is, and no
// reminder could say so.
func TestAClockThatStaysWrongIsTold(t *testing.T) {
	farm, err := config.Load(farmtest.File(t, farmtest.Text))
	if err != nil {
		t.Fatal(err)
	}
	clock := &lostClock{farmtest.Clock{Time: time.Unix(100, 0)}}
	var screen bytes.Buffer
	d, err := Open(t.Context(), optionsOf(farm, &screen, clock))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	minutes := func(n int) string {
		screen.Reset()
		for range n {
			clock.Time = clock.Time.Add(time.Minute)
			if err := d.Turn(t.Context()); err != nil {
				t.Fatal(err)
			}
		}
		return screen.String()
	}
	if said := minutes(59); strings.Contains(said, "Set the clock") {
		t.Errorf("told too early:\n%s", said)
	}
	if said := minutes(16 * 60); strings.Count(said, "Set the clock") != 1 || !strings.Contains(said, "to Ana") {
		t.Errorf("it says\n%s", said)
	}
	if d.state.wellbeing().OK {
		t.Error("the health socket calls it well")
	}
}
