package frost

import "bytes"

// csvDay takes one day.
func (rd *reader) csvDay(b []byte) {
	l := rd.csv
	if !l.split(b) {
		rd.bad("a quote is not closed: %q", clip(b))
		return
	}
	if len(l.fields) <= max(l.at[dateColumn], l.at[minColumn]) {
		rd.bad("cut short: %d columns in %q", len(l.fields), clip(b))
		return
	}
	year, month, day, ok := isoDate(l.field(dateColumn))
	if !ok {
		rd.bad("no date such as 2012-10-07: %q", clip(l.field(dateColumn)))
		return
	}
	row := dayRow{year: year, slot: slotOf(month, day), rain: NoRain}
	if row.min, ok = rd.csvTemp(minColumn, "minimum"); !ok {
		return
	}
	if row.max, ok = rd.csvTemp(maxColumn, "maximum"); !ok {
		return
	}
	if row.rain, ok = rd.csvRain(); !ok {
		return
	}
	if id := l.field(stationColumn); len(id) > 0 && !rd.sameStation(id) {
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
	text := rd.csv.field(rainColumn)
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
	if at := l.at[column]; at >= 0 && at < len(l.fields) {
		return l.fields[at]
	}
	return nil
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
