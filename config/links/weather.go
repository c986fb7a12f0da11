package links

import (
	"time"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/notify/terms"
)

// Weather is where temperatures come from besides people.
type Weather struct {
	Log     *terms.Thermometer // nil where none
	Service *WeatherSource     // nil where none
}

// WeatherSection is what is written of the weather: a thermometer's log, and a
// weather service.
type WeatherSection struct {
	Log     terms.Thermometer
	Service WeatherSource `key:"service" read:"later"`
}

// WeatherSource is a weather service over HTTP.
type WeatherSource struct{ terms.Feed }

// Read takes what was written of the weather, where it was asked for.
func (w *WeatherSection) Read(r *settings.Reading) (out Weather) {
	e := r.Root.Get("weather")
	if e.Written("log") {
		w.Log.File = r.Source.Beside(w.Log.File)
		oftenEnough(r, e, "every", w.Log.Every, w.Log.Silence)
		out.Log = &w.Log
	} else {
		for _, key := range []string{"place", "unit", "column", "day_first", "every", "silence"} {
			if at := e.Get(key); at.InFile() {
				r.Say(at, "means nothing without log; name the thermometer's log, such as log: thermometer.csv, or take it out")
			}
		}
	}
	s := e.Get("service")
	if s == nil || !s.InFile() && s.Get("contact") == nil {
		return out
	}
	r.Fill(s, &w.Service)
	out.Service = &w.Service
	return out
}

func (w *WeatherSource) Judge(r *settings.Reading, e *settings.Entry) {
	if !e.Written("station") && !e.Written("point") {
		r.Say(e, `names no place; want a station such as station: KQFK, a point such as point: "40.00, -100.00", or both`)
	}
	oftenEnough(r, e, "observe", w.Observe, w.Silence)
	oftenEnough(r, e, "forecast", w.Forecast, 4*w.Silence)
}

// oftenEnough tells of a source that would be taken for silent because it is
// asked too rarely.
func oftenEnough(r *settings.Reading, e *settings.Entry, key string, every, silence time.Duration) {
	if every == 0 || silence == 0 || every < silence {
		return
	}
	at := e.Get(key)
	if !at.Said() {
		at = e.Get("silence")
	}
	r.Say(at, "%s (%s) must be shorter than the silence that is taken for a fault (%s)", key, values.InWords(every), values.InWords(silence))
}
