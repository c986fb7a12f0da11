package frost

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// csvLayout is which column of a plain CSV holds what; -1 where none does.
type csvLayout struct {
	header                        []byte
	delimiter                     byte
	date, min, max, rain, station int
	unit                          Unit     // of min and max
	inches                        bool     // the rain's unit
	fields                        [][]byte // scratch, reused for every line
}

// csvMissing is the code -9999, in ten-thousandths.
const csvMissing = -9999_0000

// knownHeaders are headers whose columns are documented to be in C and mm
// though they do not say so: seattle-weather.csv of the npm package
// vega-datasets (its datapackage names NOAA as source).
var knownHeaders = map[string]Columns{
	"date,precipitation,temp_max,temp_min,wind,weather": {
		Date: "date", Min: "temp_min", Max: "temp_max", Rain: "precipitation", Unit: Celsius,
	},
}

// delimiterOf is the mark between the columns of a header.
func delimiterOf(header []byte) byte {
	best, most := byte(','), 0
	for _, d := range []byte{',', ';', '\t'} {
		if n := bytes.Count(header, []byte{d}); n > most {
			best, most = d, n
		}
	}
	return best
}

// splitHeader is the names of a header without blanks and quotes.
func splitHeader(header []byte, delimiter byte) []string {
	var names []string
	for _, f := range bytes.Split(header, []byte{delimiter}) {
		names = append(names, string(bytes.Trim(f, "\" \t")))
	}
	return names
}

// csvLine takes the header, then one day a line.
func (rd *reader) csvLine(b []byte) {
	if len(bytes.TrimSpace(b)) == 0 || b[0] == '#' {
		return
	}
	if rd.csv == nil {
		layout, err := layoutOf(b, rd.opt.Columns)
		if err != nil {
			rd.stop("%w", err)
		}
		rd.csv = layout
		return
	}
	if bytes.Equal(b, rd.csv.header) {
		return // yearly files put one after the other repeat it
	}
	rd.csvDay(b)
}

// layoutOf finds the columns by the names of the header.
func layoutOf(header []byte, want Columns) (*csvLayout, error) {
	l := &csvLayout{header: bytes.Clone(header), delimiter: delimiterOf(header)}
	names := splitHeader(header, l.delimiter)
	if known, ok := knownHeaders[strings.Join(names, ",")]; ok && want == (Columns{}) {
		want = known
	}
	find := func(options ...string) int {
		for _, o := range options {
			if i := slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, o) }); i >= 0 {
				return i
			}
		}
		return -1
	}
	l.date = find(or(want.Date, "date"))
	l.min = find(named(want.Min, "tmin_c", "tmin_f")...)
	l.max = find(named(want.Max, "tmax_c", "tmax_f")...)
	l.rain = find(named(want.Rain, "rain_mm", "rain_in")...)
	l.station = find(named(want.Station, "station", "location")...)
	return l, l.check(names, want)
}

// check says what a header lacks, and finds out the units.
func (l *csvLayout) check(names []string, want Columns) error {
	have := strings.Join(names, ", ")
	if l.date < 0 {
		return fmt.Errorf("no column %q in the header; it has %s", or(want.Date, "date"), have)
	}
	if l.min < 0 {
		return fmt.Errorf("no column %s in the header; it has %s; name the column of the minimum and its unit", or(want.Min, "tmin_c or tmin_f"), have)
	}
	for _, c := range []struct {
		given string
		at    int
	}{{want.Max, l.max}, {want.Rain, l.rain}, {want.Station, l.station}} {
		if c.given != "" && c.at < 0 {
			return fmt.Errorf("no column %q in the header; it has %s", c.given, have)
		}
	}
	l.unit = unitOf(names[l.min], want.Unit)
	if l.unit == UnitUnknown {
		return fmt.Errorf("column %q does not say its unit; say whether it is C or F", names[l.min])
	}
	if l.max >= 0 {
		if u := unitOf(names[l.max], want.Unit); u != l.unit && u != UnitUnknown {
			return fmt.Errorf("columns %q and %q are not in the same unit; keep one unit a file", names[l.min], names[l.max])
		}
	}
	if l.rain >= 0 && strings.HasSuffix(strings.ToLower(names[l.rain]), "_in") {
		l.inches = true
	}
	return nil
}

// unitOf is the unit that a column's name ends in, else the given one.
func unitOf(name string, given Unit) Unit {
	if given != UnitUnknown {
		return given
	}
	switch lower := strings.ToLower(name); {
	case strings.HasSuffix(lower, "_c"):
		return Celsius
	case strings.HasSuffix(lower, "_f"):
		return Fahrenheit
	}
	return UnitUnknown
}

func or(given, usual string) string {
	if given != "" {
		return given
	}
	return usual
}

// named is the given name alone, or else the usual ones.
func named(given string, usual ...string) []string {
	if given != "" {
		return []string{given}
	}
	return usual
}

