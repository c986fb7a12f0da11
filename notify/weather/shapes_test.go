package weather

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"
	"time"

	"stubbled/scheduler/diary"
)

func TestTemperaturesAsTheServiceWritesThem(t *testing.T) {
	for _, c := range []struct {
		name, temp string
		want       float64 // NaN: left out
		place      string
	}{
		{"verified", `{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"V"}`, -1.5, "KQFK"},
		{"screened", `{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"S"}`, -1.5, "KQFK"},
		{"coarse pass", `{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"C"}`, -1.5, "KQFK"},
		{"not checked is marked", `{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"Z"}`, -1.5, "KQFK (unchecked)"},
		{"no flag is marked", `{"unitCode":"wmoUnit:degC","value":-1.5}`, -1.5, "KQFK (unchecked)"},
		{"rejected", `{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"X"}`, math.NaN(), ""},
		{"questioned", `{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"Q"}`, math.NaN(), ""},
		{"subjectively bad", `{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"B"}`, math.NaN(), ""},
		{"null", `{"unitCode":"wmoUnit:degC","value":null,"qualityControl":"Z"}`, math.NaN(), ""},
		{"no value", `{"unitCode":"wmoUnit:degC"}`, math.NaN(), ""},
		{"no temperature", `null`, math.NaN(), ""},
		{"degrees F", `{"unitCode":"wmoUnit:degF","value":23,"qualityControl":"V"}`, -5, "KQFK"},
		{"another prefix", `{"unitCode":"uc:degC","value":-5,"qualityControl":"V"}`, -5, "KQFK"},
		{"no prefix", `{"unitCode":"degC","value":-5,"qualityControl":"V"}`, -5, "KQFK"},
		{"kelvin is refused", `{"unitCode":"wmoUnit:K","value":268,"qualityControl":"V"}`, math.NaN(), ""},
		{"no unit is refused", `{"value":-5,"qualityControl":"V"}`, math.NaN(), ""},
		{"impossible", `{"unitCode":"wmoUnit:degC","value":-999,"qualityControl":"V"}`, math.NaN(), ""},
		{"a word", `{"unitCode":"wmoUnit:degC","value":"cold","qualityControl":"V"}`, math.NaN(), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newStation(t)
			s.temps = c.temp
			f := s.farm(t, nil)
			err := f.observations(t.Context())
			if math.IsNaN(c.want) {
				if len(f.got) != 0 || err == nil {
					t.Errorf("got %+v, %v", f.got, err)
				}
				return
			}
			if err != nil || len(f.got) != 1 || math.Abs(f.got[0].MinC-c.want) > 1e-9 || f.got[0].Place != c.place {
				t.Errorf("got %+v, %v", f.got, err)
			}
		})
	}
}

