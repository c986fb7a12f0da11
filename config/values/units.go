package values

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"stubbled/scheduler/herd"
	"stubbled/scheduler/spell"
)

// A measure is one kind of quantity: the units that may be written and what
// each is in the unit used inside.
type measure struct {
	want  string // what to write, with an example
	inner string // the unit used inside, as in a range
	units map[string]float64
}

// Conversions: 1 in is 2.54 cm exactly; 1 acre is 0.40468564 ha and 1 lb is
// 0.45359237 kg (NIST SP 811, from memory; USDA Forest Service gives 0.4047 and
// 0.4536).
const (
	cmInInch   = 2.54
	haInAcre   = 0.40468564
	kgInPound  = 0.45359237
	inchesFoot = 12
)

var (
	lengths = measure{`a length such as "8in" or "20 cm"`, "in", map[string]float64{
		"in": 1, "inch": 1, "inches": 1, `"`: 1, "″": 1,
		"cm": 1 / cmInInch, "centimetre": 1 / cmInInch, "centimetres": 1 / cmInInch, "centimeter": 1 / cmInInch, "centimeters": 1 / cmInInch,
		"ft": inchesFoot, "foot": inchesFoot, "feet": inchesFoot,
	}}
	areas = measure{`an area such as "22 acres" or "9 ha"`, "acres", map[string]float64{
		"acre": 1, "acres": 1, "ac": 1,
		"ha": 1 / haInAcre, "hectare": 1 / haInAcre, "hectares": 1 / haInAcre,
	}}
	dayCounts = measure{`a number of days such as "45 days"`, "days", map[string]float64{
		"d": 1, "day": 1, "days": 1, "wk": 7, "week": 7, "weeks": 7,
	}}
	weights = measure{`a weight such as "1300 lb" or "590 kg"`, "lb", map[string]float64{
		"lb": 1, "lbs": 1, "pound": 1, "pounds": 1,
		"kg": 1 / kgInPound, "kilogram": 1 / kgInPound, "kilograms": 1 / kgInPound,
	}}
	percents = measure{`a percentage such as "80%"`, "%", map[string]float64{
		"%": 1, "percent": 1, "per cent": 1,
	}}
	spans = measure{`a span of time such as "20 s", "15 min" or "4 hours"`, "s", map[string]float64{
		"s": 1, "sec": 1, "second": 1, "seconds": 1,
		"min": 60, "minute": 60, "minutes": 60,
		"h": 3600, "hour": 3600, "hours": 3600, "d": 86400, "day": 86400, "days": 86400,
	}}
	texts = measure{`a number of texts such as "3 texts"`, "texts", map[string]float64{
		"text": 1, "texts": 1, "texts a day": 1, "texts per day": 1,
	}}
	bales = measure{`a number of bales such as "60 bales"`, "bales", map[string]float64{"bale": 1, "bales": 1}}
)

// quantity is a plain number of at most nine digits, then a unit.
var quantity = regexp.MustCompile(`^([+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?) *([^0-9\s.+-][^0-9\r\n]*)$`)

// bareNumber is the same without its unit.
var bareNumber = regexp.MustCompile(`^[+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?$`)

// in reads a quantity with its unit and gives it in the unit used inside. A
// bare number, an unknown unit and a value outside lo to hi are errors that
// say what to write.
func (m measure) in(lo, hi float64) func(string) (float64, error) {
	return func(text string) (float64, error) {
		number, unit, factor := m.parts(text)
		n, err := strconv.ParseFloat(number, 64)
		if err != nil || factor == 0 {
			return 0, fmt.Errorf("want %s, got %q%s", m.want, Clip(text), DidYouMean(m.meant(number, unit)))
		}
		v := n * factor
		if v < lo || v > hi {
			return 0, fmt.Errorf("want %g to %s %s, got %q", lo, strconv.FormatFloat(hi, 'f', -1, 64), m.inner, Clip(text))
		}
		return v, nil
	}
}

