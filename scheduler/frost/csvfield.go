package frost

import "bytes"

// field is one column of the line at hand without the blanks around it, empty
// where it has none.
func (l *csvLayout) field(column int) []byte {
	at := l.at[column]
	if at < 0 || at >= l.found {
		return nil
	}
	f := l.fields[at]
	if f.from == f.to || l.line[f.from] > ' ' && l.line[f.to-1] > ' ' {
		return l.line[f.from:f.to]
	}
	return bytes.TrimSpace(l.line[f.from:f.to])
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

// split parts a line into its fields without the quotes around them, as far as
// anything is read; false where a quote is not closed.
func (l *csvLayout) split(b []byte) bool {
	at := 0
	for l.line, l.found = b, 0; l.found < len(l.fields); l.found++ {
		for at < len(b) && b[at] == ' ' {
			at++
		}
		end, mark := at, l.delimiter
		if at < len(b) && b[at] == '"' {
			at, mark = at+1, '"'
			end = at
		}
		n := bytes.IndexByte(b[end:], mark)
		if n < 0 && mark == '"' {
			return false
		} else if n < 0 {
			n = len(b) - end
		}
		end += n
		l.fields[l.found] = span{int32(at), int32(end)}
		next := bytes.IndexByte(b[end:], l.delimiter)
		if next < 0 {
			l.found++
			break
		}
		at = end + next + 1
	}
	return true
}

func isMissing(text []byte) bool {
	switch len(text) {
	case 0:
		return true
	case 1:
		return text[0] == '.' || text[0] == '-' || text[0] == 'M' || text[0] == 'm'
	}
	if text[0] < 'A' { // a digit or a sign
		return false
	}
	switch string(text) {
	case "NA", "na", "N/A", "NaN", "nan", "null", "NULL":
		return true
	}
	return false
}

// isoDate reads YYYY-MM-DD, or the same with strokes.
func isoDate(b []byte) (year, month, day int, ok bool) {
	if len(b) > 10 && (b[10] == ' ' || b[10] == 'T') {
		b = b[:10] // a day with its midnight
	}
	if len(b) != 10 || b[4] != b[7] || b[4] != '-' && b[4] != '/' {
		return 0, 0, 0, false
	}
	year, ok1 := digits(b[:4])
	month, ok2 := digits(b[5:7])
	day, ok3 := digits(b[8:])
	return year, month, day, ok1 && ok2 && ok3 && validDay(year, month, day)
}

// strokeDate reads 10/7/2012, as a spreadsheet saves it; ok is false where the
// line is bad. A file with the day first is not guessed at.
func (rd *reader) strokeDate(b []byte) (year, month, day int, ok bool) {
	first, rest, _ := bytes.Cut(b, []byte{'/'})
	second, last, _ := bytes.Cut(rest, []byte{'/'})
	month, ok1 := digits(first)
	day, ok2 := digits(second)
	year, ok3 := digits(last)
	whole := ok1 && ok2 && ok3 && 0 < len(first) && len(first) <= 2 && 0 < len(second) && len(second) <= 2 && len(last) == 4
	switch {
	case whole && validDay(year, month, day):
		return year, month, day, true
	case whole && validDay(year, day, month):
		rd.stop("%q has the day before the month, so any other date may be meant either way; save the dates as 2012-10-07", clip(b))
	default:
		rd.bad("no date such as 2012-10-07 or 10/7/2012: %q", clip(b))
	}
	return 0, 0, 0, false
}
