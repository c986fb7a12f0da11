package frost_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"unicode/utf16"

	"stubbled/scheduler/frost"
)

// download is a file in the form of NOAA's own CSV download (NOAA NCEI, Climate
// Data Online, daily summaries), of an invented station: a July day and an
// October one a year, told by their maxima and minima.
func download(header string, julyMax, octoberMin string) string {
	var b strings.Builder
	b.WriteString(header + "\n")
	for year := 2001; year <= 2012; year++ {
		row := map[string]string{"STATION": "XX000000001", "NAME": `"OWL HILL 2 N, KS US"`, "PRCP": "0.5", "SNOW": "", "TMAX_ATTRIBUTES": `",,S"`, "TMIN_ATTRIBUTES": `",,S"`}
		for _, day := range []struct{ date, max, min string }{{"07-15", julyMax, "20"}, {"10-07", "20", octoberMin}} {
			row["DATE"], row["TMAX"], row["TMIN"] = fmt.Sprintf("%d-%s", year, day.date), day.max, day.min
			var cells []string
			for name := range strings.SplitSeq(header, ",") {
				cells = append(cells, row[strings.Trim(name, `"`)])
			}
			b.WriteString(strings.Join(cells, ",") + "\n")
		}
	}
	return b.String()
}

func TestNOAAsOwnDownloadIsKnownByItsHeaderAndItsUnitByJuly(t *testing.T) {
	for _, c := range []struct {
		header, july, october, units string
		want                         frost.Temp
		rain                         frost.Rain
	}{
		{"STATION,NAME,DATE,TMAX,TMIN", "33.3", "-0.6", "taken for degrees C by its median July maximum, 33.3", -600, frost.NoRain},
		{"DATE,TMIN,TMAX,NAME,STATION,SNOW,PRCP", "92", "31", "taken for degrees F by its median July maximum, 92", -556, 12_700},
		{`"STATION","NAME","DATE","PRCP","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"`, "  333", "   -6", "taken for tenths of a degree C by its median July maximum, 333", -600, 50},
		{"STATION,DATE,TMAX,TMIN,PRCP", "49.9", "1", "taken for degrees C", 1000, 500},
		{"STATION,DATE,TMAX,TMIN", "50", "50", "taken for degrees F", 10_000, frost.NoRain},
		{"STATION,DATE,TMAX,TMIN", "130", "50", "taken for degrees F", 10_000, frost.NoRain},
		{"STATION,DATE,TMAX,TMIN", "131", "50", "taken for tenths of a degree C", 5000, frost.NoRain},
	} {
		t.Run(c.header+" "+c.july, func(t *testing.T) {
			r := read(t, download(c.header, c.july, c.october), frost.Options{})
			if !strings.HasPrefix(r.Units, c.units) {
				t.Errorf("units %q, want %q", r.Units, c.units)
			}
			if d := r.Day(day(t, "2005-10-07")); d.Min != c.want || d.Rain != c.rain {
				t.Errorf("Oct 7: minimum %d, rain %d; want %d, %d thousandths", d.Min, d.Rain, c.want, c.rain)
			}
		})
	}
}

func TestADownloadWithoutAJulyMaximumIsRefusedUntilItsUnitIsSaid(t *testing.T) {
	text := "STATION,NAME,DATE,TMAX,TMIN\nX,Owl Hill,2012-10-07,61,31\nX,Owl Hill,2012-07-07,,60\n"
	wantReadError(t, text, frost.Options{}, "it has no July maximum; say it with --units C, F or tenths (of a degree C), or as units: in the frost section")
	for unit, want := range map[frost.Unit]frost.Temp{frost.Celsius: 31_000, frost.Fahrenheit: -556, frost.TenthsC: 3_100} {
		r := read(t, text, frost.Options{Columns: frost.Columns{Unit: unit}})
		if got := r.Day(day(t, "2012-10-07")).Min; got != want || r.Units != "" {
			t.Errorf("as %s: %d, %q", unit, got, r.Units)
		}
	}
	for text, want := range map[string]frost.Unit{"c": frost.Celsius, " F ": frost.Fahrenheit, "Tenths": frost.TenthsC, "": frost.UnitUnknown} {
		if got, err := frost.ParseUnit(text); err != nil || got != want {
			t.Errorf("%q is %s (%v)", text, got, err)
		}
	}
	if _, err := frost.ParseUnit("kelvin"); err == nil {
		t.Error("kelvin was taken")
	}
}

