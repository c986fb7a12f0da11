package frost

import (
	"fmt"
	"slices"
	"strings"
)

// sayUnits is the mend where nothing tells a unit.
const sayUnits = "say it with --units C, F or tenths (of a degree C), or as units: in the frost section of the farm file"

// units finds out the units that the header or its reader says.
func (l *csvLayout) units(names []string, given Unit) error {
	low, high := names[l.at[lowest]], ""
	l.unit[lowest] = unitOf(low, given)
	l.unit[highest] = l.unit[lowest]
	if at := l.at[highest]; at >= 0 {
		high = names[at]
		if u := unitOf(high, given); u != l.unit[lowest] && u != UnitUnknown {
			return fmt.Errorf("columns %q and %q are not in the same unit; keep one unit a file", low, high)
		}
	} else if l.unit[lowest] == UnitUnknown {
		return fmt.Errorf("column %q does not say its unit, and there is no maximum to tell it by; %s", low, sayUnits)
	}
	l.unit[rain] = Celsius
	if at := l.at[rain]; at >= 0 && strings.HasSuffix(strings.ToLower(names[at]), "_in") {
		l.unit[rain] = Fahrenheit
	} else if at >= 0 && strings.EqualFold(names[at], "prcp") {
		l.unit[rain] = l.unit[lowest]
	}
	return nil
}

// unitOf is the unit that a column's name ends in, else the given one.
func unitOf(name string, given Unit) Unit {
	if given != UnitUnknown {
		return given
	}
	switch lower := strings.ToLower(name); {
	case strings.HasSuffix(lower, "_c"):
		return Celsius
	case strings.HasSuffix(lower, "_f"):
		return Fahrenheit
	}
	return UnitUnknown
}

// in makes a value of a number of ten-thousandths; the number itself where nobody
// knows the unit. Rain is in millimetres beside degrees C, in inches beside F and in
// tenths beside tenths (NOAA NCEI, GHCN-Daily documentation of the CSV form: metric,
// standard, or tenths).
func (k element) in(u Unit, n int64) Temp {
	if k != rain {
		return u.temp(n)
	}
	switch u {
	case Fahrenheit:
		n = divRound(n*254, 100)
	case TenthsC:
		n = divRound(n, 100)
	default:
		n = divRound(n, 10)
	}
	return Temp(max(-1, min(n, int64(mostRain)+1)))
}

// The median July maximum, in thousandths of the unit, that tells it: no month
// of this earth is warmer than 50 C on the median day, nor colder in July, where
// anybody grazes, than 50 F or 13.0 C.
const (
	underIsC Temp = 50_000
	overIsTC Temp = 130_000
)

// The days of July, by slot.
const jul1, jul31 = 182, 212

// tellUnit finds the unit out by the values, where nobody said it, and makes
// temperatures and rain of the numbers.
func (rd *reader) tellUnit() error {
	if rd.csv == nil || rd.csv.unit[lowest] != UnitUnknown {
		return nil
	}
	var july []Temp
	for _, y := range rd.rec.years {
		if y != nil {
			july = append(july, y.of[highest][jul1:jul31+1]...)
		}
	}
	july = slices.DeleteFunc(july, func(t Temp) bool { return t == NoTemp })
	if len(july) == 0 {
		return fmt.Errorf("%s: nothing tells whether it is in degrees C, F or tenths of C: it has no July maximum; %s", rd.rec.Name, sayUnits)
	}
	slices.Sort(july)
	median, unit, words := july[len(july)/2], TenthsC, "tenths of a degree C"
	switch {
	case median < underIsC:
		unit, words = Celsius, "degrees C"
	case median <= overIsTC:
		unit, words = Fahrenheit, "degrees F"
	}
	rd.rec.Units = fmt.Sprintf("taken for %s by its median July maximum, %g", words, float64(median)/1000)
	rd.inUnit(unit)
	return nil
}

// inUnit makes temperatures and rain of the numbers that were read, and leaves
// out what can be neither.
func (rd *reader) inUnit(unit Unit) {
	rd.line = 0 // the lines are long gone
	for i, y := range rd.rec.years {
		if y == nil {
			continue
		}
		for slot := range slots {
			for k := range elements {
				if to := &y.of[k][slot]; *to != NoTemp && rd.csv.unit[k] == UnitUnknown {
					rd.keep(to, k, k.in(unit, int64(*to)*10), " of "+dateAt(firstYear+i, slot).String())
				}
			}
		}
	}
}
