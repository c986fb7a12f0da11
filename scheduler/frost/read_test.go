package frost_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/scheduler/frost"
)

func TestAFileThatIsNoRecordOfOneStationIsRefusedWithTheMend(t *testing.T) {
	oct := dlyMonth(2012, 10, "TMIN", 50)
	var swapped strings.Builder
	swapped.WriteString("date,tmin_c,tmax_c\n")
	for i := range 20 {
		swapped.WriteString(frost.DateIn(2012, float64(i)).String() + ",25.0,12.0\n")
	}
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "station:1: no daily record known here: it is empty"},
		{"blank lines only", "\n\n \n", "it is empty"},
		{"a zip archive", "PK\x03\x04abc", "it is a zip archive; unpack it"},
		{"a web page", "<!DOCTYPE html>\n<p>sign in", "it is a web page or XML; fetch the data file itself"},
		{"a spreadsheet", "PK\x03\x04abc [Content_Types].xml", "it is a spreadsheet; open it there and save it as CSV"},
		{"a spreadsheet of another program", "PK\x03\x04abc mimetypeapplication/vnd.oasis.opendocument.spreadsheet", "save it as CSV"},
		{"an old spreadsheet", "\xd0\xcf\x11\xe0\xa1\xb1", "save it as CSV"},
		{"the day before the month", "date,tmin_c\n10/7/2012,1\n13/7/2012,1\n", `station:3: "13/7/2012" has the day before the month`},
		{"a letter", "Dear neighbor,\nthe frost came early.\n", `it begins with "Dear neighbor,"; want GHCN-Daily .dly`},
		{"two stations in .dly", oct + "\n" + strings.Replace(dlyMonth(2012, 11, "TMIN", 0), "XX000000001", "XX000000002", 1) + "\n",
			`station:2: station "XX000000002" after station "XX000000001": a record is of one station; split the file`},
		{"two stations in USCRN", uscrnDay("20121007", "1.0", "0.0", "0.0") + "\n" + strings.Replace(uscrnDay("20121008", "1.0", "0.0", "0.0"), "99999", "99998", 1) + "\n",
			`station:2: station "99998" after station "99999"`},
		{"two places in a CSV", "location,date,tmin_c\nSeattle,2012-10-07,1\nNew York,2012-10-07,2\n", `station:3: station "New York" after station "Seattle"`},
		{"two stations by station", "USW00094728,20121007,TMIN,-6,,,Z,\nUSW00094729,20121007,TMIN,-6,,,Z,\n", "station:2"},
		{"no minimum in it", dlyMonth(2012, 10, "TMAX", 50) + "\n", "station: no usable daily minimum in this GHCN-Daily .dly file (none was found)"},
		{"every minimum failed its check", "USW00094728,20121007,TMIN,-6,,X,Z,\n", "all failed the station's own quality check"},
		{"a header alone", "date,tmin_c\n", "no usable daily minimum in this plain CSV file"},
		{"every line cut short", oct[:100] + "\n", "station:1: cut short: 100 characters of 269"},
		{"rows by the hour", "date,tmin_c\n2012-10-07 00:00,3\n2012-10-07T01:00,2\n2012-10-07 02:00,1\n2012-10-08 00:00,1\n2012-10-08 01:00,1\n", "3 of 5 rows are of the same day as the row before: is it by the hour?"},
		{"lines of an old Mac", "date,tmin_c\r2012-10-07,3\r2012-10-08,2\r", "station:1: its lines end as on an old Mac"},
		{"minimum and maximum swapped", swapped.String(), "are the two columns swapped?"},
	} {
		t.Run(c.name, func(t *testing.T) { wantReadError(t, c.text, frost.Options{}, c.want) })
	}
	if _, err := frost.ReadFile(filepath.Join(t.TempDir(), "none.dly"), frost.Options{}); err == nil || !strings.Contains(err.Error(), "station record") {
		t.Errorf("a file that is not there: %v", err)
	}
	if _, err := frost.ReadFile(t.TempDir(), frost.Options{}); err == nil {
		t.Error("a folder was read as a record")
	}
}

// tap counts the bytes that were read of an endless stream.
type tap struct {
	next func([]byte)
	n    int
}

