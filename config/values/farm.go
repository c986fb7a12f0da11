package values

import (
	"fmt"
	"strings"
	"time"

	// The zones of the world, for machines without their own.
	_ "time/tzdata"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/herd"
)

func parseFarmName(text string) (string, error) {
	name := strings.Join(strings.Fields(text), " ")
	if n, err := Septets(name); err != nil {
		return "", err
	} else if n > LongestName {
		return "", fmt.Errorf("%q takes %d characters of a text; want at most %d", Clip(name), n, LongestName)
	}
	return name, nil
}

// parseZone loads a zone by its IANA name. Local is refused: it would mean
// another time on another machine.
func parseZone(text string) (*time.Location, error) {
	if text == "Local" || strings.EqualFold(text, "localtime") {
		return nil, fmt.Errorf("%q means another time on another machine; name the zone, such as America/Chicago", text)
	}
	if usual := usualZones[zoneWords.Replace(strings.ToLower(strings.TrimSpace(text)))]; usual != "" {
		return nil, fmt.Errorf("%q has summer time in one place and none in the next; want a time zone by its city%s", Clip(text), DidYouMean(usual))
	}
	zone, err := time.LoadLocation(text)
	if err != nil || strings.TrimSpace(text) == "" {
		return nil, fmt.Errorf("want a time zone such as America/Chicago or America/New_York, got %q%s", Clip(text), OrOneOf(text, CommonZones))
	}
	return zone, nil
}

// zoneWords are what stands beside what a zone is called: central time, US/Central.
var zoneWords = strings.NewReplacer(" standard time", "", " daylight time", "", " time", "", "us/", "")

// usualZones are what people call a zone, and the one that is usually meant.
var usualZones = map[string]string{
	"eastern": "America/New_York", "et": "America/New_York", "est": "America/New_York", "edt": "America/New_York",
	"central": "America/Chicago", "ct": "America/Chicago", "cst": "America/Chicago", "cdt": "America/Chicago",
	"mountain": "America/Denver", "mt": "America/Denver", "mst": "America/Denver", "mdt": "America/Denver",
	"pacific": "America/Los_Angeles", "pt": "America/Los_Angeles", "pst": "America/Los_Angeles", "pdt": "America/Los_Angeles", "arizona": "America/Phoenix",
}

// CommonZones are the zones that are offered, and that a slip of the finger is looked
// for in.
var CommonZones = []string{
	"America/New_York", "America/Detroit", "America/Chicago", "America/Denver", "America/Phoenix", "America/Los_Angeles",
	"America/Indiana/Indianapolis", "America/Kentucky/Louisville", "America/Toronto", "America/Winnipeg", "America/Regina",
	"America/Edmonton", "America/Mexico_City", "America/Monterrey", "America/Chihuahua", "UTC",
}

func parseID(text string) (string, error) {
	want := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			return r
		}
		return -1
	}, strings.ToLower(text))
	if want == text && text != "" && len(text) <= LongestName {
		return text, nil
	}
	hint := "creek"
	if want != "" && len(want) <= LongestName {
		hint = want
	}
	return "", fmt.Errorf("want lower-case letters, digits, - or _, at most %d, such as %q, got %q", LongestName, hint, Clip(text))
}

func parsePlanOn(text string) (frost.PlanOn, error) {
	on, err := frost.ParsePlanOn(text)
	if err != nil {
		return on, fmt.Errorf(`want average, or a careful level from 1%% to 50%% such as "20%%" (one fall in five is colder sooner), got %q`, Clip(text))
	}
	return on, nil
}

// parseRecordUnits reads what a record's temperatures are in.
func parseRecordUnits(text string) (frost.Unit, error) {
	unit, err := frost.ParseUnit(text)
	if err != nil || unit == frost.UnitUnknown {
		return unit, fmt.Errorf("want C, F or tenths (of a degree C), got %q", Clip(text))
	}
	return unit, nil
}

// temperature reads a threshold between two temperatures in degrees F.
func temperature(lo, hi float64) func(string) (frost.Threshold, error) {
	return func(text string) (frost.Threshold, error) {
		t, err := frost.ParseTemp(text)
		if err != nil {
			return frost.Threshold{}, fmt.Errorf(`want a temperature such as "32F" or "0C", got %q`, Clip(text))
		}
		if f := t.F(); f < lo || f > hi {
			return frost.Threshold{}, fmt.Errorf("want %gF to %gF, got %q", lo, hi, Clip(text))
		}
		return frost.ParseThreshold(text)
	}
}

func parseKind(text string) (herd.Kind, error) {
	if k, ok := herd.Kinds.Find(text); ok {
		return k, nil
	}
	var words []string
	for _, k := range herd.Kinds {
		words = append(append(words, k.Name), k.Aliases...)
	}
	if near := Nearest(text, words); near != "" {
		k, _ := herd.Kinds.Find(near)
		return herd.Kind{}, fmt.Errorf("no kind of stock known as %q; did you mean %q?", Clip(text), k.Name)
	}
	return herd.Kind{}, fmt.Errorf("no kind of stock known as %q; known are %s", Clip(text), strings.Join(herd.Kinds.Names(), "; "))
}

// parseMonth reads a month by its name or the first three letters of it.
func parseMonth(text string) (time.Month, error) {
	name := Fold(text)
	var known []string
	for m := time.January; m <= time.December; m++ {
		full := strings.ToLower(m.String())
		known = append(known, full)
		if name == full || name == full[:3] {
			return m, nil
		}
	}
	return 0, fmt.Errorf("want a month such as march, got %q%s", Clip(text), OrOneOf(text, known))
}
