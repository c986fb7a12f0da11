package frost_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/frost"
)

func monthOf(m int) time.Month { return time.Month(m) }

// nasty is a file with something wrong in it that still makes a record.
type nasty struct {
	name string
	text string
	opt  frost.Options

	minima     int // usable ones
	bad        int
	repeated   int
	impossible int
	flagged    int
	names      string // what the first problem's line must say
}

func (n nasty) check(t *testing.T) {
	r := read(t, n.text, n.opt)
	p := r.Problems
	if got := r.Minima(); got != n.minima {
		t.Errorf("%d usable minima, want %d", got, n.minima)
	}
	if p.BadLines != n.bad || p.Repeated != n.repeated || p.Impossible != n.impossible || p.Flagged != n.flagged {
		t.Errorf("%d bad, %d repeated, %d impossible, %d flagged; want %d, %d, %d, %d; %q",
			p.BadLines, p.Repeated, p.Impossible, p.Flagged, n.bad, n.repeated, n.impossible, n.flagged, p.Lines("station"))
	}
	lines := strings.Join(p.Lines("station"), "\n")
	if n.names == "" && lines != "" || !strings.Contains(lines, n.names) {
		t.Errorf("problems %q, want %q in them", lines, n.names)
	}
}

func TestADlyFileWithFaultsGivesWhatIsSoundInIt(t *testing.T) {
	oct := dlyMonth(2012, 10, "TMIN", 50)
	nov := dlyMonth(2012, 11, "TMIN", -10)
	feb := dlyMonth(2013, 2, "TMIN", -50)
	for _, n := range []nasty{
		{name: "Windows line ends", text: oct + "\r\n" + nov + "\r\n", minima: 61},
		{name: "no line end at the end", text: oct + "\n" + nov, minima: 61},
		{name: "months out of order", text: feb + "\n" + nov + "\n" + oct + "\n", minima: 89},
		{name: "a month of 32 days", text: oct + "\n" + nov + "  -20   \n", minima: 31, bad: 1,
			names: "station:2: a month of 32 days: 277 characters where 31 days take 269"},
		{name: "a value for Nov 31", text: oct + "\n" + withDay(nov, 31, "  -20") + "\n", minima: 31, bad: 1,
			names: "station:2: a value for day 31 of 2012-11, which has no such day: \"  -20\""},
		{name: "a line cut short within a value", text: oct + "\n" + nov[:21+8*15+3] + "\n", minima: 31, bad: 1,
			names: "station:2: cut short: 144 characters of 269"},
		{name: "a line cut short within the name", text: oct + "\nXX0000\n", minima: 31, bad: 1,
			names: "station:2: no .dly line: \"XX0000\""},
		{name: "blanks at the line's end cut off by an editor", text: strings.TrimRight(oct, " ") + "\n", minima: 31},
		{name: "days that February lacks cut off", text: feb[:21+8*28] + "\n", minima: 28},
		{name: "blanks after the line", text: oct + "      \n", minima: 31},
		{name: "a second line for a month", text: oct + "\n" + withDay(oct, 3, "  -60") + "\n", minima: 31, repeated: 1,
			names: "station:2: a second row for TMIN of 2012-10; the first one stays"},
		{name: "failed quality checks", text: withDay(withDay(oct, 3, "  -60 G0"), 4, "  -60DI7") + "\n", minima: 29, flagged: 2},
		{name: "a measurement flag is no quality flag", text: withDay(oct, 3, "  -60D 7") + "\n", minima: 31},
		{name: "a missing value with a flag", text: withDay(oct, 3, "-9999 X") + "\n", minima: 30},
		{name: "a blank value", text: withDay(oct, 3, "") + "\n", minima: 30},
		{name: "a letter for the digit 0", text: withDay(oct, 3, "   5O") + "\n" + nov + "\n", minima: 30, bad: 1,
			names: "station:1: no value for day 3 of 2012-10: \"   5O\""},
		{name: "a gap between sign and number", text: withDay(oct, 3, " - 50") + "\n" + nov + "\n", minima: 30, bad: 1, names: "day 3"},
		{name: "a value left-aligned", text: withDay(oct, 3, "50   ") + "\n" + nov + "\n", minima: 30, bad: 1, names: "day 3"},
		{name: "a decimal point", text: withDay(oct, 3, "  5.0") + "\n" + nov + "\n", minima: 30, bad: 1, names: "day 3"},
		{name: "500 C without a flag", text: withDay(oct, 3, " 5000") + "\n", minima: 30, impossible: 1,
			names: "station:1: TMIN  5000 on day 3, in tenths, is beyond any on earth and is left out"},
		{name: "month 13", text: oct + "\n" + strings.Replace(nov, "201211", "201213", 1) + "\n", minima: 31, bad: 1, names: "\"201213TMIN\""},
		{name: "year 0012", text: oct + "\n" + strings.Replace(nov, "2012", "0012", 1) + "\n", minima: 31, bad: 1, names: "station:2"},
		{name: "minima without maxima, maxima without minima", text: oct + "\n" + dlyMonth(2012, 11, "TMAX", 90) + "\n", minima: 31},
		{name: "elements that are not wanted", text: dlyMonth(2012, 10, "SNOW", 0) + "\n" + oct + "\n" + dlyMonth(2012, 10, "WT01", 1) + "\n", minima: 31},
		{name: "blank lines", text: "\n\n" + oct + "\n\r\n\n" + nov + "\n\n", minima: 61},
		{name: "a byte order mark", text: "\ufeff" + oct + "\n", minima: 31},
		{name: "a first line that is junk", text: "downloaded on a Monday\n" + oct + "\n", minima: 31, bad: 1, names: "station:1"},
	} {
		t.Run(n.name, n.check)
	}
}

