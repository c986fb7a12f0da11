package frost

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
)

// The columns of a .dly line, from 0: id 0-10, year 11-14, month 15-16, element
// 17-20, then 31 groups of value (5), measurement flag, quality flag, source
// flag (NOAA, readme of GHCN-Daily 3.26, section III).
const (
	dlyDays    = 21
	dlyGroup   = 8
	dlyLineLen = dlyDays + 31*dlyGroup
)

// ghcnMissing is a missing value, in the unit of the file.
const ghcnMissing = -9999

// ghcnElements are the codes that are read of both forms of GHCN-Daily.
var ghcnElements = map[string]element{"TMIN": lowest, "TMAX": highest, "PRCP": rain}

func (rd *reader) dlyLine(b []byte) {
	if len(b) < dlyDays || string(b[:11]) != rd.rec.Station && !looksDly(b) {
		rd.bad("no .dly line: %q", clip(b))
		return
	}
	year, okYear := digits(b[11:15])
	month, okMonth := digits(b[15:17])
	if !okYear || !okMonth || !validDay(year, month, 1) || !isElement(b[17:21]) {
		rd.bad("no month and element: %q", b[11:21])
		return
	}
	b, ok := rd.wholeDlyLine(b, monthDays(year, month))
	if !ok || !rd.sameStation(b[:11]) {
		return
	}
	if k, read := ghcnElements[string(b[17:21])]; read {
		rd.dlyMonth(b, k, year, month)
	} else {
		rd.good++
	}
}

// wholeDlyLine brings a line to its 269 columns: blanks cut off at the end by
// an editor are put back. A line that ends within a value or has a 32nd day is
// bad.
func (rd *reader) wholeDlyLine(b []byte, days int) ([]byte, bool) {
	if len(b) == dlyLineLen {
		return b, true
	}
	whole := len(b)
	if b = bytes.TrimRight(b, " "); len(b) > dlyLineLen {
		rd.bad("a month of %d days: %d characters where 31 days take %d", (len(b)-dlyDays+dlyGroup-1)/dlyGroup, whole, dlyLineLen)
		return nil, false
	}
	// The value of the month's last day must be there; its flags may be blank.
	if len(b) < dlyDays+(days-1)*dlyGroup+5 {
		rd.bad("cut short: %d characters of %d", whole, dlyLineLen)
		return nil, false
	}
	return append(bytes.Clone(b), bytes.Repeat([]byte{' '}, dlyLineLen-len(b))...), true
}

// dlyMonth takes the values of a whole line: all of them or, where one cannot
// be read or stands on a day that the month does not have, none.
func (rd *reader) dlyMonth(b []byte, k element, year, month int) {
	values, days := rd.memo.month(b[dlyDays:]), monthDays(year, month)
	text := func(day int) []byte { return b[dlyDays+day*dlyGroup:][:5] }
	if i := slices.Index(values[:], unreadable); i >= 0 {
		rd.bad("no value for day %d of %d-%02d: %q", i+1, year, month, text(i))
		return
	}
	for i := days; i < len(values); i++ {
		if values[i] != NoTemp {
			rd.bad("a value for day %d of %d-%02d, which has no such day: %q", i+1, year, month, text(i))
			return
		}
	}
	rd.good++
	y, first := rd.rec.openYear(year), slotOf(month, 1)
	if y.seen[first]&(1<<k) != 0 {
		rd.rec.Problems.repeated(rd.line, fmt.Sprintf("%s of %d-%02d", b[17:21], year, month))
		return
	}
	y.seen[first] |= 1 << k
	if odd := rd.keepMonth(y.of[k][first:][:days], values[:days], k); len(odd) > 0 {
		rd.rec.Problems.impossible(rd.line, len(odd), fmt.Sprintf("%s %s on day %d, in tenths,", b[17:21], text(odd[0]), odd[0]+1))
	}
}

// keepMonth keeps what can be kept of a month, and tells the days, from 0, of which
// the value is none on this earth.
func (rd *reader) keepMonth(to, values []Temp, k element) (odd []int) {
	least, most := bounds[k][0], bounds[k][1]
	for i, v := range values {
		switch {
		case least <= v && v <= most:
			to[i] = v
		case v == flagged:
			rd.rec.Problems.Flagged++
		case v != NoTemp:
			odd = append(odd, i)
		}
	}
	return odd
}

func (m *memo) month(groups []byte) (values [31]Temp) {
	// What decides a value is the number, lowest byte first, and the quality flag.
	const mask = 0x00ff_00ff_ffff_ffff
	groups = groups[:31*dlyGroup]
	for i := range values {
		group := binary.LittleEndian.Uint64(groups[i*dlyGroup:]) & mask
		known := m.of(group)
		if known.group != group {
			text := groups[i*dlyGroup:][:dlyGroup]
			known.group, known.value = group, ghcnValue(text[:5], text[6] != ' ')
		}
		values[i] = known.value
	}
	return values
}

// ghcnValue reads a number that is right-aligned, in tenths of a degree C or of a
// millimetre. Blanks alone are a missing value.
func ghcnValue(text []byte, failed bool) Temp {
	number := bytes.TrimLeft(text, " ")
	n, ok := parseDecimal(number, 0)
	switch {
	case len(number) == 0 || ok && n == ghcnMissing:
		return NoTemp
	case !ok || number[0] == '+' || bytes.IndexByte(number, '.') >= 0:
		return unreadable
	case failed:
		return flagged
	}
	return Temp(n) * 100
}

// byStationLine takes one day of one element: id, YYYYMMDD, element, value,
// measurement flag, quality flag, source flag and, in later years, the hour of
// observation. Units and codes are those of .dly (NOAA, readme-by_station).
func (rd *reader) byStationLine(b []byte) {
	if !isByStationRow(b) {
		if !isByStationHeader(b) {
			rd.bad("no row of GHCN-Daily by station: %q", clip(b))
		}
		return
	}
	year, slot, ok := rd.plainDate(b[12:20])
	if !ok {
		return
	}
	fields := bytes.Split(b[26:], []byte{','})
	if len(fields) < 4 {
		rd.bad("cut short: %q", clip(b))
		return
	}
	if !rd.sameStation(b[:11]) {
		return
	}
	if k, read := ghcnElements[string(b[21:25])]; read {
		rd.byStationValue(b, fields, k, year, slot)
	} else {
		rd.good++
	}
}

// byStationValue puts one value into the record, unless there was one for that
// day and element before.
func (rd *reader) byStationValue(b []byte, fields [][]byte, k element, year, slot int) {
	v := ghcnValue(fields[0], len(bytes.TrimSpace(fields[2])) > 0)
	if len(fields[0]) == 0 || len(fields[0]) > 5 || v == unreadable {
		rd.bad("no value: %q", clip(fields[0]))
		return
	}
	rd.good++
	p, y := &rd.rec.Problems, rd.rec.openYear(year)
	if y.seen[slot]&(1<<k) != 0 {
		p.repeated(rd.line, string(b[21:25])+" of "+dateAt(year, slot).String())
		return
	}
	y.seen[slot] |= 1 << k
	if odd := rd.keepMonth(y.of[k][slot:][:1], []Temp{v}, k); len(odd) > 0 {
		p.impossible(rd.line, 1, fmt.Sprintf("%s %s, in tenths,", b[21:25], fields[0]))
	}
}
