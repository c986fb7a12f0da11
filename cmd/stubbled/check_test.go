package main

import (
	"bytes"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/internal/farmtest"
)

// downloaded is a record in the form of NOAA's CSV download in degrees F, of an
// invented station with a frost on Oct 1 a year, and from 1991 on a week later.
func downloaded(from, to int) string {
	var b strings.Builder
	b.WriteString("STATION,NAME,DATE,TMAX,TMIN\n")
	for year := from; year <= to; year++ {
		fmt.Fprintf(&b, "X,Owl Hill,%d-07-15,92,68\n", year)
		for day := 1; day <= 68; day++ { // from Aug 1 on; Oct 1 is the 62nd
			low, frost := 50, 62
			if year > 1990 {
				frost += 6
			}
			if day == frost {
				low = 31
			}
			month, of := 8, day
			for _, days := range []int{31, 30} {
				if of > days {
					month, of = month+1, of-days
				}
			}
			fmt.Fprintf(&b, "X,Owl Hill,%d-%02d-%02d,75,%d\n", year, month, of, low)
		}
	}
	return b.String()
}

// onRecord is the test's farm planned on a record.
func onRecord(t *testing.T, record, more string) string {
	t.Helper()
	file := farmtest.File(t, strings.Replace(farmtest.Text, "frost: {date: 10-16}", "frost: {station: owl.csv"+more+"}", 1))
	if err := os.WriteFile(filepath.Join(filepath.Dir(file), "owl.csv"), []byte(record), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestCheckSaysWhatARecordWasTakenForAndWhereFrostComesLaterNow(t *testing.T) {
	check := func(file string) string {
		out, _, err := found(t, t.TempDir(), t.TempDir(), "--farm", file, "check")
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		return out
	}
	out := check(onRecord(t, downloaded(1961, 2020), ""))
	for _, want := range []string{
		"temperatures taken for degrees F by its median July maximum, 92",
		"ends on 2020-10-07 and nothing else measures here, so everybody is asked about frosts by text",
		"the last 30 falls freeze 3 days later than the whole record (Oct 7, not Oct 4); to plan on them write years: 30",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("nothing says %q:\n%s", want, out)
		}
	}
	if strings.Contains(out, "falls count") {
		t.Errorf("sixty falls are called few:\n%s", out)
	}
	byHand := farmtest.File(t, strings.Replace(farmtest.Text, "date: 10-16}", "date: 10-16, spread: 10 days}", 1))
	if out := check(byHand); !strings.Contains(out, "the rule of thumb") || strings.Contains(out, "station") {
		t.Errorf("a farm that gives its date by hand has no station:\n%s", out)
	}
	if out := check(onRecord(t, downloaded(2011, 2020), "")); !strings.Contains(out, "only 10 falls count, so the average frost is known to ") {
		t.Errorf("nothing says that ten falls are few:\n%s", out)
	}
	if out := check(onRecord(t, downloaded(1961, 2020), ", years: 30")); strings.Contains(out, "freeze") || !strings.Contains(out, "Oct 7") {
		t.Errorf("planned on the last 30 falls it says\n%s", out)
	}
	if out := check(onRecord(t, downloaded(1991, 2020), ", units: F")); strings.Contains(out, "freeze") || strings.Contains(out, "taken for") {
		t.Errorf("of thirty falls alone, whose unit is said, it says\n%s", out)
	}
}

func TestFrostSaysWhatARecordWasTakenFor(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "owl.csv")
	if err := os.WriteFile(path, []byte(downloaded(2001, 2012)), 0o600); err != nil {
		t.Fatal(err)
	}
	out, _, err := found(t, dir, dir, "frost", "--station", path)
	if err != nil || !strings.Contains(out, "Temperatures taken for degrees F by its median July maximum, 92") {
		t.Errorf("%v\n%.400s", err, out)
	}
	if out, _, err = found(t, dir, dir, "frost", "--station", path, "--units", "C"); err != nil || strings.Contains(out, "taken") || !strings.Contains(out, "[none by Dec 31]") || !strings.Contains(out, "beyond any on earth") {
		t.Errorf("as degrees C it has no frost: %v\n%.400s", err, out)
	}
	if _, _, err = found(t, dir, dir, "frost", "--station", path, "--units", "K"); err == nil || !strings.Contains(err.Error(), "--units: want C, F or tenths") {
		t.Error(err)
	}
}

