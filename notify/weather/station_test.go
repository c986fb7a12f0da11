package weather

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"sync"
	"testing"
	"time"

	"stubbled/notify/terms"
	"stubbled/scheduler/diary"
)

// A station is a stand-in for the weather service, answering in the shapes of
// its OpenAPI document (version 3.8.1), with a switch for every fault. The
// station is invented.
type station struct {
	*httptest.Server
	mu    sync.Mutex
	asked []*http.Request

	temps   string // the temperature object of the observation
	grid    string // values of minTemperature
	uom     string
	periods string
	cache   string // Cache-Control
	etag    string
	fault   func(path string, w http.ResponseWriter, r *http.Request) bool // answers itself: true
	now     time.Time
}

const utc = time.RFC3339

func newStation(t testing.TB) *station {
	s := &station{
		now:   time.Date(2026, 10, 14, 11, 30, 0, 0, time.UTC),
		temps: `{"unitCode":"wmoUnit:degC","value":-1.5,"qualityControl":"V"}`,
		uom:   "wmoUnit:degC",
		grid:  `{"validTime":"2026-10-15T00:00:00+00:00/PT13H","value":-2.2},{"validTime":"2026-10-16T00:00:00+00:00/PT13H","value":3.3}`,
	}
	s.Server = httptest.NewServer(http.HandlerFunc(s.serve))
	t.Cleanup(s.Close)
	return s
}

func (s *station) serve(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	s.asked = append(s.asked, r)
	fault := s.fault
	s.mu.Unlock()
	if fault != nil && fault(r.URL.Path, w, r) {
		return
	}
	if s.etag != "" {
		w.Header().Set("ETag", s.etag)
		if r.Header.Get("If-None-Match") == s.etag {
			w.Header().Set("Cache-Control", s.cache)
			w.WriteHeader(http.StatusNotModified)
			return
		}
	}
	w.Header().Set("Cache-Control", s.cache)
	w.Header().Set("Content-Type", "application/geo+json")
	switch r.URL.Path {
	case "/stations/KQFK":
		fmt.Fprint(w, `{"type":"Feature","geometry":{"type":"Point","coordinates":[-96.61,39.1]},"properties":{"stationIdentifier":"KQFK","name":"Quail Fork (invented)"}}`)
	case "/points/39.1,-96.61":
		fmt.Fprintf(w, `{"properties":{"gridId":"TOP","gridX":32,"gridY":81,"forecastGridData":"https://elsewhere.example/gridpoints/TOP/32,81","timeZone":"America/Chicago"}}`)
	case "/gridpoints/TOP/32,81/stations":
		fmt.Fprint(w, `{"features":[{"properties":{"stationIdentifier":"KQFK"}},{"properties":{"stationIdentifier":"KOTHER"}}]}`)
	case "/stations/KQFK/observations":
		fmt.Fprintf(w, `{"type":"FeatureCollection","features":[{"properties":{"timestamp":%q,"temperature":%s,"minTemperatureLast24Hours":{"unitCode":"wmoUnit:degC","value":null}}}]}`, s.now.Add(-35*time.Minute).Format(utc), s.temps)
	case "/gridpoints/TOP/32,81":
		fmt.Fprintf(w, `{"properties":{"updateTime":%q,"validTimes":"2026-10-14T06:00:00+00:00/P7DT19H","minTemperature":{"uom":%q,"values":[%s]}}}`, s.now.Add(-time.Hour).Format(utc), s.uom, s.grid)
	case "/gridpoints/TOP/32,81/forecast":
		fmt.Fprintf(w, `{"properties":{"updateTime":%q,"periods":[%s]}}`, s.now.Add(-2*time.Hour).Format(utc), s.periods)
	default:
		s.problem(w, http.StatusNotFound)
	}
}

func (s *station) problem(w http.ResponseWriter, status int) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	fmt.Fprintf(w, `{"correlationId":"20ab1c","title":"%s","type":"about:blank","status":%d,"detail":"invented"}`, http.StatusText(status), status)
}

func (s *station) paths() (out []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, r := range s.asked {
		out = append(out, r.URL.Path)
	}
	return out
}

func (s *station) forget() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.asked = nil
}

// A farm asks the station.
type farm struct {
	*round
	now  time.Time
	got  []diary.Observation
	said []error
	full error
}

func (s *station) farm(t testing.TB, tweak func(*terms.Feed)) *farm {
	t.Helper()
	f := &farm{now: s.now}
	feed := terms.Feed{URL: s.URL, Contact: "ana@example.org", Station: "KQFK", Silence: 6 * time.Hour, Observe: 20 * time.Minute, Forecast: time.Hour}
	if tweak != nil {
		tweak(&feed)
	}
	sv, err := NewService(feed, func() time.Time { return f.now })
	must(t, err)
	sv.jitter = func() float64 { return 0 }
	f.round = sv.round(func(_ context.Context, got []diary.Observation) error {
		if f.full != nil {
			return f.full
		}
		f.got = append(f.got, got...)
		return nil
	}, func(err error) { f.said = append(f.said, err) })
	t.Cleanup(f.fetch.client.CloseIdleConnections)
	return f
}

// pass lets time pass, as far as the round wants it to at a time.
func (f *farm) pass(d time.Duration) {
	for end := f.now.Add(d); f.now.Before(end); {
		f.now = f.now.Add(f.run(context.Background()))
	}
}

func count(paths []string, path string) (n int) {
	for _, p := range paths {
		if p == path {
			n++
		}
	}
	return n
}
