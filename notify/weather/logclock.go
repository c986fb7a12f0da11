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
	local = []string{"2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04:05", "2006-01-02T15:04", "2006/01/02 15:04:05", "2006/01/02 15:04", "20060102 1504", "20060102150405"}
	slash = []string{"1/2/2006 15:04:05", "1/2/2006 15:04", "1/2/2006 3:04:05 PM", "1/2/2006 3:04 PM", "1/2/06 15:04:05", "1/2/06 15:04", "1/2/06 3:04:05 PM", "1/2/06 3:04 PM"}

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
	for _, f := range append(append([]string{}, local...), slash...) {
		if k.dayFirst {
			f = strings.Replace(f, "1/2/", "2/1/", 1)
		}
		if t, err := time.ParseInLocation(f, strings.ToUpper(s), k.zone); err == nil {
			return k.settle(t), nil
		}
	}
	return time.Time{}, fmt.Errorf("time %q: want 2026-10-14 05:30 or the like", s)
}

// settle decides the hour that the long night has twice: the first, unless
// that would be before the reading before.
func (k clock) settle(t time.Time) time.Time {
	for _, d := range []time.Duration{-time.Hour, -30 * time.Minute} {
		if first := t.Add(d); sameWall(first, t) {
			t = first
			break
		}
	}
	if k.last.IsZero() || t.After(k.last) {
		return t
	}
	for _, d := range []time.Duration{time.Hour, 30 * time.Minute} {
		if second := t.Add(d); sameWall(second, t) && second.After(k.last) {
			return second
		}
	}
	return t
}

func sameWall(a, b time.Time) bool {
	return a.Hour() == b.Hour() && a.Minute() == b.Minute() && a.Day() == b.Day()
}