func (s *tap) Read(b []byte) (int, error) {
	s.next(b)
	s.n += len(b)
	return len(b), nil
}

func TestEndlessJunkIsGivenUpWithinAMegabyte(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	fill := func(alphabet string) func([]byte) {
		return func(b []byte) {
			for i := range b {
				b[i] = alphabet[random.IntN(len(alphabet))]
			}
		}
	}
	sound := dlyMonth(2012, 10, "TMIN", 50) + "\n" + dlyMonth(2012, 11, "TMIN", 0) + "\n"
	for _, c := range []struct {
		name, head, want string
		next             func([]byte)
	}{
		{"letters in lines", "", "no daily record known here", fill("abc \n")},
		{"bytes without a line end", "", "no daily record known here", fill("\x00\x01\x02\xff")},
		{"blank lines", "", "no daily record known here", fill("\n")},
		{"a sound start, then letters", sound, "given up: 201 of 203 lines cannot be read as GHCN-Daily .dly (first at line 3: no .dly line", fill("abcdefgh\n")},
		{"a sound start, then no line end", sound, "no line end within 64 KiB", fill("abc")},
		{"a sound start, then blank lines", sound, "(201 blank lines)", fill("\n")},
		{"a CSV header, then letters", "date,tmin_c\n", "given up", fill("abcdefgh,\n")},
		{"a USCRN start, then digits", uscrnDay("20121007", "1.0", "0.0", "0.0") + "\n", "given up", fill("0123456789 .-\n")},
	} {
		t.Run(c.name, func(t *testing.T) {
			junk := &tap{next: c.next}
			_, err := frost.Read("station", io.MultiReader(strings.NewReader(c.head), junk), frost.Options{})
			if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "station:") {
				t.Errorf("error %v, want one with %q", err, c.want)
			}
			if junk.n > 1<<20 {
				t.Errorf("read %d bytes of junk", junk.n)
			}
		})
	}
}

func zipped(t *testing.T, text string) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := io.WriteString(w, text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestAGzippedRecordReadsLikeThePlainOne(t *testing.T) {
	text, err := os.ReadFile("testdata/seattle-weather.csv")
	if err != nil {
		t.Fatal(err)
	}
	whole := zipped(t, string(text))
	r, err := frost.Read("s.csv.gz", bytes.NewReader(whole), frost.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Minima() != 1461 {
		t.Errorf("%d minima, want 1461", r.Minima())
	}
	// Two archives one after the other are one, as gzip itself takes them.
	half := len(text) / 2
	two := append(zipped(t, string(text[:half])), zipped(t, string(text[half:]))...)
	if r, err = frost.Read("s.csv.gz", bytes.NewReader(two), frost.Options{}); err != nil || r.Minima() != 1461 {
		t.Errorf("two archives in one: %v", err)
	}
	for _, cut := range []int{5, len(whole) / 2, len(whole) - 3} {
		if _, err := frost.Read("s.csv.gz", bytes.NewReader(whole[:cut]), frost.Options{}); err == nil || !strings.Contains(err.Error(), "gzip archive") {
			t.Errorf("an archive cut to %d bytes: %v", cut, err)
		}
	}
}

func TestAFileRepeatedTenTimesGivesTheSameRecord(t *testing.T) {
	text, err := os.ReadFile("testdata/seattle-weather.csv")
	if err != nil {
		t.Fatal(err)
	}
	once := read(t, string(text), frost.Options{})
	ten := read(t, strings.Repeat(string(text), 10), frost.Options{})
	if ten.Problems.Repeated != 9*1461 || len(ten.Problems.Named) != 10 {
		t.Errorf("%d repeats and %d named, want %d and 10", ten.Problems.Repeated, len(ten.Problems.Named), 9*1461)
	}
	lines := ten.Problems.Lines("s.csv")
	if want := "s.csv: and 13139 more like these"; lines[len(lines)-1] != want {
		t.Errorf("last problem %q, want %q", lines[len(lines)-1], want)
	}
	for d := once.First(); !d.After(once.Last()); d = d.AddDays(1) {
		if once.Day(d) != ten.Day(d) {
			t.Fatalf("%v: %v, and %v when repeated", d, once.Day(d), ten.Day(d))
		}
	}
}