func TestAByStationFileWithFaultsGivesWhatIsSoundInIt(t *testing.T) {
	const good = "USW00094728,20121007,TMIN,-6,,,Z,\n"
	for _, n := range []nasty{
		{name: "a header", text: "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n" + good, minima: 1},
		{name: "elements and a day without the maximum", text: "USW00094728,20121006,TMAX,106,,,Z,\n" + good + "USW00094728,20121007,PRCP,0,T,,Z,2400\n", minima: 1},
		{name: "a failed quality check", text: good + "USW00094728,20121008,TMIN,-178,,G,Z,\n", minima: 1, flagged: 1},
		{name: "two rows for one day", text: good + "USW00094728,20121007,TMIN,-60,,,Z,\n", minima: 1, repeated: 1, names: "station:2: a second row for TMIN of 2012-10-07"},
		{name: "a day that does not exist", text: good + "USW00094728,20120230,TMIN,-60,,,Z,\n", minima: 1, bad: 1, names: "\"20120230\""},
		{name: "cut short", text: good + "USW00094728,20121008,TMIN,-60\n", minima: 1, bad: 1, names: "station:2: cut short"},
		{name: "a missing value", text: good + "USW00094728,20121008,TMIN,-9999,,,Z,\n", minima: 1},
		{name: "no number", text: good + "USW00094728,20121008,TMIN,x,,,Z,\n", minima: 1, bad: 1, names: "no value"},
		{name: "a number too long", text: good + "USW00094728,20121008,TMIN,-600000,,,Z,\n", minima: 1, bad: 1, names: "no value"},
		{name: "an impossible value", text: good + "USW00094728,20121008,TMIN,9999,,,Z,\n", minima: 1, impossible: 1, names: "beyond any on earth"},
	} {
		t.Run(n.name, n.check)
	}
}

func TestAUSCRNFileWithFaultsGivesWhatIsSoundInIt(t *testing.T) {
	good := uscrnDay("20121007", "12.0", "-0.6", "0.0")
	next := uscrnDay("20121008", "13.0", "0.4", "1.2")
	if len(good) != 216 {
		t.Fatalf("the test's own line has %d characters, want 216", len(good))
	}
	for _, n := range []nasty{
		{name: "Windows line ends", text: good + "\r\n" + next + "\r\n", minima: 2},
		{name: "missing values", text: good + "\n" + uscrnDay("20121008", "-9999.0", "-9999.0", "-9999.0") + "\n", minima: 1},
		{name: "a line cut short", text: good + "\n" + next[:100] + "\n", minima: 1, bad: 1, names: "station:2: 100 characters"},
		{name: "a line cut short within the minimum", text: good + "\n" + next[:50] + "\n", minima: 1, bad: 1, names: "station:2"},
		{name: "two lines in one", text: good + next + "\n" + good + "\n", minima: 1, bad: 1, names: "two lines in one"},
		{name: "the last column cut to a narrower one", text: good[:209] + " 1.0\n", minima: 1},
		{name: "two rows for one day", text: good + "\n" + uscrnDay("20121007", "12.0", "-9.6", "0.0") + "\n", minima: 1, repeated: 1,
			names: "station:2: a second row for 2012-10-07; the first one stays"},
		{name: "a first row without a value stays too", text: uscrnDay("20121007", "1.0", "-9999.0", "0.0") + "\n" + good + "\n" + next + "\n", minima: 1, repeated: 1, names: "station:2"},
		{name: "Feb 30", text: good + "\n" + uscrnDay("20120230", "1.0", "0.0", "0.0") + "\n", minima: 1, bad: 1, names: "no date \"20120230\""},
		{name: "a value without decimals", text: good + "\n" + uscrnDay("20121008", "13.0", "1", "0.0") + "\n", minima: 1, bad: 1, names: "station:2"},
		{name: "80 C", text: good + "\n" + uscrnDay("20121008", "13.0", "80.0", "0.0") + "\n", minima: 1, impossible: 1, names: "minimum 80.0 C is beyond any on earth"},
	} {
		t.Run(n.name, n.check)
	}
}

// A small archive may hold a text without end: it is given up at the size that no
// station's record has.
func TestAnArchiveWithoutEndIsGivenUp(t *testing.T) {
	var small bytes.Buffer
	z := gzip.NewWriter(&small)
	io.WriteString(z, "date,tmin_c\n")
	days := strings.Repeat("2020-09-01,4.0\n", 1<<16)
	for range 40 << 20 / len(days) {
		io.WriteString(z, days)
	}
	z.Close()
	_, err := frost.Read("bomb.csv.gz", &small, frost.Options{})
	if err == nil || !strings.Contains(err.Error(), "32 MiB") || !strings.Contains(err.Error(), "bomb.csv.gz") {
		t.Errorf("got %v", err)
	}
}
