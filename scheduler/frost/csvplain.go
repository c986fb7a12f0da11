package frost

import (
	"encoding/binary"
	"math/bits"
)

// plainDay takes one day of a line as nearly all are: the columns that are read
// are there, the date is 2012-10-07, the numbers are short and without blanks or
// quotes. Where a line is otherwise it is false and nothing was taken.
func (rd *reader) plainDay(b []byte) bool {
	l := rd.csv
	row := dayRow{min: NoTemp, max: NoTemp, rain: NoRain}
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
		case dateColumn:
			at += len("2012-10-07")
			ok = at <= len(b) && l.plainDate(&row, b[from:at])
		case minColumn:
			row.min, at, ok = rd.plainNumber(b, at, elementMin)
		case maxColumn:
			row.max, at, ok = rd.plainNumber(b, at, elementMax)
		case rainColumn:
			var rain Temp
			rain, at, ok = rd.plainNumber(b, at, elementRain)
			row.rain = max(NoRain, Rain(rain)) // NoTemp is far below
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

// plainNumber reads the temperature or rain at a place in a line, from the memo
// where the same was read before, and says where it ends.
func (rd *reader) plainNumber(b []byte, at int, kind element) (v Temp, end int, ok bool) {
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
	word = word&(1<<(8*n)-1) | uint64(kind&elementRain)<<56 | uint64(n+1)<<60
	known := rd.memo.of(word)
	if known.group != word {
		if v, ok = rd.csv.value(b[at:at+n], kind); !ok {
			return 0, 0, false
		}
		known.group, known.value = word, v
	}
	return known.value, at + n, true
}

// value reads a temperature or rain that is missing or can be one.
func (l *csvLayout) value(text []byte, kind element) (Temp, bool) {
	if isMissing(text) {
		return NoTemp, true
	}
	n, ok := l.number(text)
	switch {
	case !ok:
		return 0, false
	case n == csvMissing:
		return NoTemp, true
	case kind == elementRain:
		r := l.rain.rain(n)
		return Temp(r), r.plausible()
	case l.unit == UnitUnknown:
		return Temp(divRound(n, 10)), true
	}
	t := l.unit.temp(n)
	return t, t.plausible()
}
