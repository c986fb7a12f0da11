package frost_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
)

// day reads a date that the test wrote itself.
func day(t testing.TB, text string) civil.Date {
	t.Helper()
	d, err := civil.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// dlyMonth is one .dly line of an invented station, every existing day at the
// given tenths of a degree C.
func dlyMonth(year, month int, element string, tenths int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "XX000000001%04d%02d%s", year, month, element)
	for d := 1; d <= 31; d++ {
		value := tenths
		if !(civil.Date{Year: year, Month: monthOf(month), Day: d}).IsValid() {
			value = -9999
		}
		fmt.Fprintf(&b, "%5d   ", value)
	}
	return b.String()
}

// withDay is the line with one group (value and flags, 8 characters) replaced.
func withDay(line string, day int, group string) string {
	at := 21 + (day-1)*8
	return line[:at] + fmt.Sprintf("%-8s", group) + line[at+8:]
}

// uscrnDay is one USCRN daily01 line of an invented station.
func uscrnDay(date, highest, lowest, rain string) string {
	head := fmt.Sprintf("99999 %s  2.622  -96.61   39.10 %7s %7s   -99.0   -99.0 %7s   -99.00 C", date, highest, lowest, rain)
	tail := " -9999.0 -9999.0 -9999.0 -9999.0 -9999.0 -9999.0 -99.000 -99.000 -99.000 -99.000 -99.000 -9999.0 -9999.0 -9999.0 -9999.0 -9999.0"
	return head + tail
}

// read reads a record that the test wrote itself.
func read(t testing.TB, text string, opt frost.Options) *frost.Record {
	t.Helper()
	r, err := frost.Read("station", strings.NewReader(text), opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// fallCSV is a plain CSV of one fall from Aug 1 to Dec 31 at a mild 10 C, but
// for the days given by offset; an empty text makes a missing day.
func fallCSV(year int, minima map[int]string) string {
	var b strings.Builder
	b.WriteString("date,tmin_c\n")
	for offset := 0; offset <= frost.LastOffset; offset++ {
		value, ok := minima[offset]
		if !ok {
			value = "10.0"
		}
		fmt.Fprintf(&b, "%v,%s\n", frost.DateIn(year, float64(offset)), value)
	}
	return b.String()
}
