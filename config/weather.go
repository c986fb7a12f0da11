package config

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// weather reads where temperatures come from besides people.
func (l *loader) weather() {
	e := l.root.get("weather")
	l.farm.Weather.Log = l.weatherLog(e)
	s := e.get("service")
	if s == nil || s.from != fromFile && s.get("contact") == nil {
		return
	}
	l.farm.Weather.Service = l.weatherService(s)
}

// logKeys are the keys of a thermometer's log.
var logKeys = []string{"place", "unit", "column", "day_first", "every", "silence"}

// weatherLog reads what is to be known of a thermometer's log.
func (l *loader) weatherLog(e *entry) *WeatherLog {
	w := &WeatherLog{File: l.beside(wordOf(e.get("log"))), Place: wordOf(e.get("place")), Column: wordOf(e.get("column"))}
	w.Unit, _ = read(l, e.get("unit"), parseUnit)
	w.DayFirst, _ = read(l, e.get("day_first"), parseYesNo)
	w.Every, _ = read(l, e.get("every"), span(time.Second, 24*time.Hour))
	w.Silence, _ = read(l, e.get("silence"), span(10*time.Minute, 7*24*time.Hour))
	if e.written("log") {
		l.oftenEnough(e, "every", w.Every, w.Silence)
		return w
	}
	for _, key := range logKeys {
		if at := e.get(key); at != nil && at.from == fromFile {
			l.say(at, "means nothing without log; name the thermometer's log, such as log: thermometer.csv, or take it out")
		}
	}
	return nil
}

// weatherService reads what is to be known of a weather service.
func (l *loader) weatherService(s *entry) *WeatherSource {
	l.required(s, "contact", "a mail address the service may write to, such as contact: ana@example.org")
	src := &WeatherSource{}
	src.URL, _ = read(l, s.get("url"), parseURL)
	src.Station, _ = read(l, s.get("station"), parseStation)
	src.Contact, _ = read(l, s.get("contact"), parseEmail)
	if p, ok := read(l, s.get("point"), parsePoint); ok {
		src.Lat, src.Lon, src.HasSpot = p.lat, p.lon, true
	}
	if !s.written("station") && !s.written("point") {
		l.say(s, `names no place; want a station such as station: KMHK, a point such as point: "39.10, -96.61", or both`)
	}
	src.Observe, _ = read(l, s.get("observe"), span(5*time.Minute, 24*time.Hour))
	src.Forecast, _ = read(l, s.get("forecast"), span(10*time.Minute, 24*time.Hour))
	src.Silence, _ = read(l, s.get("silence"), span(time.Hour, 7*24*time.Hour))
	l.oftenEnough(s, "observe", src.Observe, src.Silence)
	l.oftenEnough(s, "forecast", src.Forecast, 4*src.Silence)
	return src
}

// oftenEnough tells of a source that would be taken for silent because it is
// asked too rarely.
func (l *loader) oftenEnough(e *entry, key string, every, silence time.Duration) {
	if every == 0 || silence == 0 || every < silence {
		return
	}
	at := e.get(key)
	if at.from == fromDefault {
		at = e.get("silence")
	}
	l.say(at, "%s (%s) must be shorter than the silence that is taken for a fault (%s)", key, inWords(every), inWords(silence))
}

func parseUnit(text string) (string, error) {
	switch unit := strings.ToUpper(strings.TrimSpace(text)); unit {
	case "F", "C":
		return unit, nil
	case "FAHRENHEIT", "CELSIUS":
		return "", fmt.Errorf("want F or C, got %q; did you mean %q?", text, unit[:1])
	}
	return "", fmt.Errorf("want F or C, got %q", clip(text))
}

var stationName = regexp.MustCompile(`^[A-Z0-9]{3,8}$`)

func parseStation(text string) (string, error) {
	name := strings.ToUpper(strings.TrimSpace(text))
	if !stationName.MatchString(name) {
		return "", fmt.Errorf("want a weather station's identifier such as KMHK, got %q", clip(text))
	}
	return name, nil
}

type point struct{ lat, lon float64 }

func parsePoint(text string) (point, error) {
	a, b, ok := strings.Cut(text, ",")
	lat, errA := strconv.ParseFloat(strings.TrimSpace(a), 64)
	lon, errB := strconv.ParseFloat(strings.TrimSpace(b), 64)
	if !ok || errA != nil || errB != nil || !(lat >= -90 && lat <= 90) || !(lon >= -180 && lon <= 180) {
		return point{}, fmt.Errorf(`want latitude and longitude in degrees, such as "39.10, -96.61", got %q`, clip(text))
	}
	return point{lat, lon}, nil
}

// backup reads where and when the database is copied.
func (l *loader) backup() {
	e := l.root.get("backup")
	b := &l.farm.Backup
	b.Dir = l.beside(wordOf(e.get("dir")))
	b.At, _ = read(l, e.get("at"), parseClock)
}
