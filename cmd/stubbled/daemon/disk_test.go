package daemon

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/scheduler/ladder"
	"stubbled/store/disktest"
)

// onDisk puts a farm file, and with it the database, on a disk of its own.
func onDisk(t *testing.T, size, text string) string {
	t.Helper()
	file := filepath.Join(disktest.Small(t, size), "farm.yaml")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// minutes lets the daemon turn once a minute and gives what it said and how
// many turns failed. Before each, something else fills the disk; nothing does
// where no ballast is given.
func (o *office) minutes(n int, ballast string) (text string, failed int) {
	o.t.Helper()
	o.screen.Reset()
	for range n {
		o.clock.Time = o.clock.Time.Add(time.Minute)
		if ballast != "" {
			disktest.Fill(o.t, ballast)
		}
		if o.d.Turn(o.t.Context()) != nil {
			failed++
		}
	}
	return o.screen.String(), failed
}

func TestAFullDiskIsToldAndTheDaemonLivesUntilThereIsRoom(t *testing.T) {
	manager := startedByManager(t)
	file := onDisk(t, "6m", farmtest.Text)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.turn("2026-08-22 12:00")
	manager.until(t, "WATCHDOG", 1)
	ballast := filepath.Join(filepath.Dir(file), "ballast")
	var got string
	failed := 0
	for n := range 20 {
		said, bad := o.minutes(1, ballast)
		got, failed = got+said, failed+bad
		manager.until(t, "WATCHDOG", 2+n) // each turn, or it is killed for a disk that is full
	}
	if failed < 10 {
		t.Fatalf("only %d turns failed: the disk was not full", failed)
	}
	if strings.Count(got, "Free some disk space") != 1 || strings.Count(got, "to Ana") != 1 {
		t.Errorf("it says\n%s", got)
	}
	manager.until(t, "STATUS=pass: "+o.d.DB, 1)
	if w := o.d.state.wellbeing(); w.OK || w.Failing[0] != ladder.AlarmDisk {
		t.Errorf("the health socket says %+v", w)
	}
	o.clock.Time = o.clock.Time.Add(24 * time.Hour)
	if again, _ := o.minutes(3, ballast); strings.Count(again, "Free some disk space") != 1 {
		t.Errorf("a day later it says\n%s", again)
	}

	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	if got := o.turn("2026-08-24 12:00"); strings.Contains(got, "disk space") {
		t.Errorf("there is room again; it says\n%s", got)
	}
	o.says("Ana", "creek 9 8 10")
	if got := o.turn("2026-08-24 12:01"); !strings.Contains(got, "GO Creek Bottom") {
		t.Errorf("with room again it says\n%s", got)
	}
	// This farm's texts are only printed, which is said as long as it is so.
	if w := o.d.state.wellbeing(); !slices.Equal(w.Failing, []string{ladder.AlarmSMSDown}) {
		t.Errorf("with room again the health socket says %+v", w)
	}
}

// Something filled the disk and ended. The reserve serves for a while, and is not
// taken back at once.
func TestADiskFullToTheLastByteIsTold(t *testing.T) {
	file := onDisk(t, "6m", farmtest.Text)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.turn("2026-08-22 12:00")
	disktest.Fill(t, filepath.Join(filepath.Dir(file), "ballast"))
	got, failed := o.minutes(30, "")
	if strings.Count(got, "Free some disk space") != 1 || failed > 1 || o.d.state.wellbeing().OK {
		t.Errorf("%d turns failed; it says\n%s", failed, got)
	}
}

func TestWhoOptedOutIsNotToldOfAFullDisk(t *testing.T) {
	file := onDisk(t, "6m", farmtest.Text)
	o := newOffice(t, file, "2026-08-22 06:00")
	o.says("Ana", "stop")
	o.turn("2026-08-22 12:00")
	got, failed := o.minutes(20, filepath.Join(filepath.Dir(file), "ballast"))
	if failed < 10 || strings.Contains(got, "to Ana") || !strings.Contains(got, "to Ruth") {
		t.Errorf("%d turns failed; it says\n%s", failed, got)
	}
}
