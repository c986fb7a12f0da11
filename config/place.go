package config

import (
	"fmt"
	"strings"
	"time"

	// The zones of the world, for machines without their own.
	_ "time/tzdata"
)

func parseFarmName(text string) (string, error) {
	name := strings.Join(strings.Fields(text), " ")
	if n, err := septets(name); err != nil {
		return "", err
	} else if n > longestName {
		return "", fmt.Errorf("%q takes %d characters of a text; want at most %d", clip(name), n, longestName)
	}
	return name, nil
}

// parseZone loads a zone by its IANA name. Local is refused: it would mean
// another time on another machine.
func parseZone(text string) (*time.Location, error) {
	if text == "Local" || strings.EqualFold(text, "localtime") {
		return nil, fmt.Errorf("%q means another time on another machine; name the zone, such as America/Chicago", text)
	}
	zone, err := time.LoadLocation(text)
	if err != nil || strings.TrimSpace(text) == "" {
		return nil, fmt.Errorf("want a time zone such as America/Chicago or America/New_York, got %q%s", clip(text), orOneOf(text, commonZones))
	}
	return zone, nil
}

// commonZones are those that a slip of the finger is looked for in.
var commonZones = []string{
	"America/New_York", "America/Detroit", "America/Chicago", "America/Denver", "America/Phoenix", "America/Los_Angeles",
	"America/Indiana/Indianapolis", "America/Kentucky/Louisville", "America/Toronto", "America/Winnipeg", "America/Regina",
	"America/Edmonton", "America/Mexico_City", "America/Monterrey", "America/Chihuahua", "UTC",
}

func parseUnits(text string) (Units, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "inches":
		return Inches, nil
	case "centimetres", "centimeters":
		return Centimetres, nil
	}
	return "", fmt.Errorf("want inches or centimetres, got %q", clip(text))
}
