package frost

import (
	"bytes"
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
