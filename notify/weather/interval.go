package weather

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
)

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
