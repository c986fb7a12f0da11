package frost

import (
	"bytes"
	"encoding/binary"
	"math/bits"
)

// plainDay takes one day of a line as nearly all are: the columns that are read
// are there, the date is 2012-10-07, the numbers are short and without blanks or
// quotes. Where a line is otherwise it is false and nothing was taken.
func (rd *reader) plainDay(b []byte) bool {
	l := rd.csv
	row := dayRow{of: [elements]Temp{NoTemp, NoTemp, NoTemp}}
	at := 0
	for i, column := range l.columns {
		if i > 0 {
			if at >= len(b) || b[at] != l.delimiter {
				return false
			}
			at++
		}
		from, ok := at, true
		switch column {
		case int(lowest), int(highest), int(rain):
			row.of[column], at, ok = rd.plainNumber(b, at, element(column))
		case dateColumn:
			at += len("2012-10-07")
			ok = at <= len(b) && l.plainDate(&row, b[from:at])
		case skipped, stationColumn:
			for at < len(b) && b[at] != l.delimiter && b[at] != '"' {
				at++
			}
			ok = column == skipped || at > from && string(b[from:at]) == rd.rec.Station
		default: // flags have marks of their own
			return false
		}
		if !ok {
			return false
		}
	}
	if at < len(b) && b[at] != l.delimiter {
		return false
	}
	rd.day(row)
	return true
}

// plainDate reads a date of ten characters; of one in the same month as that of
// the line before only the day.
func (l *csvLayout) plainDate(row *dayRow, b []byte) bool {
	month := binary.LittleEndian.Uint64(b)
	day, ok := digits(b[8:])
	if month != l.month || !ok || day < 1 || day > l.days {
		y, m, d, ok := isoDate(b)
		if !ok {
			return false
		}
		l.month, l.year, l.first, l.days, day = month, y, slotOf(m, 1), monthDays(y, m), d
	}
	row.year, row.slot = l.year, l.first+day-1
	return true
}

// plainNumber reads the value at a place in a line, from the memo where the same was
// read before, and says where it ends.
func (rd *reader) plainNumber(b []byte, at int, k element) (v Temp, end int, ok bool) {
	var word uint64
	if at+8 <= cap(b) {
		word = binary.LittleEndian.Uint64(b[at : at+8])
	} else {
		var last [8]byte
		copy(last[:], b[at:])
		word = binary.LittleEndian.Uint64(last[:])
	}
	// The first byte that is the delimiter becomes 0, and the lowest bit set says
	// where it is (Warren, Hacker's Delight, 6-1).
	const ones, tops = 0x0101_0101_0101_0101, 0x8080_8080_8080_8080
	x := word ^ ones*uint64(rd.csv.delimiter)
	n := min(bits.TrailingZeros64((x-ones)&^x&tops)/8, len(b)-at)
	if n > 7 {
		return 0, 0, false
	}
	word = word&(1<<(8*n)-1) | uint64(k)<<56 | uint64(n+1)<<60
	known := rd.memo.of(word)
	if known.group != word {
		if v = rd.csv.value(b[at:at+n], k); v == unreadable || v != NoTemp && !rd.csv.can(k, v) {
			return 0, 0, false
		}
		known.group, known.value = word, v
	}
	return known.value, at + n, true
}

func (rd *reader) csvDay(b []byte) {
	l := rd.csv
	if !l.split(b) {
		rd.bad("a quote is not closed: %q", clip(b))
		return
	}
	if l.found <= max(l.at[dateColumn], l.at[lowest]) {
		rd.bad("cut short: %d columns in %q", l.found, clip(b))
		return
	}
	date := l.field(dateColumn)
	year, month, day, ok := isoDate(date)
	if !ok {
		if year, month, day, ok = rd.strokeDate(date); !ok {
			return
		}
	}
	row := dayRow{year: year, slot: slotOf(month, day)}
	for k := range elements {
		text := l.field(int(k))
		switch v := l.value(text, k); {
		case v == unreadable:
			rd.bad("no %s: %q", elementNames[k], clip(text))
			return
		case v == NoTemp || rd.failed(minFlags+int(k)):
			row.of[k] = NoTemp
		case l.can(k, v):
			row.of[k] = v
		default:
			rd.keep(&row.of[k], k, v, "")
		}
	}
	if id := l.field(stationColumn); len(id) > 0 && !rd.sameStation(id) {
		return
	}
	rd.day(row)
}

// value reads a temperature or rain; NoTemp where it is missing. As long as the unit is
// not known it is the number itself, in thousandths.
func (l *csvLayout) value(text []byte, k element) Temp {
	if isMissing(text) {
		return NoTemp
	}
	if k == rain && (string(text) == "T" || string(text) == "t") {
		return 0 // a trace
	}
	n, ok := l.number(text)
	switch {
	case !ok:
		return unreadable
	case n == csvMissing:
		return NoTemp
	}
	return k.in(l.unit[k], n)
}

// can says whether a value that was read can be one; as long as its unit is not known
// any can.
func (l *csvLayout) can(k element, v Temp) bool { return l.unit[k] == UnitUnknown || k.can(v) }

// failed says whether a value failed the station's own quality check: the second
// of its flags is not blank.
func (rd *reader) failed(flags int) bool {
	if rd.csv.at[flags] < 0 {
		return false
	}
	_, rest, _ := bytes.Cut(rd.csv.field(flags), []byte{','})
	quality, _, _ := bytes.Cut(rest, []byte{','})
	if len(bytes.TrimSpace(quality)) == 0 {
		return false
	}
	rd.rec.Problems.Flagged++
	return true
}
