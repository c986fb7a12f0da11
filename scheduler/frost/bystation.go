package frost

import "bytes"

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
	year, _ := digits(b[12:16])
	month, _ := digits(b[16:18])
	day, _ := digits(b[18:20])
	if !validDay(year, month, day) {
		rd.bad("no date %q", b[12:20])
		return
	}
	fields := bytes.Split(b[26:], []byte{','})
	if len(fields) < 4 {
		rd.bad("cut short: %q", clip(b))
		return
	}
	n, ok := parseDecimal(fields[0], 0)
	if !ok {
		rd.bad("no value: %q", clip(fields[0]))
		return
	}
	if rd.sameStation(b[:11]) {
		rd.byStationValue(b, year, slotOf(month, day), int32(n), len(bytes.TrimSpace(fields[2])) > 0)
	}
}

// byStationValue puts one value into the record, unless there was one for that
// day and element before.
func (rd *reader) byStationValue(b []byte, year, slot int, value int32, flagged bool) {
	rd.good++
	var kind element
	switch string(b[21:25]) {
	case "TMIN":
		kind = elementMin
	case "TMAX":
		kind = elementMax
	case "PRCP":
		kind = elementRain
	default:
		return
	}
	y := rd.rec.openYear(year)
	if y.seen[slot]&kind != 0 {
		rd.rec.Problems.repeated(rd.line, string(b[21:25])+" of "+dateAt(year, slot).String())
		return
	}
	y.seen[slot] |= kind
	if flagged && value != dlyMissing {
		rd.rec.Problems.Flagged++
		return
	}
	rd.store(y, kind, slot, []int32{value})
}
