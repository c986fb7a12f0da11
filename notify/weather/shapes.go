package weather

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"time"

	"stubbled/scheduler/diary"
)

// The shapes of the service's GeoJSON answers (its OpenAPI document, version
// 3.8), as far as they are read here.

type stationAnswer struct {
	Geometry struct {
		Coordinates []float64 `json:"coordinates"` // longitude, latitude
	} `json:"geometry"`
	Properties struct {
		ID   string `json:"stationIdentifier"`
		Name string `json:"name"`
	} `json:"properties"`
}

type pointAnswer struct {
	Properties struct {
		GridID string `json:"gridId"`
		GridX  *int   `json:"gridX"`
		GridY  *int   `json:"gridY"`
	} `json:"properties"`
}

var gridName = regexp.MustCompile(`^[A-Z]{3}$`)

// path is where the forecasts of the point's square are.
func (p pointAnswer) path() (string, error) {
	g := p.Properties
	if !gridName.MatchString(g.GridID) || g.GridX == nil || g.GridY == nil {
		return "", errors.New("the weather service has no forecast square for this point; it covers the United States only")
	}
	return fmt.Sprintf("/gridpoints/%s/%d,%d", g.GridID, *g.GridX, *g.GridY), nil
}

type stationsAnswer struct {
	Features []stationAnswer `json:"features"`
}

// The lists are decoded one by one, so that one item that is not as documented
// does not spoil the others.

type observationsAnswer struct {
	Features []json.RawMessage `json:"features"`
}

type observationItem struct {
	Properties struct {
		Timestamp   time.Time `json:"timestamp"`
		Temperature quantity  `json:"temperature"`
	} `json:"properties"`
}

// read makes observations of an answer, and says why the last of those left
// out was.
func (a observationsAnswer) read(place string, now time.Time) (got []diary.Observation, why error) {
	for _, raw := range a.Features {
		o, err := readObservation(raw, place, now)
		if err != nil {
			why = err
			continue
		}
		got = append(got, o)
	}
	return got, why
}

func readObservation(raw []byte, place string, now time.Time) (diary.Observation, error) {
	var f observationItem
	if err := json.Unmarshal(raw, &f); err != nil {
		return diary.Observation{}, fmt.Errorf("observation: %w", err)
	}
	p := f.Properties
	c, err := p.Temperature.celsius()
	if err != nil {
		return diary.Observation{}, err
	}
	if p.Timestamp.Year() < 1990 || p.Timestamp.After(now.Add(time.Hour)) {
		return diary.Observation{}, fmt.Errorf("observation of %s: no such time", p.Timestamp.Format(time.RFC3339))
	}
	sure, err := checked(p.Temperature.QC)
	if err != nil {
		return diary.Observation{}, err
	}
	if !sure {
		place += " (unchecked)"
	}
	return diary.Observation{Source: diary.FromService, Place: place, At: p.Timestamp, MinC: c}, nil
}

type gridAnswer struct {
	Properties struct {
		UpdateTime     time.Time `json:"updateTime"`
		MinTemperature struct {
			UOM    string            `json:"uom"`
			Values []json.RawMessage `json:"values"`
		} `json:"minTemperature"`
	} `json:"properties"`
}

// read makes forecasts of the minima that still lie ahead.
func (a gridAnswer) read(place string, now time.Time) (got []diary.Observation, why error) {
	l := a.Properties.MinTemperature
	for _, raw := range l.Values {
		var v struct {
			ValidTime string   `json:"validTime"`
			Value     *float64 `json:"value"`
		}
		err := json.Unmarshal(raw, &v)
		var end time.Time
		if err == nil {
			_, end, err = interval(v.ValidTime, now)
		}
		c := 0.0
		if err == nil {
			c, err = quantity{UnitCode: l.UOM, Value: v.Value}.celsius()
		}
		if err != nil {
			why = err
			continue
		}
		got = ahead(got, place, end, c, a.Properties.UpdateTime, now)
	}
	return got, why
}

type periodsAnswer struct {
	Properties struct {
		UpdateTime time.Time         `json:"updateTime"`
		Periods    []json.RawMessage `json:"periods"`
	} `json:"properties"`
}

type periodItem struct {
	EndTime     time.Time  `json:"endTime"`
	IsDaytime   *bool      `json:"isDaytime"`
	Temperature periodTemp `json:"temperature"`
	Unit        string     `json:"temperatureUnit"`
}

// read makes forecasts of the nights.
func (a periodsAnswer) read(place string, now time.Time) (got []diary.Observation, why error) {
	for _, raw := range a.Properties.Periods {
		var p periodItem
		if err := json.Unmarshal(raw, &p); err != nil {
			why = fmt.Errorf("forecast period: %w", err)
			continue
		}
		if p.IsDaytime == nil || *p.IsDaytime {
			continue
		}
		q := p.Temperature.quantity
		if q.UnitCode == "" { // the older form: F unless it says C
			q.UnitCode = map[string]string{"": "degF", "F": "degF", "C": "degC"}[p.Unit]
		}
		c, err := q.celsius()
		if err != nil {
			why = err
			continue
		}
		got = ahead(got, place, p.EndTime, c, a.Properties.UpdateTime, now)
	}
	return got, why
}

// maxAhead bounds forecasts; the service gives eight days.
const maxAhead = 15 * 24 * time.Hour

func ahead(got []diary.Observation, place string, end time.Time, c float64, issued, now time.Time) []diary.Observation {
	if !end.After(now) || end.Sub(now) > maxAhead || issued.After(now.Add(time.Hour)) {
		return got
	}
	if issued.IsZero() {
		issued = now
	}
	return append(got, diary.Observation{
		Source: diary.FromService, Place: place, At: end, MinC: c, Forecast: true, Issued: issued,
	})
}