// csvDay takes one day.
func (rd *reader) csvDay(b []byte) {
	l := rd.csv
	if !l.split(b) {
		rd.bad("a quote is not closed: %q", clip(b))
		return
	}
	if len(l.fields) <= max(l.date, l.min) {
		rd.bad("cut short: %d columns in %q", len(l.fields), clip(b))
		return
	}
	year, month, day, ok := isoDate(l.field(l.date))
	if !ok {
		rd.bad("no date such as 2012-10-07: %q", clip(l.field(l.date)))
		return
	}
	row := dayRow{year: year, slot: slotOf(month, day), rain: NoRain}
	if row.min, ok = rd.csvTemp(l.min, "minimum"); !ok {
		return
	}
	if row.max, ok = rd.csvTemp(l.max, "maximum"); !ok {
		return
	}
	if row.rain, ok = rd.csvRain(); !ok {
		return
	}
	if id := l.field(l.station); len(id) > 0 && !rd.sameStation(id) {
		return
	}
	rd.day(row)
}

// csvTemp reads a temperature; ok is false where the line is bad.
func (rd *reader) csvTemp(column int, what string) (t Temp, ok bool) {
	text := rd.csv.field(column)
	if isMissing(text) {
		return NoTemp, true
	}
	n, ok := rd.csv.number(text)
	if !ok {
		rd.bad("no %s: %q", what, clip(text))
		return NoTemp, false
	}
	t = NoTemp
	if n == csvMissing {
		return t, true
	}
	rd.setTemp(&t, rd.csv.unit.temp(n), what)
	return t, true
}

// csvRain reads the rain; ok is false where the line is bad.
func (rd *reader) csvRain() (r Rain, ok bool) {
	text := rd.csv.field(rd.csv.rain)
	if isMissing(text) {
		return NoRain, true
	}
	if len(text) == 1 && (text[0] == 'T' || text[0] == 't') {
		return 0, true // a trace
	}
	n, ok := rd.csv.number(text)
	if !ok {
		rd.bad("no rain: %q", clip(text))
		return NoRain, false
	}
	if n == csvMissing {
		return NoRain, true
	}
	micro := divRound(n, 10)
	if rd.csv.inches {
		micro = divRound(n*254, 100)
	}
	r = NoRain
	rd.setRain(&r, Rain(max(-1, min(micro, int64(mostRain)+1))))
	return r, true
}

// field is one column of the line at hand, empty where it has none.
func (l *csvLayout) field(column int) []byte {
	if column < 0 || column >= len(l.fields) {
		return nil
	}
	return l.fields[column]
}

// number reads ten-thousandths; a comma is the decimal mark where it does not
// part the columns.
func (l *csvLayout) number(text []byte) (int64, bool) {
	if l.delimiter != ',' {
		if i := bytes.IndexByte(text, ','); i >= 0 {
			text = append(append(bytes.Clone(text[:i]), '.'), text[i+1:]...)
		}
	}
	return parseDecimal(text, 4)
}

// split parts a line into its fields without blanks and quotes around them;
// false where a quote is not closed.
func (l *csvLayout) split(b []byte) bool {
	l.fields = l.fields[:0]
	for {
		b = bytes.TrimLeft(b, " ")
		if len(b) > 0 && b[0] == '"' {
			end := bytes.IndexByte(b[1:], '"')
			if end < 0 {
				return false
			}
			l.fields = append(l.fields, bytes.TrimSpace(b[1:1+end]))
			b = b[end+2:]
			next := bytes.IndexByte(b, l.delimiter)
			if next < 0 {
				return true
			}
			b = b[next+1:]
			continue
		}
		next := bytes.IndexByte(b, l.delimiter)
		if next < 0 {
			l.fields = append(l.fields, bytes.TrimSpace(b))
			return true
		}
		l.fields = append(l.fields, bytes.TrimSpace(b[:next]))
		b = b[next+1:]
	}
}

// isMissing says whether a field stands for no value.
func isMissing(text []byte) bool {
	switch len(text) {
	case 0:
		return true
	case 1:
		return text[0] == '.' || text[0] == '-' || text[0] == 'M' || text[0] == 'm'
	}
	switch string(text) {
	case "NA", "na", "N/A", "NaN", "nan", "null", "NULL":
		return true
	}
	return false
}

// isoDate reads YYYY-MM-DD, or the same with strokes.
func isoDate(b []byte) (year, month, day int, ok bool) {
	if len(b) != 10 || b[4] != b[7] || b[4] != '-' && b[4] != '/' {
		return 0, 0, 0, false
	}
	year, ok1 := digits(b[:4])
	month, ok2 := digits(b[5:7])
	day, ok3 := digits(b[8:])
	return year, month, day, ok1 && ok2 && ok3 && validDay(year, month, day)
}