func TestForecastsAsTheServiceWritesThem(t *testing.T) {
	at := func(d, h int) time.Time { return time.Date(2026, 10, d, h, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		name, grid, uom, periods string
		want                     map[time.Time]float64
	}{
		{"start/duration over days", `{"validTime":"2026-10-14T20:00:00+00:00/P1DT6H","value":-2}`, "wmoUnit:degC", "", map[time.Time]float64{at(16, 2): -2}},
		{"start/end", `{"validTime":"2026-10-15T00:00:00Z/2026-10-15T13:00:00Z","value":-2}`, "wmoUnit:degC", "", map[time.Time]float64{at(15, 13): -2}},
		{"duration/end", `{"validTime":"PT13H/2026-10-15T13:00:00+00:00","value":-2}`, "wmoUnit:degC", "", map[time.Time]float64{at(15, 13): -2}},
		{"NOW", `{"validTime":"NOW/2026-10-15T13:00:00+00:00","value":-2}`, "wmoUnit:degC", "", map[time.Time]float64{at(15, 13): -2}},
		{"nulls, nonsense and a night that is over", `{"validTime":"2026-10-15T00:00:00Z/PT13H","value":null},{"validTime":"hay","value":1},{"validTime":"2026-10-13T00:00:00Z/PT13H","value":1},{"validTime":3},{"validTime":"2026-10-16T00:00:00Z/PT13H","value":4}`, "wmoUnit:degC", "", map[time.Time]float64{at(16, 13): 4}},
		{"degrees F", `{"validTime":"2026-10-15T00:00:00Z/PT13H","value":23}`, "wmoUnit:degF", "", map[time.Time]float64{at(15, 13): -5}},
		{"an unknown unit: the periods are taken", `{"validTime":"2026-10-15T00:00:00Z/PT13H","value":268}`, "wmoUnit:K",
			`{"number":1,"name":"Tonight","startTime":"2026-10-14T18:00:00-05:00","endTime":"2026-10-15T06:00:00-05:00","isDaytime":false,"temperature":23,"temperatureUnit":"F"}`, map[time.Time]float64{at(15, 11): -5}},
		{"no layer: periods, the temperature a bare number without a unit, and a day between", "", "wmoUnit:degC",
			`{"endTime":"2026-10-15T06:00:00-05:00","isDaytime":false,"temperature":23},{"endTime":"2026-10-15T18:00:00-05:00","isDaytime":true,"temperature":70}`, map[time.Time]float64{at(15, 11): -5}},
		{"periods in C", "", "", `{"endTime":"2026-10-15T06:00:00-05:00","isDaytime":false,"temperature":-5,"temperatureUnit":"C"}`, map[time.Time]float64{at(15, 11): -5}},
		{"periods, the temperature a quantity", "", "", `{"endTime":"2026-10-15T06:00:00-05:00","isDaytime":false,"temperature":{"unitCode":"wmoUnit:degC","value":-5},"temperatureUnit":"F"}`, map[time.Time]float64{at(15, 11): -5}},
		{"periods, null in both forms", "", "", `{"endTime":"2026-10-15T06:00:00-05:00","isDaytime":false,"temperature":null},{"endTime":"2026-10-16T06:00:00-05:00","isDaytime":false,"temperature":{"unitCode":"wmoUnit:degC","value":null}},{"endTime":"2026-10-17T06:00:00-05:00","isDaytime":false,"temperature":"cold"},{"endTime":"2026-10-18T06:00:00-05:00","isDaytime":false,"temperature":1,"temperatureUnit":"R"}`, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newStation(t)
			s.grid, s.uom, s.periods = c.grid, c.uom, c.periods
			f := s.farm(t, nil)
			err := f.forecast(t.Context())
			got := map[time.Time]float64{}
			for _, o := range f.got {
				if !o.Forecast {
					t.Errorf("got %+v", o)
				}
				got[o.At.UTC()] = math.Round(o.MinC*1e6) / 1e6
			}
			if fmt.Sprint(got) != fmt.Sprint(c.want) && len(got)+len(c.want) > 0 || (err == nil) != (len(c.want) > 0) {
				t.Errorf("got %v (%v), want %v", got, err, c.want)
			}
		})
	}
}

func TestIntervalsThatAreNone(t *testing.T) {
	now := time.Date(2026, 10, 14, 11, 30, 0, 0, time.UTC)
	for _, s := range []string{"", "NOW", "NOW/NOW", "2026-10-15T00:00:00Z/2026-10-14T00:00:00Z", "2026-10-15T00:00:00Z/P", "2026-10-15T00:00:00Z/PT",
		"2026-10-15T00:00:00Z/P1M", "2026-10-15T00:00:00Z/P1Y", "P1D/P1D", "2026-10-15/P1D", "2026-10-15T00:00:00Z/PT0H"} {
		if a, b, err := interval(s, now); err == nil {
			t.Errorf("%q: %v to %v", s, a, b)
		}
	}
}

func FuzzAnswers(f *testing.F) {
	f.Add([]byte(`{"features":[{"properties":{"timestamp":"2026-10-14T10:55:00Z","temperature":{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"V"}}}]}`))
	f.Add([]byte(`{"properties":{"updateTime":"2026-10-14T10:00:00Z","minTemperature":{"uom":"wmoUnit:degF","values":[{"validTime":"PT13H/2026-10-15T13:00:00Z","value":20},{"validTime":"NOW/P1DT6H","value":null}]}}}`))
	f.Add([]byte(`{"properties":{"periods":[{"endTime":"2026-10-15T06:00:00-05:00","isDaytime":false,"temperature":{"unitCode":"degC","value":1}},{"isDaytime":false,"temperature":31,"temperatureUnit":"F"}]}}`))
	now := time.Date(2026, 10, 14, 11, 30, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, b []byte) {
		var all []diary.Observation
		for _, a := range []interface {
			read(string, time.Time) ([]diary.Observation, error)
		}{&observationsAnswer{}, &gridAnswer{}, &periodsAnswer{}} {
			if json.Unmarshal(b, a) == nil {
				got, _ := a.read("x", now)
				all = append(all, got...)
			}
		}
		for _, o := range all {
			if !possible(o.MinC) || o.Forecast && !o.At.After(now) || !o.Forecast && o.At.After(now.Add(time.Hour)) || o.At.IsZero() || o.Source != diary.FromService {
				t.Errorf("got %+v", o)
			}
		}
		_, _, _ = interval(string(b), now)
	})
}
