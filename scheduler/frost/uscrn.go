package frost

import "bytes"

// The columns of a USCRN daily01 line, from 0 (NOAA, USCRN daily01 readme):
// station 0-4, local standard date 6-13, maximum 38-44, minimum 46-52, rain
// 70-76, each number with one decimal; 28 fields and 216 characters in all.
const (
	uscrnLine   = 216
	uscrnFields = 28
)

// uscrnMissing is -9999.0 in tenths.
const uscrnMissing = -99990

// uscrnLine takes one day.
func (rd *reader) uscrnLine(b []byte) {
	if len(b) != uscrnLine && len(bytes.Fields(b)) != uscrnFields {
		rd.bad("%d characters where a USCRN daily01 line has %d: cut short, or two lines in one?", len(b), uscrnLine)
		return
	}
	if !looksUSCRN(b) || len(b) < 77 {
		rd.bad("no USCRN daily01 line: %q", clip(b))
		return
	}
	year, slot, ok := rd.plainDate(b[6:14])
	if !ok {
		return
	}
	highest, ok1 := tenths(b[38:45])
	lowest, ok2 := tenths(b[46:53])
	rain, ok3 := tenths(b[70:77])
	if !ok1 || !ok2 || !ok3 {
		rd.bad("no number with one decimal in %q", b[38:77])
		return
	}
	if !rd.sameStation(b[:5]) {
		return
	}
	row := dayRow{year: year, slot: slot, min: NoTemp, max: NoTemp, rain: NoRain}
	if lowest != uscrnMissing {
		rd.setTemp(&row.min, Temp(lowest)*100, "minimum")
	}
	if highest != uscrnMissing {
		rd.setTemp(&row.max, Temp(highest)*100, "maximum")
	}
	if rain != uscrnMissing {
		rd.setRain(&row.rain, Rain(rain)*100)
	}
	rd.day(row)
}

// tenths reads a right-aligned number with exactly one decimal.
func tenths(b []byte) (int32, bool) {
	last := len(b) - 1
	if b[last-1] != '.' || !isDigit(b[last]) || !isDigit(b[last-2]) {
		return 0, false
	}
	n, scale := int32(b[last]-'0'), int32(10)
	i := last - 2
	for ; i >= 0 && isDigit(b[i]); i-- {
		n += int32(b[i]-'0') * scale
		scale *= 10
	}
	if i >= 0 && b[i] == '-' {
		n = -n
		i--
	}
	for ; i >= 0; i-- {
		if b[i] != ' ' {
			return 0, false
		}
	}
	return n, true
}

// dayRow is what one line says of one day.
type dayRow struct {
	year, slot int
	min, max   Temp
	rain       Rain
}

// day puts a row into the record, unless there was a row for that day before.
func (rd *reader) day(row dayRow) {
	rd.good++
	y := rd.rec.openYear(row.year)
	if y.seen[row.slot] != 0 {
		if row.year == rd.before.year && row.slot == rd.before.slot {
			rd.hourly++
		}
		rd.rec.Problems.repeated(rd.line, dateAt(row.year, row.slot).String())
		return
	}
	rd.before = row
	y.seen[row.slot] = elementMin | elementMax | elementRain
	y.min[row.slot], y.max[row.slot], y.rain[row.slot] = row.min, row.max, row.rain
	if row.min != NoTemp && row.max != NoTemp {
		rd.both++
		if row.min > row.max {
			rd.inverse++
		}
	}
}