func TestAValueOfADownloadThatFailedItsCheckIsLeftOut(t *testing.T) {
	r := read(t, "STATION,DATE,TMAX,TMAX_ATTRIBUTES,TMIN,TMIN_ATTRIBUTES,PRCP,PRCP_ATTRIBUTES\n"+
		`X,2012-07-01,300,",,7",150,",,7",0,"T,,7,0700"`+"\n"+`X,2012-07-02,300,",,7",-150,",G,7",999,"P,X,7"`+"\n", frost.Options{})
	one, two := r.Day(day(t, "2012-07-01")), r.Day(day(t, "2012-07-02"))
	if one.Min != 15_000 || one.Rain != 0 || two.Min.Known() || two.Rain.Known() || two.Max != 30_000 || r.Problems.Flagged != 2 {
		t.Errorf("%+v, %+v, %d flagged", one, two, r.Problems.Flagged)
	}
}

func TestAValueBeyondAnyIsFoundOnceTheUnitIsKnown(t *testing.T) {
	text := download("STATION,DATE,TMAX,TMIN", "92", "19") + "X,2012-10-08,250,200\n"
	text = strings.ReplaceAll(text, "XX000000001", "X")
	r := read(t, text, frost.Options{})
	if lines := strings.Join(r.Problems.Lines("station"), "\n"); !strings.Contains(lines, "station: minimum of 2012-10-08 93.333 C is beyond any on earth") || r.Problems.Impossible != 2 {
		t.Errorf("%q", lines)
	}
}

func TestRainThatSaysItsUnitKeepsItWhateverTheTemperaturesAreTakenFor(t *testing.T) {
	for column, want := range map[string]frost.Rain{"rain_in": 25_400, "rain_mm": 1000} {
		r := read(t, "date,tmin,tmax,"+column+"\n2012-07-01,65,92,1\n", frost.Options{})
		if got := r.Day(day(t, "2012-07-01")); got.Rain != want || !strings.Contains(r.Units, "degrees F") {
			t.Errorf("%s: %+v, %s", column, got, r.Units)
		}
	}
}

func TestAFileInUTF16IsRead(t *testing.T) {
	const text = "date,tmin_c\r\n2012-10-07,-0.6\r\n"
	for name, order := range map[string][2]int{"little end first": {0, 8}, "big end first": {8, 0}} {
		var b strings.Builder
		for _, u := range utf16.Encode([]rune("\ufeff" + text)) {
			b.WriteByte(byte(u >> order[0]))
			b.WriteByte(byte(u >> order[1]))
		}
		if r := read(t, b.String(), frost.Options{}); r.Day(day(t, "2012-10-07")).Min != -600 {
			t.Errorf("%s: %v", name, r.First())
		}
	}
}

func TestAPipeOrADeviceIsRefusedAndNotWaitedFor(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe.csv")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	for _, name := range []string{pipe, os.DevNull} {
		if _, err := frost.ReadFile(name, frost.Options{}); err == nil || !strings.Contains(err.Error(), "is no file; copy the record into one") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestThePlanMayRestOnTheLatestFallsAlone(t *testing.T) {
	var seasons []frost.Season
	for year := 1961; year <= 2020; year++ {
		first := day(t, fmt.Sprintf("%d-10-01", year))
		if year > 1990 {
			first = first.AddDays(6)
		}
		seasons = append(seasons, frost.Season{Year: year, First: first, Span: frost.Offset(first) + 1, Counted: year != 2020})
	}
	all, _ := frost.Distribute(seasons, frost.Pick{}).Mean()
	late, _ := frost.Distribute(seasons, frost.Pick{Last: 29}).Mean()
	both, _ := frost.Distribute(seasons, frost.Pick{Last: 58}).Mean()
	if late != 67 || all <= 63 || all >= 65 || both <= all {
		t.Errorf("all %g, the last 29 %g, the last 58 %g", all, late, both)
	}
}
