package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
)

// serves runs the daemon under a service manager on a farm until the test has
// seen enough.
func serves(t *testing.T, file string, enough func(said string) bool) (string, error) {
	t.Helper()
	var screen farmtest.Screen
	clock := &farmtest.MovingClock{}
	clock.At.Store(time.Date(2026, 8, 22, 17, 15, 0, 0, time.UTC).Unix())
	in, out, err := os.Pipe() // a console that never ends
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	defer out.Close()
	root := newRoot(&env{in: in, out: &screen, err: &screen, clock: clock})
	root.SetArgs([]string{"run", "--farm", file})
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- root.ExecuteContext(ctx) }()
	for range 1000 {
		select {
		case err := <-ended:
			stop()
			return screen.String(), err
		case <-time.After(10 * time.Millisecond):
		}
		if enough(screen.String()) {
			break
		}
	}
	stop()
	return screen.String(), <-ended
}

func TestASlipInTheFarmFileDoesNotSilenceTheDaemonAfterAPowerCut(t *testing.T) {
	underManager(t)
	file := farmtest.File(t, farmtest.Text)
	if said, err := serves(t, file, func(s string) bool { return strings.Contains(s, "Creek Bottom") }); err != nil || !strings.Contains(said, "Walk Creek Bottom") {
		t.Fatalf("%v\n%s", err, said)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(farmtest.Text, "area: 22 acres", "area: 22", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := serves(t, file, func(s string) bool { return strings.Contains(s, "Mend the farm file") })
	if err != nil || !strings.Contains(said, "Mend the farm file") || !strings.Contains(said, "in force last goes on") {
		t.Errorf("%v\n%s", err, said)
	}
	if fi, err := os.Stat(filepath.Join(filepath.Dir(file), "farm.in-force.yaml")); err != nil || fi.Mode().Perm() != 0o600 {
		t.Errorf("the copy: %v %v", fi, err)
	}
}

// Whoever types the command sees at once what is wrong.
func TestASlipInTheFarmFileEndsADaemonThatSomebodyTyped(t *testing.T) {
	file := farmtest.File(t, strings.Replace(farmtest.Text, "area: 22 acres", "area: 22", 1))
	if err := os.WriteFile(filepath.Join(filepath.Dir(file), "farm.in-force.yaml"), []byte(farmtest.Text), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := serves(t, file, func(s string) bool { return strings.Contains(s, "Creek") })
	if err == nil || !strings.Contains(err.Error(), "paddocks[0].area") {
		t.Errorf("%v\n%s", err, said)
	}
}

func TestARecordThatIsGoneDoesNotSilenceTheDaemonAfterAPowerCut(t *testing.T) {
	underManager(t)
	var record strings.Builder
	record.WriteString("date,tmin_c\n")
	for day := time.Date(2010, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() < 2026; day = day.AddDate(0, 0, 1) {
		min := 15
		if day.YearDay() < 110 || day.YearDay() > 285+day.Year()%9 {
			min = -3
		}
		fmt.Fprintf(&record, "%s,%d\n", day.Format(time.DateOnly), min)
	}
	file := farmtest.File(t, strings.Replace(farmtest.Text, "frost: {date: 10-16}", "frost: {station: quail.csv, plan_on: average}", 1))
	station := filepath.Join(filepath.Dir(file), "quail.csv")
	if err := os.WriteFile(station, []byte(record.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := serves(t, file, func(s string) bool { return strings.Contains(s, "Creek Bottom") }); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	for name, spoil := range map[string]func() error{
		"gone":    func() error { return os.Remove(station) },
		"damaged": func() error { return os.WriteFile(station, []byte("rubbish"), 0o600) },
	} {
		if err := spoil(); err != nil {
			t.Fatal(err)
		}
		said, err := serves(t, file, func(s string) bool { return strings.Contains(s, "Mend the farm file") })
		if err != nil || !strings.Contains(said, "Mend the farm file") || !strings.Contains(said, "in force last goes on") {
			t.Errorf("%s: %v\n%s", name, err, said)
		}
		if name == "damaged" {
			continue
		}
		if err := os.WriteFile(station, []byte(record.String()), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
