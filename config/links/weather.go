package links

import (
	"time"

	"stubbled/config/settings"
	"stubbled/config/values"
)

// Weather is where temperatures come from besides people.
type Weather struct {
	Log     *WeatherLog    // nil where none
	Service *WeatherSource // nil where none
}

// WeatherSection is what is written of the weather: a thermometer's log, and a
// weather service.
type WeatherSection struct {
	Log     WeatherLog
	Service WeatherSource `key:"service" read:"later"`
}

// WeatherLog is a thermometer's log.
type WeatherLog struct {
	File     string        `key:"log"`
	Place    string        `key:"place"`                                                   // whose temperature it is, as people say it
	Unit     string        `key:"unit" as:"degrees"`                                       // F or C; empty: as its header says
	Column   string        `key:"column"`                                                  // of the temperature; empty: found by the header
	DayFirst bool          `key:"day_first" as:"yes or no" default:"false"`                // 3/9/2026 is Sep 3
	Every    time.Duration `key:"every" as:"span" in:"1 s..1 day" default:"30 s"`          // how often it is looked at
	Silence  time.Duration `key:"silence" as:"span" in:"10 min..7 days" default:"6 hours"` // how long without a reading is a fault
}

// WeatherSource is a weather service over HTTP.
type WeatherSource struct {
	URL     string        `key:"url" as:"url" default:"https://api.weather.gov"`                                                         // base address
	Station string        `key:"station" as:"station"`                                                                                   // where it observes; empty: the one nearest to the point
	Point   *values.Point `key:"point" as:"point"`                                                                                       // nil where none was given
	Contact string        `key:"contact" as:"email" missing:"a mail address the service may write to, such as contact: ana@example.org"` // whom the service may write to

	// How often each is asked for at most.
	Observe  time.Duration `key:"observe" as:"span" in:"5 min..1 day" default:"20 min"`
	Forecast time.Duration `key:"forecast" as:"span" in:"10 min..1 day" default:"1 hour"`
	// Silence is how long without an observation is a fault; a forecast may be
	// four times as old.
	Silence time.Duration `key:"silence" as:"span" in:"1 hour..7 days" default:"6 hours"`
}

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
