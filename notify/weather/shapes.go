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
		ID string `json:"stationIdentifier"`
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

// usable makes observations of the items of a list, and says why the last of
// those left out was. They are decoded one by one, so that one that is not as
// documented does not spoil the others. An item that read makes nil of is not
// asked for.
func usable[T any](items []json.RawMessage, what string, read func(T) (*diary.Observation, error)) (got []diary.Observation, why error) {
	for _, raw := range items {
		var item T
		if err := json.Unmarshal(raw, &item); err != nil {
			why = fmt.Errorf("%s%w", what, err)
			continue
		}
		if o, err := read(item); err != nil {
			why = err
		} else if o != nil {
			got = append(got, *o)
		}
	}
	return got, why
}

type observationsAnswer struct {
	Features []json.RawMessage `json:"features"`
}

type observationItem struct {
	Properties struct {
		Timestamp   time.Time `json:"timestamp"`
		Temperature quantity  `json:"temperature"`
	} `json:"properties"`
}

// read makes observations of what was measured.
func (a observationsAnswer) read(place string, now time.Time) (got []diary.Observation, why error) {
	return usable(a.Features, "observation: ", func(f observationItem) (*diary.Observation, error) {
		at := f.Properties.Timestamp
		c, err := f.Properties.Temperature.celsius()
		if err != nil {
			return nil, err
		}
		if at.Year() < 1990 || at.After(now.Add(time.Hour)) {
			return nil, fmt.Errorf("observation of %s: no such time", at.Format(time.RFC3339))
		}
		sure, err := checked(f.Properties.Temperature.QC)
		if err != nil {
			return nil, err
		}
		where := place
		if !sure {
			where += " (unchecked)"
		}
		return &diary.Observation{Source: diary.FromService, Place: where, At: at, MinC: c}, nil
	})
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

type gridItem struct {
	ValidTime string   `json:"validTime"`
	Value     *float64 `json:"value"`
}

// read makes forecasts of the minima that still lie ahead.
func (a gridAnswer) read(place string, now time.Time) (got []diary.Observation, why error) {
	p := a.Properties
	return usable(p.MinTemperature.Values, "", func(v gridItem) (*diary.Observation, error) {
		_, end, err := interval(v.ValidTime, now)
		if err != nil {
			return nil, err
		}
		return ahead(place, end, quantity{UnitCode: p.MinTemperature.UOM, Value: v.Value}, p.UpdateTime, now)
	})
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
	return usable(a.Properties.Periods, "forecast period: ", func(p periodItem) (*diary.Observation, error) {
		if p.IsDaytime == nil || *p.IsDaytime {
			return nil, nil
		}
		q := p.Temperature.quantity
		if q.UnitCode == "" { // the older form: F unless it says C
			q.UnitCode = map[string]string{"": "degF", "F": "degF", "C": "degC"}[p.Unit]
		}
		return ahead(place, p.EndTime, q, a.Properties.UpdateTime, now)
	})
}

// maxAhead bounds forecasts; the service gives eight days.
const maxAhead = 15 * 24 * time.Hour

// ahead is the forecast of one minimum, nil where it does not lie ahead.
func ahead(place string, end time.Time, q quantity, issued, now time.Time) (*diary.Observation, error) {
	c, err := q.celsius()
	if err != nil || !end.After(now) || end.Sub(now) > maxAhead || issued.After(now.Add(time.Hour)) {
		return nil, err
	}
	if issued.IsZero() {
		issued = now
	}
	return &diary.Observation{Source: diary.FromService, Place: place, At: end, MinC: c, Forecast: true, Issued: issued}, nil
}
