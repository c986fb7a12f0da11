package main

import (
	"context"
	"fmt"
	"log/slog"
	"path/filepath"
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
	clock *movingClock
}

func (s slow) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	s.clock.at.Add(8)
	return s.Store.Update(ctx, now, decide)
}

func TestADaemonOnASlowDiskIsNotKilledInTheMiddleOfItsTexts(t *testing.T) {
	manager := startedByManager(t)
	farm, err := config.Load(farmtest.File(t, farmtest.Text))
	if err != nil {
		t.Fatal(err)
	}
	clock, screen := &movingClock{}, &lockedBuffer{}
	clock.at.Store(time.Date(2026, 8, 22, 17, 15, 0, 0, time.UTC).Unix())
	e := &env{in: strings.NewReader(""), out: screen, err: screen, clock: clock, through: func(s *store.Store) door { return slow{s, clock} }}
	d, err := newDaemon(t.Context(), e, farm, filepath.Join(filepath.Dir(farm.File), "stubbled.db"), slog.New(slog.DiscardHandler))
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
	if err := d.courier.Accept("console", clock.Now, nil)(t.Context(), got, ""); err != nil {
		t.Fatal(err)
	}
	if err := d.turn(t.Context()); err != nil {
		t.Fatal(err)
	}
	d.courier.Wait()
	said := screen.String()
	if n := strings.Count(said, "GO Creek Bottom") + strings.Count(said, "PASE Creek Bottom"); n != len(got) {
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
		o.d.pulse()
	}
	if n := manager.soFar(t, "WATCHDOG") - told; n != 9 {
		t.Errorf("fed %d times in one turn", n)
	}
}
