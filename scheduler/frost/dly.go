package frost

import (
	"encoding/binary"
	"fmt"
)

// The columns of a .dly line, from 0: id 0-10, year 11-14, month 15-16, element
// 17-20, then 31 groups of value (5), measurement flag, quality flag, source
// flag (NOAA, readme of GHCN-Daily 3.26, section III).
const (
	dlyDays  = 21
	dlyGroup = 8
	dlyLine  = dlyDays + 31*dlyGroup
)

// dlyMissing is a missing value, in the unit of the file.
const dlyMissing = -9999

// dlyLine takes one month of one element.
func (rd *reader) dlyLine(b []byte) {
	if len(b) < dlyDays || !looksDly(b) {
		rd.bad("no .dly line: %q", clip(b))
		return
	}
	year, _ := digits(b[11:15])
	month, _ := digits(b[15:17])
	if !validDay(year, month, 1) {
		rd.bad("no month %q", b[11:17])
		return
	}
	var kind element
	switch string(b[17:21]) {
	case "TMIN":
		kind = elementMin
	case "TMAX":
		kind = elementMax
	case "PRCP":
		kind = elementRain
	}
	var line [dlyLine]byte
	b, ok := rd.wholeDlyLine(b, &line, monthDays(year, month))
	if !ok || !rd.sameStation(b[:11]) {
		return
	}
	if kind == 0 {
		rd.good++
		return
	}
	rd.dlyMonth(b, kind, year, month)
}

// wholeDlyLine brings a line to its 269 columns: blanks cut off at the end by
// an editor are put back, in scratch. A line that ends within a value or has a
// 32nd day is bad.
func (rd *reader) wholeDlyLine(b []byte, scratch *[dlyLine]byte, days int) ([]byte, bool) {
	if len(b) == dlyLine {
		return b, true
	}
	for len(b) > dlyLine && b[len(b)-1] == ' ' {
		b = b[:len(b)-1]
	}
	if len(b) > dlyLine {
		rd.bad("a month of %d days: %d characters where 31 days take %d", (len(b)-dlyDays+dlyGroup-1)/dlyGroup, len(b), dlyLine)
		return nil, false
	}
	// The value of the month's last day must be there; its flags may be blank.
	if len(b) < dlyDays+(days-1)*dlyGroup+5 {
		rd.bad("cut short: %d characters of %d", len(b), dlyLine)
		return nil, false
	}
	n := copy(scratch[:], b)
	for ; n < dlyLine; n++ {
		scratch[n] = ' '
	}
	return scratch[:], true
}

// dlyMonth takes the values of a whole line: all of them or, where one cannot
// be read, none.
func (rd *reader) dlyMonth(b []byte, kind element, year, month int) {
	days := monthDays(year, month)
	var values [31]int32
	flagged := 0
	for i := range values {
		group := binary.LittleEndian.Uint64(b[dlyDays+i*dlyGroup:])
		v, ok := dlyValue(group)
		if !ok || i >= days && v != dlyMissing {
			rd.badDlyValue(b, i, year, month)
			return
		}
		if v != dlyMissing && byte(group>>48) != ' ' {
			v = dlyMissing
			flagged++
		}
		values[i] = v
	}
	rd.good++
	y := rd.rec.openYear(year)
	first := slotOf(month, 1)
	if y.seen[first]&kind != 0 {
		rd.rec.Problems.repeated(rd.line, fmt.Sprintf("%s of %d-%02d", b[17:21], year, month))
		return
	}
	y.seen[first] |= kind
	rd.rec.Problems.Flagged += flagged
	rd.store(y, kind, first, values[:days])
}

// store puts a run of values in tenths into the record.
func (rd *reader) store(y *yearDays, kind element, first int, tenths []int32) {
	for i, v := range tenths {
		if v == dlyMissing {
			continue
		}
		switch kind {
		case elementMin:
			rd.setTemp(&y.min[first+i], Temp(v)*100, "minimum")
		case elementMax:
			rd.setTemp(&y.max[first+i], Temp(v)*100, "maximum")
		case elementRain:
			rd.setRain(&y.rain[first+i], Rain(v)*100)
		}
	}
}

// setTemp keeps a temperature that can be one.
func (rd *reader) setTemp(to *Temp, t Temp, what string) {
	if !t.plausible() {
		rd.rec.Problems.impossible(rd.line, what, t)
		return
	}
	*to = t
}

// setRain keeps an amount of rain that can be one.
func (rd *reader) setRain(to *Rain, r Rain) {
	if r < 0 || r > mostRain {
		rd.rec.Problems.impossible(rd.line, "rain in mm", r.MM())
		return
	}
	*to = r
}

// badDlyValue names the value that spoils a line.
func (rd *reader) badDlyValue(b []byte, i, year, month int) {
	value := b[dlyDays+i*dlyGroup:][:5]
	if i >= monthDays(year, month) {
		rd.bad("a value for day %d of %d-%02d, which has no such day: %q", i+1, year, month, value)
		return
	}
	rd.bad("no value for day %d of %d-%02d: %q", i+1, year, month, value)
}

// dlyValue reads the five characters of a value, right-aligned in blanks, from
// the low bytes of a group, all five at once. Five blanks are a missing value.
//
// A digit has the bit 0x10 set and a blank or a minus sign has not, which tells
// how many characters stand before the first digit.
func dlyValue(group uint64) (int32, bool) {
	const (
		five   = 1<<40 - 1
		bit    = 0x10_1010_1010
		blanks = 0x20_2020_2020
	)
	text := group & five
	if text == blanks {
		return dlyMissing, true
	}
	has := text & bit
	digit := has >> 4 * 0x0f & text // each digit's value, 0 elsewhere
	// Nothing but 0x30 to 0x39 may have the bit.
	if (digit+0x06_0606_0606)&bit != 0 || has>>4*0xf0&text != has>>4*0x30 {
		return 0, false
	}
	before := trailingZeroBytes(has)
	if before > 4 || has != bit&(five<<(8*before)) {
		return 0, false
	}
	sign := int32(1)
	if lead := text & (1<<(8*before) - 1); before > 0 && lead != blanks&(1<<(8*before)-1) {
		if lead>>(8*(before-1)) != '-' || lead&(1<<(8*(before-1))-1) != blanks&(1<<(8*(before-1))-1) {
			return 0, false
		}
		sign = -1
	}
	n := int32(digit&0xff)*10000 + int32(digit>>8&0xff)*1000 + int32(digit>>16&0xff)*100 +
		int32(digit>>24&0xff)*10 + int32(digit>>32)
	return sign * n, true
}
