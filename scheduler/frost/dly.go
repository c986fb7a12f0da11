package frost

import (
	"bytes"
	"encoding/binary"
	"fmt"
)

// The columns of a .dly line, from 0: id 0-10, year 11-14, month 15-16, element
// 17-20, then 31 groups of value (5), measurement flag, quality flag, source
// flag (NOAA, readme of GHCN-Daily 3.26, section III).
const (
	dlyDays    = 21
	dlyGroup   = 8
	dlyLineLen = dlyDays + 31*dlyGroup
)

// dlyReader is what reading .dly needs besides.
type dlyReader struct {
	line  [dlyLineLen]byte // a line whose blanks at the end were cut off
	month dlyMonth
}

// dlyLine takes one month of one element.
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
	if kind := elements[string(b[17:21])]; kind != 0 {
		rd.dlyMonth(b, kind, year, month)
	} else {
		rd.good++
	}
}

// elements are the codes that are read of both forms of GHCN-Daily.
var elements = map[string]element{"TMIN": elementMin, "TMAX": elementMax, "PRCP": elementRain}

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
	line := &rd.dly.line
	for n := copy(line[:], b); n < dlyLineLen; n++ {
		line[n] = ' '
	}
	return line[:], true
}

// dlyMonth takes the values of a whole line: all of them or, where one cannot
// be read or stands on a day that the month does not have, none.
func (rd *reader) dlyMonth(b []byte, kind element, year, month int) {
	m := &rd.dly.month
	rd.memo.read(b[dlyDays:], kind, m)
	days := monthDays(year, month)
	if i := m.unreadable; i >= 0 {
		rd.bad("no value for day %d of %d-%02d: %q", i+1, year, month, b[dlyDays+i*dlyGroup:][:5])
		return
	}
	for i := days; i < 31; i++ {
		if value := b[dlyDays+i*dlyGroup:][:5]; m.thousandths[i] != NoTemp {
			rd.bad("a value for day %d of %d-%02d, which has no such day: %q", i+1, year, month, value)
			return
		}
	}
	rd.good++
	y, first := rd.rec.openYear(year), slotOf(month, 1)
	if y.seen[first]&kind != 0 {
		rd.rec.Problems.repeated(rd.line, fmt.Sprintf("%s of %d-%02d", b[17:21], year, month))
		return
	}
	y.seen[first] |= kind
	rd.rec.setRun(kind, year, first, m.thousandths[:days])
	p := &rd.rec.Problems
	p.Flagged += m.flagged
	if m.impossible > 0 {
		p.impossible(rd.line, m.impossible, fmt.Sprintf("%s %s on day %d, in tenths,", b[17:21], b[dlyDays+m.odd*dlyGroup:][:5], m.odd+1))
	}
}

// setRun puts a run of days into a year that the record has opened.
func (r *Record) setRun(kind element, year, first int, thousandths []Temp) {
	switch y := r.year(year); kind {
	case elementMin:
		copy(y.min[first:], thousandths)
	case elementMax:
		copy(y.max[first:], thousandths)
	case elementRain:
		for i, v := range thousandths {
			y.rain[first+i] = max(NoRain, Rain(v)) // NoTemp is far below
		}
	}
}

// dlyMissing is a missing value, in the unit of the file.
const dlyMissing = -9999

// dlyValue is one value of a .dly line in thousandths, of a degree C or, though
// the type says Temp, of a millimetre of rain, and what is the matter with it.
type dlyValue struct {
	thousandths Temp // NoTemp where the value is missing or flagged
	state       valueState
}

type valueState byte

const (
	valueFine       valueState = iota
	valueFlagged               // failed its quality check
	valueImpossible            // beyond any on earth
	valueUnreadable
)

// readDlyValue reads one group: five characters for a number, right-aligned,
// then the flags. Five blanks are a missing value. A letter as quality flag
// (the second flag) means that the value failed a check.
func readDlyValue(group []byte, kind element) dlyValue {
	number := bytes.TrimLeft(group[:5], " ")
	n, ok := parseDecimal(number, 0)
	switch {
	case len(number) == 0 || ok && n == dlyMissing:
		return dlyValue{thousandths: NoTemp}
	case !ok || number[0] == '+' || bytes.IndexByte(number, '.') >= 0:
		return dlyValue{NoTemp, valueUnreadable}
	case group[6] != ' ':
		return dlyValue{NoTemp, valueFlagged}
	}
	v := Temp(n) * 100
	if kind == elementRain && (v < 0 || v > Temp(mostRain)) || kind != elementRain && !v.plausible() {
		return dlyValue{v, valueImpossible}
	}
	return dlyValue{thousandths: v}
}

// A memo remembers values that were read before and were fine. A
// station has a few hundred different ones in all its years, and to know one
// again is several times as fast as to read it. It is a plain table: two with one
// place push each other out.
type memo [1 << memoBits]remembered

type remembered struct {
	group uint64 // the characters, and whether they are rain; 0 in an empty place
	value Temp   // of rain too
}

// of is the place of a group.
func (m *memo) of(group uint64) *remembered { return &m[group*memoSpread>>(64-memoBits)] }

const (
	memoBits = 12
	// memoMask keeps of a group what decides the value: the number, lowest byte
	// first, and the quality flag.
	memoMask = 0x00ff_00ff_ffff_ffff
	// memoSpread is a multiplier of MurmurHash3 (fmix64); with it the values of a
	// station seldom share a place.
	memoSpread = 0xff51_afd7_ed55_8ccd
)

// dlyMonth is what a line says of each day, and of how many it says nothing.
type dlyMonth struct {
	thousandths         [31]Temp // NoTemp where there is no usable value
	flagged, impossible int
	odd                 int // the first day, from 0, with an impossible value
	unreadable          int // the first that cannot be read, -1 where all can
}

// read takes the 31 groups of a line.
func (m *memo) read(groups []byte, kind element, month *dlyMonth) {
	month.flagged, month.impossible, month.unreadable = 0, 0, -1
	groups = groups[:31*dlyGroup]
	of := uint64(kind&elementRain) << 56
	for i := range month.thousandths {
		group := binary.LittleEndian.Uint64(groups[i*dlyGroup:])&memoMask | of
		known := m.of(group)
		if known.group != group {
			v := readDlyValue(groups[i*dlyGroup:][:dlyGroup], kind)
			if v.state != valueFine {
				month.note(i, v.state)
				month.thousandths[i] = NoTemp
				continue
			}
			known.group, known.value = group, v.thousandths
		}
		month.thousandths[i] = known.value
	}
}

// note counts a day whose value is not fine.
func (month *dlyMonth) note(day int, state valueState) {
	switch state {
	case valueFlagged:
		month.flagged++
	case valueImpossible:
		if month.impossible == 0 {
			month.odd = day
		}
		month.impossible++
	case valueUnreadable:
		if month.unreadable < 0 {
			month.unreadable = day
		}
	}
}
