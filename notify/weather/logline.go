package weather

import (
	"encoding/csv"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A layout says where a log has its time and its temperature.
type layout struct {
	comma      rune
	day, clock int // columns; equal where one column holds both
	temp       int
	fahrenheit bool
	header     bool // the first line is one
}

var (
	dayWord   = regexp.MustCompile(`(?i)^(date|day|fecha|día|dia)$`)
	clockWord = regexp.MustCompile(`(?i)^(time|clock|hora)$`)
	bothWord  = regexp.MustCompile(`(?i)(time|date|fecha|hora|stamp)`)
	tempWord  = regexp.MustCompile(`(?i)(temp|°|deg ?[fc]\b|fahrenheit|celsius)`)
	airWord   = regexp.MustCompile(`(?i)\b(out|outside|outdoor|air|ambient|aire|exterior)`)
	unitF     = regexp.MustCompile(`(?i)(°\s*f|\bdeg ?f\b|[(\[_ \d]f[)\]]?$|fahrenheit)`)
	unitC     = regexp.MustCompile(`(?i)(°\s*c|\bdeg ?c\b|[(\[_ \d]c[)\]]?$|celsius|centigrade)`)
	notAir    = regexp.MustCompile(`(?i)(dew|wind ?chill|heat ?index|soil|water|indoor|inside|battery|feels)`)
)

// errPreamble is a line above the header, such as the logger's name.
var errPreamble = errors.New("no column of the header names a time")

// sniff finds the layout from the first line of a log; where it fails with
// errPreamble a later line may tell.
func sniff(first string, unit string, column string) (layout, error) {
	l := layout{comma: separator(first)}
	cells := split(first, l.comma)
	l.header = !slices.ContainsFunc(cells, isNumber)
	if !l.header {
		return headless(l, cells, unit)
	}
	if err := l.times(cells); err != nil {
		return l, err
	}
	return l, l.temperature(cells, unit, column)
}

func (l *layout) times(cells []string) error {
	l.day = slices.IndexFunc(cells, dayWord.MatchString)
	l.clock = slices.IndexFunc(cells, clockWord.MatchString)
	if l.day < 0 && l.clock < 0 {
		l.day = slices.IndexFunc(cells, bothWord.MatchString)
	}
	switch {
	case l.day < 0 && l.clock < 0:
		return fmt.Errorf("%w: %q", errPreamble, cells)
	case l.day < 0:
		l.day = l.clock
	case l.clock < 0:
		l.clock = l.day
	}
	return nil
}

func (l *layout) temperature(cells []string, unit string, column string) error {
	var at []int
	for i, c := range cells {
		named := column != "" && strings.EqualFold(c, column)
		if named || column == "" && tempWord.MatchString(c) && !notAir.MatchString(c) && i != l.day && i != l.clock {
			at = append(at, i)
		}
	}
	if air := slices.DeleteFunc(slices.Clone(at), func(i int) bool { return !airWord.MatchString(cells[i]) }); len(air) == 1 {
		at = air
	}
	switch {
	case len(at) == 0 && column != "":
		return fmt.Errorf("no column is called %q: %q", column, cells)
	case len(at) == 0:
		return fmt.Errorf("no column of the header names a temperature: %q; name the column in the farm file", cells)
	case len(at) > 1:
		return fmt.Errorf("several columns are temperatures: %q; name the one to take in the farm file", cells)
	}
	l.temp = at[0]
	return l.setUnit(unit, cells[l.temp])
}

func (l *layout) setUnit(unit string, head string) error {
	switch f, c := unitF.MatchString(head), unitC.MatchString(head); {
	case unit == "F":
		l.fahrenheit = true
	case unit == "C":
	case f == c:
		return fmt.Errorf("is %q in F or C? say it in the farm file", head)
	default:
		l.fahrenheit = f
	}
	return nil
}

// headless takes a log without a header to be time, temperature, or day, time
// of day, temperature.
func headless(l layout, cells []string, unit string) (layout, error) {
	l.temp = 1
	if len(cells) > 2 && !isNumber(cells[1]) {
		l.clock, l.temp = 1, 2
	}
	if len(cells) <= l.temp || !isNumber(cells[l.temp]) || !strings.ContainsAny(cells[0], "0123456789") {
		return l, fmt.Errorf("%w, and this is not time and temperature: %q", errPreamble, cells)
	}
	return l, l.setUnit(unit, cells[l.temp])
}

// separator is whichever of tab, semicolon and comma splits a line most; a
// comma may be a decimal one beside the others.
func separator(line string) rune {
	for _, r := range "\t;" {
		if strings.ContainsRune(line, r) {
			return r
		}
	}
	return ','
}

func split(line string, comma rune) []string {
	r := csv.NewReader(strings.NewReader(line))
	r.Comma, r.LazyQuotes, r.TrimLeadingSpace, r.FieldsPerRecord = comma, true, true, -1
	cells, err := r.Read()
	if err != nil {
		return nil
	}
	for i, c := range cells {
		cells[i] = strings.TrimSpace(c)
	}
	return cells
}

func isNumber(s string) bool {
	_, err := number(s)
	return err == nil
}

// number reads a temperature: a decimal point or comma, a unit behind it.
func number(s string) (float64, error) {
	s = strings.TrimSpace(strings.TrimRight(strings.TrimSpace(s), "°FCfc "))
	s = strings.Replace(strings.ReplaceAll(s, "−", "-"), ",", ".", 1)
	if s == "" || strings.ContainsAny(s, "xXpPnN_") { // hexadecimal, NaN, Inf
		return 0, errors.New("no number")
	}
	return strconv.ParseFloat(s, 64)
}

// parse reads one line.
func (l layout) parse(line string, at clock) (time.Time, float64, error) {
	cells := split(line, l.comma)
	if need := max(l.day, l.clock, l.temp); len(cells) <= need {
		return time.Time{}, 0, fmt.Errorf("%d cells, want %d", len(cells), need+1)
	}
	c, err := number(cells[l.temp])
	if err != nil {
		return time.Time{}, 0, fmt.Errorf("temperature %q: want a number", cells[l.temp])
	}
	if l.fahrenheit {
		c = fromF(c)
	}
	if !possible(c) {
		return time.Time{}, 0, fmt.Errorf("temperature %q: no air is that cold or warm", cells[l.temp])
	}
	stamp := cells[l.day]
	if l.clock != l.day {
		stamp += " " + cells[l.clock]
	}
	t, err := at.parse(stamp)
	return t, c, err
}

// A clock reads the times of a log.
type clock struct {
	zone     *time.Location // of times that name none
	dayFirst bool           // 3/9 is Sep 3
	last     time.Time      // the reading before, to tell the second hour of the long night from the first
}

// The layouts of loggers (common practice). Those with a zone come first.
var (
	zoned = []string{time.RFC3339, "2006-01-02 15:04:05Z07:00", "2006-01-02T15:04Z07:00", "2006-01-02 15:04:05 -0700", "2006-01-02T15:04:05-0700"}
	local = []string{"2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04:05", "2006-01-02T15:04", "2006/01/02 15:04:05", "2006/01/02 15:04", "20060102 1504", "20060102150405",
		"1/2/2006 15:04:05", "1/2/2006 15:04", "1/2/2006 3:04:05 PM", "1/2/2006 3:04 PM", "1/2/06 15:04:05", "1/2/06 15:04", "1/2/06 3:04:05 PM", "1/2/06 3:04 PM"}

	unixTime = regexp.MustCompile(`^1\d{9}(\d{3})?(\.\d+)?$`)
)

func (k clock) parse(s string) (time.Time, error) {
	if s = strings.Join(strings.Fields(s), " "); unixTime.MatchString(s) {
		n, _ := strconv.ParseInt(s[:10], 10, 64)
		return time.Unix(n, 0), nil
	}
	for _, f := range zoned {
		if t, err := time.Parse(f, s); err == nil {
			return t, nil
		}
	}
	for _, f := range local {
		if k.dayFirst {
			f = strings.Replace(f, "1/2/", "2/1/", 1)
		}
		if t, err := time.ParseInLocation(f, strings.ToUpper(s), k.zone); err == nil {
			return k.shown(t), nil
		}
	}
	return time.Time{}, fmt.Errorf("time %q: want 2026-10-14 05:30 or the like", s)
}

// shown decides the hour that the long night has twice: the first, unless that
// would be before the reading before.
func (k clock) shown(t time.Time) time.Time {
	var first time.Time
	for _, d := range []time.Duration{-time.Hour, -30 * time.Minute, 0, 30 * time.Minute, time.Hour} {
		at := t.Add(d)
		if at.Hour() != t.Hour() || at.Minute() != t.Minute() || at.Day() != t.Day() {
			continue
		}
		if at.After(k.last) {
			return at
		}
		if first.IsZero() {
			first = at
		}
	}
	return first
}
