package frost

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
)

// Format is a form that a daily record can come in.
type Format string

// The forms that are read. Each may be gzipped.
const (
	// AnyFormat is found out from the file's first lines.
	AnyFormat Format = ""
	// GHCNDaily is NOAA's fixed-width .dly, a line for a month of one element
	// (NOAA, readme of GHCN-Daily 3.26, section III).
	GHCNDaily Format = "GHCN-Daily .dly"
	// GHCNByStation is NOAA's comma-separated form of the same, a line for a day
	// of one element (NOAA, readme-by_station of GHCN-Daily).
	GHCNByStation Format = "GHCN-Daily by station"
	// USCRNDaily is NOAA's fixed-width daily01 of the Climate Reference Network,
	// a line a day (NOAA, USCRN daily01 readme).
	USCRNDaily Format = "USCRN daily01"
	// PlainCSV has a header with at least date and a minimum: tmin_c, tmin_f, or
	// TMIN as in NOAA's own download.
	PlainCSV Format = "plain CSV"
)

// Columns names the columns of a plain CSV where they are not the usual ones.
// An empty name means the usual one.
type Columns struct {
	Date, Min, Max, Rain string
	// Unit is that of Min and Max where the names do not end in _c or _f. Without
	// one the median July maximum tells it.
	Unit Unit
}

// Options says how to read a file. The zero value finds everything out.
type Options struct {
	Format  Format
	Columns Columns
}

const sniffLines = 20

// sniff tells the format from the first lines, AnyFormat where it cannot.
func sniff(head []byte, columns Columns) Format {
	for n := 0; n < sniffLines && len(head) > 0; n++ {
		line, rest, _ := bytes.Cut(head, []byte{'\n'})
		head = rest
		line = bytes.TrimSuffix(line, []byte{'\r'})
		switch {
		case len(bytes.TrimSpace(line)) == 0 || line[0] == '#':
			n--
		case looksDly(line):
			return GHCNDaily
		case looksUSCRN(line):
			return USCRNDaily
		case isByStationRow(line) || isByStationHeader(line): // some downloads carry one
			return GHCNByStation
		case looksCSVHeader(line, columns):
			return PlainCSV
		}
	}
	return AnyFormat
}

func looksDly(line []byte) bool {
	return len(line) >= 21 && isStationID(line[:11]) && allDigits(line[11:17]) && isElement(line[17:21])
}

func looksUSCRN(line []byte) bool {
	return len(line) >= 15 && allDigits(line[:5]) && line[5] == ' ' && allDigits(line[6:14]) && line[14] == ' '
}

func isByStationRow(line []byte) bool {
	return len(line) >= 26 && isStationID(line[:11]) && line[11] == ',' && allDigits(line[12:20]) &&
		line[20] == ',' && isElement(line[21:25]) && line[25] == ','
}

func isByStationHeader(line []byte) bool {
	const header = "id,date,element,"
	return len(line) > len(header) && strings.EqualFold(string(line[:len(header)]), header)
}

// looksCSVHeader asks for a date column among at least two.
func looksCSVHeader(line []byte, columns Columns) bool {
	names, want := splitHeader(line, delimiterOf(line)), cmp.Or(columns.Date, "date")
	return len(names) > 1 && slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, want) })
}

func isStationID(b []byte) bool { return isCode(b, "_-") }

func isElement(b []byte) bool { return isCode(b, "") }

// isCode says whether all are digits, capitals or one of the marks.
func isCode(b []byte, marks string) bool {
	for _, c := range b {
		if !isDigit(c) && !('A' <= c && c <= 'Z') && strings.IndexByte(marks, c) < 0 {
			return false
		}
	}
	return true
}

func allDigits(b []byte) bool { _, ok := digits(b); return ok }

// digits reads a run of digits; ok is false where one is none.
func digits(b []byte) (n int, ok bool) {
	for _, c := range b {
		if !isDigit(c) {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, true
}

// plainDate reads the eight digits YYYYMMDD; what is no day of a daily record
// is a bad line.
func (rd *reader) plainDate(b []byte) (year, slot int, ok bool) {
	year, _ = digits(b[:4])
	month, _ := digits(b[4:6])
	day, _ := digits(b[6:8])
	if !validDay(year, month, day) {
		rd.bad("no date %q", b)
		return 0, 0, false
	}
	return year, slotOf(month, day), true
}