func TestACheckSaysWhatTheRunningDaemonHasInForce(t *testing.T) {
	underManager(t)
	file := farmtest.File(t, farmtest.Text)
	o := newOffice(t, file, "2026-08-22 12:00")
	daemon.KeepFarm(o.farm, o.db, slog.New(slog.DiscardHandler)) // as a service does at its start
	o.turn("2026-08-22 12:00")
	if out, _ := o.typed("check"); strings.Contains(out, "another farm file in force") || !strings.Contains(out, "fine   daemon") {
		t.Errorf("with one farm file it says\n%s", out)
	}
	edited := strings.Replace(farmtest.Text, "area: 22 acres", "area: 25 acres", 1) + "rest: {days: 50 days}\ncarriers: {sms: {via: spool}}\n"
	if err := os.WriteFile(file, []byte(edited), 0o600); err != nil {
		t.Fatal(err)
	}
	out, _ := o.typed("check")
	for _, want := range []string{"has another farm file in force", "rest.days: 50 days, not 45 days", "carriers.sms.via: spool, not console", "; paddocks"} {
		if !strings.Contains(out, want) {
			t.Errorf("nothing says %q:\n%s", want, out)
		}
	}
}

func TestWhatIsOnlyPrintedByAServiceIsAFaultOfItsCheck(t *testing.T) {
	root := t.TempDir()
	lay(t, filepath.Join(root, "etc", "stubbled"), "Owl Hill")
	out, _, err := found(t, t.TempDir(), root, "check")
	if err == nil || !strings.Contains(out, "WRONG  carriers   texts are only printed into the journal: write carriers.sms") || strings.Contains(out, "mail is only printed") {
		t.Errorf("%v\n%s", err, out)
	}
	lay(t, filepath.Join(root, "home"), "Owl Hill")
	if out, _, err := found(t, filepath.Join(root, "home"), t.TempDir(), "check"); err != nil {
		t.Errorf("of a farm at a terminal: %v\n%s", err, out)
	}
}

// modem is a server that drives one: it sends what lies in outgoing, or fails.
func modem(t *testing.T, spool, to, note string) {
	t.Helper()
	for _, folder := range []string{"outgoing", "incoming", "sent", "failed", "checked"} {
		if err := os.MkdirAll(filepath.Join(spool, folder), 0o770); err != nil {
			t.Fatal(err)
		}
	}
	go func() {
		for t.Context().Err() == nil {
			time.Sleep(5 * time.Millisecond)
			files, _ := filepath.Glob(filepath.Join(spool, "outgoing", "test-*"))
			for _, f := range files {
				text, _ := os.ReadFile(f)
				_ = os.WriteFile(f, []byte(note+string(text)), 0o600)
				_ = os.Rename(f, filepath.Join(spool, to, filepath.Base(f)))
			}
		}
	}()
}

func TestATestTextIsFineOnceTheModemHasSentIt(t *testing.T) {
	for _, c := range []struct{ to, note, want string }{
		{"sent", "", "fine   sms        test for Ana was sent"},
		{"failed", "Fail_reason: +CMS ERROR: 1 (Unassigned number)\n", "WRONG  sms        test to Ana: "},
		{"checked", "", "WRONG  sms        test to Ana: it still waits for the modem"},
	} {
		spool := t.TempDir()
		modem(t, spool, c.to, c.note)
		file := farmtest.File(t, farmtest.Text+"carriers: {sms: {via: spool, spool: {dir: "+spool+", pid_file: none, log_file: none, state_file: none}}}\n")
		var out bytes.Buffer
		cmd := newRoot(&env{in: strings.NewReader(""), out: &out, err: &out, clock: machineClock{}, patience: 2 * time.Second})
		cmd.SetArgs([]string{"--farm", file, "check", "--send", "Ana"})
		_ = cmd.ExecuteContext(t.Context())
		if !strings.Contains(out.String(), c.want) {
			t.Errorf("where it goes to %s it says\n%s", c.to, out.String())
		}
	}
}
