package carriers

import (
	"cmp"

	"stubbled/cmd/stubbled/archive"
	"stubbled/config"
	"stubbled/config/links"
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
	if farm.Weather.Log != nil {
		l.Sources = append(l.Sources, weather.NewThermometer(logOf(farm), o.Now))
	}
	if farm.Weather.Service != nil {
		s, err := weather.NewService(feedOf(farm.Weather.Service), o.Now)
		l.without(ladder.AlarmWeatherDown, "", "weather.service", err)
		if err == nil {
			l.Sources = append(l.Sources, s)
		}
	}
}

// logOf is the thermometer's log as the farm file describes it.
func logOf(farm *config.Farm) weather.Log {
	c := farm.Weather.Log
	return weather.Log{
		Path: c.File, Place: cmp.Or(c.Place, farm.Name), Unit: c.Unit, Column: c.Column, Zone: farm.Zone,
		DayFirst: c.DayFirst, Every: c.Every, Silence: c.Silence,
	}
}

// feedOf is the weather service as the farm file describes it.
func feedOf(c *links.WeatherSource) weather.Feed {
	f := weather.Feed{
		Base: c.URL, Contact: c.Contact, Station: c.Station,
		Silence: c.Silence, Observe: c.Observe, Forecast: c.Forecast,
	}
	if c.Point != nil {
		f.Lat, f.Lon = c.Point.Lat, c.Point.Lon
	}
	return f
}