// parts are the number and the unit as they were typed, and what one of that unit
// is inside; 0 where it is unknown.
func (m measure) parts(text string) (number, unit string, factor float64) {
	text = strings.TrimSpace(text)
	if part := quantity.FindStringSubmatch(text); part != nil {
		number, unit = part[1], strings.ToLower(strings.TrimSpace(part[2]))
		return number, unit, m.units[unit]
	}
	if bareNumber.MatchString(text) {
		number = text
	}
	return number, "", 0
}

// meant is a number with the unit that was likely meant: a near one, or where none
// was typed the one that is usual. A bare length, share or span may be of any.
func (m measure) meant(number, unit string) string {
	if unit != "" {
		unit = Nearest(unit, slices.Sorted(maps.Keys(m.units)))
	} else if slices.Contains([]string{"days", "acres", "lb", "texts", "bales"}, m.inner) {
		unit = m.inner
	}
	if number == "" || unit == "" {
		return ""
	}
	return number + " " + unit
}

// whole is in, for what is counted in whole numbers.
func (m measure) whole(lo, hi int) func(string) (int, error) {
	parse := m.in(float64(lo), float64(hi))
	return func(text string) (int, error) {
		v, err := parse(text)
		if err != nil {
			return 0, err
		}
		if v != float64(int(v)) {
			return 0, fmt.Errorf("want a whole number of %s, got %q", m.inner, Clip(text))
		}
		return int(v), nil
	}
}

// span reads a span of time from lo to hi.
func span(lo, hi time.Duration) func(string) (time.Duration, error) {
	parse := spans.in(0, 1e9)
	return func(text string) (time.Duration, error) {
		v, err := parse(text)
		if err != nil {
			return 0, err
		}
		d := time.Duration(v * float64(time.Second))
		if d < lo || d > hi {
			return 0, fmt.Errorf("want %s to %s, got %q", InWords(lo), InWords(hi), Clip(text))
		}
		return d, nil
	}
}

// share reads a percentage and gives it as 0-1.
func share(lo, hi float64) func(string) (float64, error) {
	parse := percents.in(lo, hi)
	return func(text string) (float64, error) {
		v, err := parse(text)
		return v / 100, err
	}
}

// InWords is a span as one would write it in the farm file.
func InWords(d time.Duration) string {
	switch {
	case d >= 48*time.Hour && d%(24*time.Hour) == 0:
		return fmt.Sprintf("%d days", d/(24*time.Hour))
	case d >= time.Hour && d%time.Hour == 0:
		return fmt.Sprintf("%d h", d/time.Hour)
	case d >= time.Minute && d%time.Minute == 0:
		return fmt.Sprintf("%d min", d/time.Minute)
	}
	return fmt.Sprintf("%g s", d.Seconds())
}

// Clip keeps what is quoted back short.
func Clip(text string) string { return spell.Clip(text, 60) }

// wholeIn reads a whole number without a unit, between two bounds.
func wholeIn(lo, hi int) func(string) (int, error) {
	return func(text string) (int, error) {
		n, err := strconv.Atoi(text)
		if err != nil || n < lo || n > hi {
			return 0, fmt.Errorf("want %d to %d, got %q", lo, hi, Clip(text))
		}
		return n, nil
	}
}

var count = regexp.MustCompile(`^[0-9]{1,9}$`)

// IsCount reports whether a text is a whole number without a unit.
func IsCount(text string) bool { return count.MatchString(text) }

// baleSize is a round bale by its width and height in ft.
var baleSize = regexp.MustCompile(`^([3-6])(?: *ft)? *[xX] *([3-6])(?: *ft)?$`)

// parseBale reads what a bale weighs, lb, or its size.
func parseBale(text string) (float64, error) {
	if size := baleSize.FindStringSubmatch(strings.TrimSpace(text)); size != nil {
		return math.Round(herd.BaleLb(float64(size[1][0]-'0'), float64(size[2][0]-'0'))), nil
	}
	m := weights
	m.want += `, or a bale's width and height in ft such as "5x6"`
	return m.in(herd.MinWeightLb, herd.MaxWeightLb)(text)
}
