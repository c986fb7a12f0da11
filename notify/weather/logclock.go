package weather

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

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
	s = strings.Join(strings.Fields(s), " ")
	if unixTime.MatchString(s) {
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
