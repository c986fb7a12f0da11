package frost

import "fmt"

// element is one of the values that are kept of a day. All are whole thousandths,
// of a degree C or, though the type says Temp, of a millimetre of rain.
type element int

const (
	lowest element = iota
	highest
	rain
	elements
)

var elementNames = [elements]string{"minimum", "maximum", "rain"}

// What stands for a number where there is none to keep, beside NoTemp.
const (
	unreadable = NoTemp + 1 + iota
	flagged    // failed the station's own quality check
)

// bounds are the least and the most that is taken for a real value.
var bounds = [elements][2]Temp{{coldest, warmest}, {coldest, warmest}, {0, Temp(mostRain)}}

// can says whether v can be a day's value on this earth.
func (k element) can(v Temp) bool { return bounds[k][0] <= v && v <= bounds[k][1] }

// dayRow is what one line says of one day.
type dayRow struct {
	year, slot int
	of         [elements]Temp
}

// keep puts a value where it belongs if it can be one; when is said of it where it
// cannot.
func (rd *reader) keep(to *Temp, k element, v Temp, when string) {
	if v == NoTemp || k.can(v) {
		*to = v
		return
	}
	*to = NoTemp
	value := v.String()
	if k == rain {
		value = fmt.Sprintf("%g mm", Rain(v).MM())
	}
	rd.rec.Problems.impossible(rd.line, 1, elementNames[k]+when+" "+value)
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
	y.seen[row.slot] = 1
	for k, v := range row.of {
		y.of[k][row.slot] = v
	}
	if low, high := row.of[lowest], row.of[highest]; low != NoTemp && high != NoTemp {
		rd.both++
		if low > high {
			rd.inverse++
		}
	}
}

// A memo remembers values that were read before. A station has a few hundred
// different ones in all its years, and to know one again is several times as fast
// as to read it. It is a plain table: two with one place push each other out.
type memo [1 << memoBits]remembered

type remembered struct {
	group uint64 // the characters, and what else decides the value; 0 in an empty place
	value Temp
}

const (
	memoBits = 12
	// memoSpread is a multiplier of MurmurHash3 (fmix64); with it the values of a
	// station seldom share a place.
	memoSpread = 0xff51_afd7_ed55_8ccd
)

// of is the place of a group.
func (m *memo) of(group uint64) *remembered { return &m[group*memoSpread>>(64-memoBits)] }
