package daemon

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/store"
)

// A slow store takes its time, on the daemon's clock, for every write.
type slow struct {
	*store.Store
	clock *farmtest.MovingClock
}

func (s slow) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	s.clock.At.Add(8)
	return s.Store.Update(ctx, now, decide)
}

func TestADaemonOnASlowDiskIsNotKilledInTheMiddleOfItsTexts(t *testing.T) {
	manager := startedByManager(t)
	farm, err := config.Load(farmtest.File(t, farmtest.Text))
	if err != nil {
		t.Fatal(err)
	}
	clock, screen := &farmtest.MovingClock{}, &farmtest.Screen{}
	clock.At.Store(time.Date(2026, 8, 22, 17, 15, 0, 0, time.UTC).Unix())
	o := optionsOf(farm, screen, clock)
	o.Through = func(s *store.Store) Store { return slow{s, clock} }
	d, err := Open(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	defer d.store.Close()
	defer d.courier.Wait()
	var got []notify.Received
	for i := range 15 { // two minutes
		from := farm.Contacts[i%len(farm.Contacts)].Phone
		got = append(got, notify.Received{ID: fmt.Sprint(i), From: from, Text: "creek 9 8 10", Sent: clock.Now()})
	}
	if err := d.courier.Accept("console", clock.Now)(t.Context(), got, ""); err != nil {
		t.Fatal(err)
	}
	if err := d.Turn(t.Context()); err != nil {
		t.Fatal(err)
	}
	d.courier.Wait()
	said := screen.String()
	if n := strings.Count(said, "GO Creek Bottom") + strings.Count(said, "BIEN Creek Bottom"); n != len(got) {
		t.Errorf("%d answers:\n%.600s", n, said)
	}
	manager.until(t, "WATCHDOG", len(got))
}

func TestATurnThatNeverEndsIsNotCalledAlive(t *testing.T) {
	manager := startedByManager(t)
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	told := manager.soFar(t, "WATCHDOG")
	for range 20 { // minutes of one turn that writes on and on
		o.clock.Time = o.clock.Time.Add(time.Minute)
		o.d.stillAlive()
	}
	if n := manager.soFar(t, "WATCHDOG") - told; n != 9 {
		t.Errorf("fed %d times in one turn", n)
	}
}
