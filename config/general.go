package config

import (
	"fmt"
	"strings"
	"time"

	// The zones of the world, for machines without their own.
	_ "time/tzdata"
)

// general reads the farm section: its name, zone, units and times.
func (l *loader) general() {
	e := l.root.get("farm")
	if e == nil {
		return
	}
	l.required(e, "name", `the place as people call it, such as name: Quail Fork`)
	l.required(e, "timezone", `the zone of the farm's clock, such as timezone: America/Chicago`)
	if name, ok := read(l, e.get("name"), parseFarmName); ok {
		l.farm.Name = name
	}
	if zone, ok := read(l, e.get("timezone"), parseZone); ok {
		l.farm.Zone = zone
	}
	if units, ok := read(l, e.get("units"), parseUnits); ok {
		l.farm.Units = units
	}
	if at, ok := read(l, e.get("morning"), parseClock); ok {
		l.farm.Morning = at
	}
	if n, ok := read(l, e.get("cap"), texts.whole(1, 50)); ok {
		l.farm.Cap = n
	}
}

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
