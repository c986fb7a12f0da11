package values

import (
	"fmt"
	"strconv"
	"strings"

	"stubbled/notify/terms"
)

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

func parseUnit(text string) (string, error) {
	switch unit := strings.ToUpper(strings.TrimSpace(text)); unit {
	case "F", "C":
		return unit, nil
	case "FAHRENHEIT", "CELSIUS":
		return "", fmt.Errorf("want F or C, got %q; did you mean %q?", text, unit[:1])
	}
	return "", fmt.Errorf("want F or C, got %q", Clip(text))
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
