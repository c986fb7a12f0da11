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
