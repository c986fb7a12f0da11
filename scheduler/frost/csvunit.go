package frost

import (
	"fmt"
	"slices"
)

// sayUnits is the mend where nothing tells a unit.
const sayUnits = "say it with --units C, F or tenths (of a degree C), or as units: in the frost section of the farm file"

// rainUnit is what the rain of a CSV is in.
type rainUnit byte

const (
	millimetres rainUnit = iota
	inches
	tenthsMM
)

// rain makes an amount of a number of ten-thousandths.
func (u rainUnit) rain(n int64) Rain {
	switch u {
	case inches:
		n = divRound(n*254, 100)
	case tenthsMM:
		n = divRound(n, 100)
	default:
		n = divRound(n, 10)
	}
	return Rain(max(-1, min(n, int64(mostRain)+1)))
}

// rain is the unit of the rain that goes with temperatures in u (NOAA NCEI,
// GHCN-Daily documentation of the CSV form: metric, standard, or tenths).
func (u Unit) rain() rainUnit {
	return map[Unit]rainUnit{Fahrenheit: inches, TenthsC: tenthsMM}[u]
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
	if rd.csv == nil || rd.csv.unit != UnitUnknown {
		return nil
	}
	var july []Temp
	for _, y := range rd.rec.years {
		if y != nil {
			july = slices.AppendSeq(july, known(y.max[jul1:jul31+1]))
		}
	}
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

// known are the values that are there.
func known(all []Temp) func(func(Temp) bool) {
	return func(yield func(Temp) bool) {
		for _, t := range all {
			if t != NoTemp && !yield(t) {
				return
			}
		}
	}
}

// inUnit makes temperatures and rain of the numbers that were read, and leaves
// out what can be neither.
func (rd *reader) inUnit(unit Unit) {
	for i, y := range rd.rec.years {
		if y == nil {
			continue
		}
		for s := range slots {
			temp := func(to *Temp, what string) {
				if n := *to; n != NoTemp {
					*to = NoTemp
					rd.line = 0 // the line is long gone
					rd.setTemp(to, unit.temp(int64(n)*10), what+" of "+dateAt(firstYear+i, s).String())
				}
			}
			temp(&y.min[s], "minimum")
			temp(&y.max[s], "maximum")
			if n := y.rain[s]; n != NoRain {
				y.rain[s] = NoRain
				rd.setRain(&y.rain[s], unit.rain().rain(int64(n)*10))
			}
		}
	}
}
