package carriers

import (
	"cmp"

	"stubbled/cmd/stubbled/archive"
	"stubbled/notify/weather"
	"stubbled/scheduler/ladder"
)

// weather is where temperatures come from besides people. The farm file's watcher
// reads the station's record again once it was fetched.
func (l *Links) weather(o Options) {
	farm := o.Farm()
	if farm.From != "" {
		l.Sources = append(l.Sources, &archive.Refresher{URL: farm.From, Path: farm.Station, Threshold: farm.Plan.Threshold, Now: o.Now, Log: o.Log})
	}
	if log := farm.Weather.Log; log != nil {
		of := weather.Log{Thermometer: *log, Zone: farm.Zone}
		of.Place = cmp.Or(of.Place, farm.Name)
		l.Sources = append(l.Sources, weather.NewThermometer(of, o.Now))
	}
	if farm.Weather.Service != nil {
		s, err := weather.NewService(farm.Weather.Service.Feed, o.Now)
		l.without(ladder.AlarmWeatherDown, "", "weather.service", err)
		if err == nil {
			l.Sources = append(l.Sources, s)
		}
	}
}
