package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
		"the last 30 falls freeze 3 days later than the whole record (Oct 7, not Oct 4); to plan on them write years: 30",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("nothing says %q:\n%s", want, out)
		}
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
