package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
)

func TestADamagedDatabaseIsRestoredByOneCommand(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 12:00")
	o.says("Ana", "creek 9 8 11")
	o.turn("2026-08-22 12:00") // the night's copy is made here too
	o.d.Close()
	farmtest.Ruin(t, o.db)
	if out, code := o.typed("diary"); code == exitFine {
		t.Errorf("a ruined database was read:\n%s", out)
	}
	out, code := o.typed("restore")
	if code != exitFine {
		t.Fatalf("restore: %s", out)
	}
	if out, code = o.typed("diary"); code != exitFine || !strings.Contains(out, "9 8 11 in") {
		t.Errorf("after the restore the diary says\n%s", out)
	}
}

// What the copy lacks is said, and where it is to be found.
func TestGoingBackPastNewerEntriesIsSaid(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.says("Ana", "creek 9 8 11")
	o.turn("2026-08-22 12:00") // the night's copy is made here too
	o.says("Ana", "off creek")
	o.turn("2026-08-22 12:05")
	o.d.Close()
	out, code := o.typed("restore")
	if code != exitFine || !strings.Contains(out, "1 entries of the diary that this copy lacks, the last for 2026-08-22") || !strings.Contains(out, ".aside.") {
		t.Errorf("restore: %d\n%s", code, out)
	}
	if out, code = o.typed("restore"); code != exitFine || strings.Contains(out, "LOOK") {
		t.Errorf("with nothing newer it says %d\n%s", code, out)
	}
}

func TestAnotherDaemonOnTheSameDatabaseIsRefused(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	if out, code := o.typed("run"); code == exitFine || !strings.Contains(out, "another stubbled is running") {
		t.Errorf("a second daemon said %q", out)
	}
}

func TestAHeightFromTheKeyboardGoesToTheDaemonThatRuns(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	if out, code := o.typed("height", "north 40", "8", "1/2"); code != exitFine || !strings.Contains(out, "handed to the daemon") {
		t.Fatalf("it says %q", out)
	}
	if got := o.turn("2026-08-22 12:01"); !strings.Contains(got, "North 40") {
		t.Errorf("the daemon did not hear the keyboard:\n%s", got)
	}
	o.d.Close()
	if out, code := o.typed("height", "creek", "9", "8", "11"); code != exitFine || !strings.Contains(out, "Creek Bottom") {
		t.Errorf("without a daemon it says %q", out)
	}
	if out, _ := o.typed("diary", "--csv"); !strings.Contains(out, "keyboard") || !strings.Contains(out, "8.5") {
		t.Errorf("the diary says\n%s", out)
	}
}

func TestWhatCouldNotBeSaidIsListedAndSaidAgain(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 06:00")
	o.turn("2026-08-22 12:00")
	o.clock.Time = o.clock.Time.Add(time.Hour)
	if out, code := o.typed("check", "--again"); code != exitFine || !strings.Contains(out, "queued once more") {
		t.Errorf("check --again says %q", out)
	}
	o.turn("2026-08-22 13:00")
	if out, code := o.typed("check"); code != exitFine || !strings.Contains(out, "fine") {
		t.Errorf("check says %q", out)
	}
	if out, code := o.typed("check", "--settings"); code != exitFine || strings.Contains(out, "5555550142") {
		t.Errorf("the settings show a whole number, or nothing: %q", out)
	}
}

func TestBackupIsACopyThatOpens(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	to := filepath.Join(t.TempDir(), "copy.db")
	if out, code := o.typed("backup", "--to", to); code != exitFine {
		t.Fatal(out)
	}
	if out, code := o.typed("backup", "--to", to); code == exitFine {
		t.Errorf("a backup was overwritten: %s", out)
	}
}

func TestCheckNamesASecretThatCannotBeRead(t *testing.T) {
	const mail = `
carriers:
  email:
    from: farm@example.org
    smtp: {host: localhost, user: farm, password_file: gone}
`
	o := newOffice(t, farmtest.File(t, farmtest.Text+mail), "2026-08-22 12:00")
	if out, code := o.typed("check"); code == exitFine || !strings.Contains(out, "carriers.email.smtp: ") || !strings.Contains(out, "gone") {
		t.Errorf("check says\n%s", out)
	}
}

func TestAfterAThreeDayPowerCutOverTheCutoff(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-30 12:00")
	o.turn("2026-08-30 12:00")
	got := o.turn("2026-09-02 14:00")
	if strings.Contains(got, "Shut Creek Bottom today") || !strings.Contains(got, "Day 1: Creek Bottom still grazed") {
		t.Errorf("on Sep 2 it says\n%s", got)
	}
	o.d.Close()
	if out, code := o.typed("season"); code != exitFine || !strings.Contains(out, "take off") {
		t.Errorf("whoever finds the machine reads\n%s", out)
	}
}
