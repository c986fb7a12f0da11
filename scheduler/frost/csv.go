package frost

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// csvLayout is where in a plain CSV each column stands; -1 where it has none.
type csvLayout struct {
	header    []byte
	delimiter byte
	at        [len(usualNames)]int
	columns   []int          // what each column is, as far as any is read; skipped is none
	unit      [elements]Unit // unknown until the values tell it

	// The month of the last date, with its year, first slot and days.
	month             uint64
	year, first, days int

	// The line at hand and where in it each field lies: numbers, since slices
	// would be looked at by the garbage collector, line for line.
	line   []byte
	fields []span // as many as are read
	found  int    // in the line
}

type span struct{ from, to int32 }

// The columns that are read besides those of the elements; the flags stand in their
// order.
const (
	dateColumn = int(elements) + iota
	stationColumn
	minFlags
	skipped = minFlags + int(elements)
)

// usualNames are what the columns are called where nobody says otherwise: plain
// names with their unit, and those of NOAA's own downloads, whose flags stand in
// one column `measurement,quality,source` (NOAA NCEI, GHCN-Daily documentation
// of the CSV form).
var usualNames = [...][]string{
	{"tmin_c", "tmin_f", "tmin"}, {"tmax_c", "tmax_f", "tmax"}, {"rain_mm", "rain_in", "prcp"}, {"date"}, {"station", "location"},
	{"tmin_attributes"}, {"tmax_attributes"}, {"prcp_attributes"},
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

func splitHeader(header []byte, delimiter byte) []string {
	var names []string
	for _, f := range bytes.Split(header, []byte{delimiter}) {
		names = append(names, string(bytes.Trim(f, "\" \t")))
	}
	return names
}

// csvLine takes the header, then one day a line.
func (rd *reader) csvLine(b []byte) {
	if b[0] == '#' || b[0] <= ' ' && len(bytes.TrimSpace(b)) == 0 {
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
	if b[0] == rd.csv.header[0] && bytes.Equal(b, rd.csv.header) {
		return // yearly files put one after the other repeat it
	}
	if !rd.plainDay(b) {
		rd.csvDay(b)
	}
}

// layoutOf finds the columns by the names of the header.
func layoutOf(header []byte, want Columns) (*csvLayout, error) {
	if bytes.IndexByte(header, '\r') >= 0 {
		return nil, fmt.Errorf("its lines end as on an old Mac, so all of it is one line; save it with the line ends of Windows or Unix")
	}
	l := &csvLayout{header: bytes.Clone(header), delimiter: delimiterOf(header)}
	names := splitHeader(header, l.delimiter)
	if known, ok := knownHeaders[strings.Join(names, ",")]; ok && want == (Columns{}) {
		want = known
	}
	have := strings.Join(names, ", ")
	for c, given := range [len(usualNames)]string{want.Min, want.Max, want.Rain, want.Date} {
		options := usualNames[c]
		if given != "" {
			options = []string{given}
		}
		l.at[c] = -1
		for i := len(options) - 1; i >= 0; i-- {
			if at := slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, options[i]) }); at >= 0 {
				l.at[c] = at
			}
		}
		switch {
		case l.at[c] >= 0:
		case c == int(lowest):
			return nil, fmt.Errorf("no column %s in the header; it has %s; name the column of the minimum: --tmin-column, or columns: in the frost section of the farm file", strings.Join(options, " or "), have)
		case c == dateColumn || given != "":
			return nil, fmt.Errorf("no column %q in the header; it has %s", options[0], have)
		}
	}
	l.columns = slices.Repeat([]int{skipped}, slices.Max(l.at[:])+1)
	for c, at := range l.at {
		if at >= 0 {
			l.columns[at] = c
		}
	}
	l.fields = make([]span, len(l.columns))
	return l, l.units(names, want.Unit)
}
