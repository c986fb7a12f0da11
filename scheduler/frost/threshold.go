package frost

import (
	"fmt"
	"strings"
)

// Threshold is a temperature at or below which a day counts as a frost. The
// zero value is 0 C without a name; make one with ParseThreshold.
type Threshold struct {
	text  string
	limit Temp
}

// The three thresholds of the trade: frost 36 F, freeze 32 F, hard or killing
// freeze 28 F (K-State Agronomy eUpdate; NWS Jackson KY and Louisville; NWS
// Kansas City, Autumn 2009 Frost/Freeze Information).
var (
	Frost36F         = mustThreshold("36F")
	Freeze32F        = mustThreshold("32F")
	KillingFreeze28F = mustThreshold("28F")
)

// ParseThreshold reads a threshold such as `32F`, `28 F`, `0C` or `-2.2C`.
//
// Stations measure in tenths of a degree C, where 28 F (-2.22 C) stands as
// -2.2 C, so a threshold in F reaches up to the nearest tenth of a degree C.
// Whole degrees F, kept or typed as such, are met exactly.
func ParseThreshold(text string) (Threshold, error) {
	n, unit, err := splitUnit(text)
	if err != nil {
		return Threshold{}, fmt.Errorf("threshold: %w", err)
	}
	limit := unit.temp(n)
	if unit == Fahrenheit {
		tenth := Temp(divRound(n-320_000, 1800) * 100)
		limit = max(limit, tenth)
	}
	if limit < -40_000 || limit > 10_000 {
		return Threshold{}, fmt.Errorf("threshold %q is no frost; want one from -40F to 50F such as 32F", text)
	}
	number := strings.TrimRight(strings.TrimSpace(text), "CcFf °")
	return Threshold{text: strings.TrimPrefix(number, "+") + unit.String(), limit: limit}, nil
}

func mustThreshold(text string) Threshold {
	th, err := ParseThreshold(text)
	if err != nil {
		panic(err)
	}
	return th
}

// Reached says whether a day with this minimum is a frost. A missing minimum
// is none.
func (th Threshold) Reached(min Temp) bool { return min <= th.limit && min != NoTemp }

// IsZero says whether no threshold was given.
func (th Threshold) IsZero() bool { return th.text == "" }

// Colder says whether th asks for a colder night than other.
func (th Threshold) Colder(other Threshold) bool { return th.limit < other.limit }

// String is the threshold as it was written, without blanks: `32F`.
func (th Threshold) String() string {
	if th.text == "" {
		return "0C"
	}
	return th.text
}
