package weather

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
)

// A quantity is a value with its unit and the outcome of its checks, as the
// service writes it.
type quantity struct {
	UnitCode string   `json:"unitCode"`
	Value    *float64 `json:"value"`
	QC       string   `json:"qualityControl"`
}

var (
	errNoValue = errors.New("no value")
	errQC      = errors.New("failed its quality check")
)

// celsius is the value in degrees C. Units may have a prefix (wmoUnit:degC);
// any other than degC and degF is refused.
func (q quantity) celsius() (float64, error) {
	if q.Value == nil {
		return 0, errNoValue
	}
	unit := q.UnitCode[strings.LastIndexByte(q.UnitCode, ':')+1:]
	c := *q.Value
	switch unit {
	case "degC":
	case "degF":
		c = fromF(c)
	default:
		return 0, fmt.Errorf("temperature in unit %q: want degC or degF", notify.Brief(q.UnitCode))
	}
	if !possible(c) {
		return 0, fmt.Errorf("temperature %.1f C: no air is that cold or warm", c)
	}
	return c, nil
}

// checked reports whether a value may be used, and whether it was checked at
// all. The flags are those of MADIS: V verified, S screened, C coarse pass; Z
// has had no check; everything else (X rejected, Q questioned, B subjectively
// bad...) is left out.
func checked(flag string) (checked bool, err error) {
	switch flag {
	case "V", "S", "C":
		return true, nil
	case "Z", "":
		return false, nil
	}
	return false, errQC
}

// A periodTemp is the temperature of a forecast period: a bare number with its
// unit beside it, the older form, or a quantity.
type periodTemp struct {
	quantity
}

// UnmarshalJSON reads both forms.
func (p *periodTemp) UnmarshalJSON(b []byte) error {
	var n *float64
	if err := json.Unmarshal(b, &n); err == nil {
		p.Value = n
		return nil
	}
	return json.Unmarshal(b, &p.quantity)
}

// interval reads an ISO 8601 interval in any of the three forms that the
// service documents: start/end, start/duration, duration/end. The word NOW may
// stand for either end.
func interval(s string, now time.Time) (start, end time.Time, err error) {
	a, b, ok := strings.Cut(s, "/")
	if !ok {
		return start, end, fmt.Errorf("interval %q: want start/end", notify.Brief(s))
	}
	var d time.Duration
	switch {
	case strings.HasPrefix(a, "P"):
		if end, err = instant(b, now); err == nil {
			d, err = duration(a)
		}
		start = end.Add(-d)
	case strings.HasPrefix(b, "P"):
		if start, err = instant(a, now); err == nil {
			d, err = duration(b)
		}
		end = start.Add(d)
	default:
		if start, err = instant(a, now); err == nil {
			end, err = instant(b, now)
		}
	}
	if err == nil && !end.After(start) {
		err = fmt.Errorf("interval %q: ends before it begins", notify.Brief(s))
	}
	return start, end, err
}

func instant(s string, now time.Time) (time.Time, error) {
	if s == "NOW" {
		return now, nil
	}
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		return t, fmt.Errorf("time %q: want 2026-10-14T05:30:00Z", notify.Brief(s))
	}
	return t, nil
}

var isoDuration = regexp.MustCompile(`^P(?:(\d{1,4})W)?(?:(\d{1,4})D)?(?:T(?:(\d{1,5})H)?(?:(\d{1,5})M)?(?:(\d{1,6})S)?)?$`)

// duration reads weeks to seconds; months and years have no fixed length and
// no place in a forecast.
func duration(s string) (time.Duration, error) {
	m := isoDuration.FindStringSubmatch(s)
	if m == nil || s == "P" || strings.HasSuffix(s, "T") {
		return 0, fmt.Errorf("duration %q: want P1DT6H or the like", notify.Brief(s))
	}
	var d time.Duration
	for i, unit := range []time.Duration{7 * 24 * time.Hour, 24 * time.Hour, time.Hour, time.Minute, time.Second} {
		n, _ := strconv.Atoi("0" + m[i+1])
		d += time.Duration(n) * unit
	}
	return d, nil
}
