package frost

import (
	"bytes"
	"fmt"
)

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
	if rd.sameStation(b[:11]) {
		rd.byStationValue(b, fields, year, slot)
	}
}

// byStationValue puts one value into the record, unless there was one for that
// day and element before.
func (rd *reader) byStationValue(b []byte, fields [][]byte, year, slot int) {
	kind := elements[string(b[21:25])]
	if kind == 0 {
		rd.good++
		return
	}
	group := rd.dly.line[:dlyGroup]
	if len(fields[0]) == 0 || len(fields[0]) > 5 {
		rd.bad("no value: %q", clip(fields[0]))
		return
	}
	copy(group, "        ")
	copy(group[5-len(fields[0]):], fields[0])
	if len(bytes.TrimSpace(fields[2])) > 0 {
		group[6] = 'X'
	}
	v := readDlyValue(group, kind)
	if v.state == valueUnreadable {
		rd.bad("no value: %q", clip(fields[0]))
		return
	}
	rd.good++
	p, y := &rd.rec.Problems, rd.rec.openYear(year)
	if y.seen[slot]&kind != 0 {
		p.repeated(rd.line, string(b[21:25])+" of "+dateAt(year, slot).String())
		return
	}
	y.seen[slot] |= kind
	switch v.state {
	case valueFine:
		rd.rec.setRun(kind, year, slot, []Temp{v.thousandths})
	case valueFlagged:
		p.Flagged++
	case valueImpossible:
		p.impossible(rd.line, 1, fmt.Sprintf("%s %s, in tenths,", b[21:25], fields[0]))
	}
}
