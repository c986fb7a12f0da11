package values

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/nyaruka/phonenumbers"

	"stubbled/notify/terms"
)

// parsePath reads a file or folder that is the machine's, not the farm's.
func parsePath(text string) (string, error) {
	if !filepath.IsAbs(text) {
		return "", fmt.Errorf("want the whole path, such as /var/spool/stubbled-sms, got %q", Clip(text))
	}
	return filepath.Clean(text), nil
}

// orElse takes a word of its own for a value that stands for it.
func orElse[T any](word string, stands T, parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		if strings.EqualFold(strings.TrimSpace(text), word) {
			return stands, nil
		}
		v, err := parse(text)
		if err != nil {
			want, got, _ := strings.Cut(err.Error(), ", got ")
			return v, fmt.Errorf("%s, or %s, got %s", want, word, got)
		}
		return v, nil
	}
}

// parseRegion reads a country by its two letters (ISO 3166-1).
func parseRegion(text string) (string, error) {
	r := strings.ToUpper(strings.TrimSpace(text))
	if !phonenumbers.GetSupportedRegions()[r] {
		return "", fmt.Errorf("want the two letters of a country whose national numbers are read, such as US or CA, got %q", Clip(text))
	}
	return r, nil
}

func parseUnit(text string) (string, error) {
	switch unit := strings.ToUpper(strings.TrimSpace(text)); unit {
	case "F", "C":
		return unit, nil
	case "FAHRENHEIT", "CELSIUS":
		return "", fmt.Errorf("want F or C, got %q; did you mean %q?", text, unit[:1])
	}
	return "", fmt.Errorf("want F or C, got %q", Clip(text))
}

var stationName = regexp.MustCompile(`^[A-Z0-9]{3,8}$`)

func parseStation(text string) (string, error) {
	name := strings.ToUpper(strings.TrimSpace(text))
	if !stationName.MatchString(name) {
		return "", fmt.Errorf("want a weather station's identifier such as KQFK, got %q", Clip(text))
	}
	return name, nil
}

func parsePoint(text string) (terms.Point, error) {
	a, b, ok := strings.Cut(text, ",")
	lat, errA := strconv.ParseFloat(strings.TrimSpace(a), 64)
	lon, errB := strconv.ParseFloat(strings.TrimSpace(b), 64)
	if !ok || errA != nil || errB != nil || !(lat >= -90 && lat <= 90) || !(lon >= -180 && lon <= 180) {
		return terms.Point{}, fmt.Errorf(`want latitude and longitude in degrees, such as "40.00, -100.00", got %q`, Clip(text))
	}
	return terms.Point{Lat: lat, Lon: lon}, nil
}
