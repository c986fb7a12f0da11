package frost

import "bytes"

// The columns of a USCRN daily01 line, from 0 (NOAA, USCRN daily01 readme):
// station 0-4, local standard date 6-13, maximum 38-44, minimum 46-52, rain
// 70-76, each number with one decimal; 28 fields and 216 characters in all.
const (
	uscrnLine   = 216
	uscrnFields = 28
)

var uscrnAt = [elements]int{lowest: 46, highest: 38, rain: 70}

// uscrnMissing is -9999.0 in tenths.
const uscrnMissing = -99990

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
	row := dayRow{year: year, slot: slot}
	for k, at := range uscrnAt {
		n, ok := tenths(b[at : at+7])
		if !ok {
			rd.bad("no number with one decimal in %q", b[38:77])
			return
		}
		if row.of[k] = Temp(n) * 100; n == uscrnMissing {
			row.of[k] = NoTemp
		}
	}
	if !rd.sameStation(b[:5]) {
		return
	}
	for k := range row.of {
		rd.keep(&row.of[k], element(k), row.of[k], "")
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
