package config

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// weather reads where temperatures come from besides people.
func (l *loader) weather() {
	e := l.root.get("weather")
	w := &l.farm.Weather
	w.Log = l.beside(wordOf(e.get("log")))
	w.Every, _ = read(l, e.get("every"), span(time.Minute, 24*time.Hour))
	s := e.get("service")
	if s == nil || s.from != fromFile && s.get("contact") == nil {
		return
	}
	l.required(s, "contact", "a mail address the service may write to, such as contact: ana@example.org")
	src := &WeatherSource{Station: wordOf(s.get("station"))}
	src.URL, _ = read(l, s.get("url"), parseURL)
	src.Contact, _ = read(l, s.get("contact"), parseEmail)
	if p, ok := read(l, s.get("point"), parsePoint); ok {
		src.Lat, src.Lon, src.HasSpot = p.lat, p.lon, true
	}
	if !s.written("station") && !s.written("point") {
		l.say(s, `names no place; want a station such as station: KMHK, a point such as point: "39.10, -96.61", or both`)
	}
	w.Service = src
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
	b.Keep, _ = read(l, e.get("keep"), nights.whole(1, 1000))
	b.At, _ = read(l, e.get("at"), parseClock)
}
