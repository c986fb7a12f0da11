package frost

import (
	"bytes"
	"encoding/binary"
)

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
