package frost

import (
	"fmt"
	"math"
	"strings"
)

// Temp is a temperature in thousandths of a degree C. [NoTemp] stands for a
// value that is missing or failed its quality check.
type Temp int32

// NoTemp is the missing temperature. It compares as colder than everything, so
// ask Known first.
const NoTemp Temp = math.MinInt32

// The coldest and the warmest temperature taken for a real one. The records of
// the world are -89.2 C (Vostok, 1983) and 56.7 C (Greenland Ranch, 1913), WMO
// World Weather and Climate Extremes Archive; the rest is margin.
const (
	coldest Temp = -95_000
	warmest Temp = 65_000
)

// FromC is the temperature nearest to c degrees C.
func FromC(c float64) Temp {
	if math.IsNaN(c) || math.Abs(c) > 1000 {
		return NoTemp
	}
	return Temp(math.Round(c * 1000))
}

// divRound is n/d to the nearest whole number, halves away from zero; d > 0.
func divRound(n, d int64) int64 {
	if n < 0 {
		return -((-n + d/2) / d)
	}
	return (n + d/2) / d
}

// Known says whether t is a value at all.
func (t Temp) Known() bool { return t != NoTemp }

// C is t in degrees C, NaN where it is missing.
func (t Temp) C() float64 {
	if t == NoTemp {
		return math.NaN()
	}
	return float64(t) / 1000
}

// F is t in degrees F, NaN where it is missing.
func (t Temp) F() float64 {
	if t == NoTemp {
		return math.NaN()
	}
	return float64(t)*9/5000 + 32
}

// String is t in degrees C as `-2.2 C`, or `missing`.
func (t Temp) String() string {
	if t == NoTemp {
		return "missing"
	}
	text := fmt.Sprintf("%.3f", float64(t)/1000)
	if text = strings.TrimSuffix(strings.TrimRight(text, "0"), "."); !strings.Contains(text, ".") {
		text += ".0"
	}
	return text + " C"
}

// ParseTemp reads a temperature with its unit: `31F`, `-0.5 C`, `28 °F`. A bare
// number is refused, since 30 may be a hot day or a frost.
func ParseTemp(text string) (Temp, error) {
	number, unit, err := splitUnit(text)
	if err != nil {
		return NoTemp, err
	}
	t := unit.temp(number)
	if !lowest.can(t) {
		return NoTemp, fmt.Errorf("temperature %q is beyond any on record; check the unit", text)
	}
	return t, nil
}

// Unit is the unit of a temperature column or of a typed temperature.
type Unit byte

// The units that a record can be kept in.
const (
	UnitUnknown Unit = 0
	Celsius     Unit = 'C'
	Fahrenheit  Unit = 'F'
	// TenthsC is tenths of a degree C, as GHCN-Daily keeps them.
	TenthsC Unit = 't'
)

// ParseUnit reads C, F or tenths, in any case; nothing is UnitUnknown.
func ParseUnit(text string) (Unit, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "":
		return UnitUnknown, nil
	case "c":
		return Celsius, nil
	case "f":
		return Fahrenheit, nil
	case "tenths":
		return TenthsC, nil
	}
	return UnitUnknown, fmt.Errorf("want C, F or tenths (of a degree C), got %q", text)
}

// temp makes a temperature of a number of ten-thousandths of a degree.
func (u Unit) temp(tenThousandths int64) Temp {
	switch u {
	case Fahrenheit:
		above := tenThousandths - 320_000
		tenth := divRound(above, 1800) // a tenth of a degree C is 0.18 F
		if off := above - tenth*1800; -50 <= off && off <= 50 {
			return Temp(tenth * 100)
		}
		return Temp(divRound(above, 18))
	case TenthsC:
		return Temp(divRound(tenThousandths, 100))
	}
	return Temp(divRound(tenThousandths, 10))
}

// String is `C`, `F`, `tenths` or `unknown`.
func (u Unit) String() string {
	switch u {
	case UnitUnknown:
		return "unknown"
	case TenthsC:
		return "tenths"
	}
	return string(rune(u))
}

// splitUnit takes a typed temperature apart into ten-thousandths of a degree
// and the unit.
func splitUnit(text string) (int64, Unit, error) {
	bare := strings.TrimSpace(text)
	unit := UnitUnknown
	if n := len(bare); n > 0 {
		switch bare[n-1] {
		case 'F', 'f':
			unit = Fahrenheit
		case 'C', 'c':
			unit = Celsius
		}
	}
	if unit == UnitUnknown {
		return 0, unit, fmt.Errorf("temperature %q has no unit; write it as 32F or 0C", text)
	}
	bare = strings.TrimSpace(bare[:len(bare)-1])
	bare = strings.TrimSpace(strings.TrimSuffix(bare, "°"))
	n, ok := parseDecimal([]byte(bare), 4)
	if !ok {
		return 0, unit, fmt.Errorf("temperature %q is no number with a unit; write it as 32F or 0C", text)
	}
	return n, unit, nil
}

var tenTo = [...]int64{1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12}

// parseDecimal reads a plain decimal such as `-2.25` as a whole number of
// 10^-places, rounding what is finer to the nearest, halves away from zero. No
// exponent, no blanks, no thousands marks; at most six digits before the point
// and twelve behind it.
func parseDecimal(text []byte, places int) (int64, bool) {
	negative := false
	if len(text) > 0 && (text[0] == '-' || text[0] == '+') {
		negative = text[0] == '-'
		text = text[1:]
	}
	var n int64
	point := len(text)
	for i, c := range text {
		switch digit := c - '0'; {
		case digit <= 9:
			n = n*10 + int64(digit)
		case c == '.' && point == len(text):
			point = i
		default:
			return 0, false
		}
	}
	finer := len(text) - 1 - point
	if point > 6 || finer > 12 || len(text) == 0 || finer == 0 && point == 0 {
		return 0, false
	}
	if finer = max(finer, 0); finer <= places {
		n *= tenTo[places-finer]
	} else {
		n = divRound(n, tenTo[finer-places])
	}
	if negative {
		n = -n
	}
	return n, true
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }
