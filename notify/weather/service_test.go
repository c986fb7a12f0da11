package weather

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

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

func (s *station) farm(t testing.TB, tweak func(*Feed)) *farm {
	t.Helper()
	f := &farm{now: s.now}
	feed := Feed{Base: s.URL, Contact: "ana@example.org", Station: "KQFK"}
	if tweak != nil {
		tweak(&feed)
	}
	sv, err := NewService(feed, func() time.Time { return f.now })
	must(t, err)
	sv.jitter = func() float64 { return 0 }
	f.round, err = sv.round(func(_ context.Context, got []diary.Observation) error {
		if f.full != nil {
			return f.full
		}
		f.got = append(f.got, got...)
		return nil
	}, func(err error) { f.said = append(f.said, err) })
	must(t, err)
	t.Cleanup(f.fetch.client.CloseIdleConnections)
	return f
}

// pass lets time pass, as far as the round wants it to at a time.
func (f *farm) pass(d time.Duration) {
	for end := f.now.Add(d); f.now.Before(end); {
		f.now = f.now.Add(f.run(context.Background()))
	}
}

func TestObservationsAndForecasts(t *testing.T) {
	s := newStation(t)
	for _, c := range []struct {
		name  string
		tweak func(*Feed)
	}{
		{"of a station", nil},
		{"of a point", func(f *Feed) { f.Station, f.Lat, f.Lon = "", 39.10001, -96.60999 }},
		{"of a station and a point", func(f *Feed) { f.Lat, f.Lon = 39.1, -96.61 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := s.farm(t, c.tweak)
			if wait := f.run(t.Context()); wait < 20*time.Minute || wait > 25*time.Minute {
				t.Errorf("waits %v", wait)
			}
			want := []diary.Observation{
				{Source: "service", Place: "KQFK", At: s.now.Add(-35 * time.Minute), MinC: -1.5},
				{Source: "service", Place: "39.1,-96.61", At: time.Date(2026, 10, 15, 13, 0, 0, 0, time.UTC), MinC: -2.2, Forecast: true, Issued: s.now.Add(-time.Hour)},
				{Source: "service", Place: "39.1,-96.61", At: time.Date(2026, 10, 16, 13, 0, 0, 0, time.UTC), MinC: 3.3, Forecast: true, Issued: s.now.Add(-time.Hour)},
			}
			if len(f.got) != len(want) {
				t.Fatalf("got %+v", f.got)
			}
			for i, o := range f.got {
				o.At, o.Issued = o.At.UTC(), o.Issued.UTC()
				if fmt.Sprint(o) != fmt.Sprint(want[i]) {
					t.Errorf("got %+v, want %+v", o, want[i])
				}
			}
			if len(f.said) != 1 || f.said[0] != nil {
				t.Errorf("said %v", f.said)
			}
			for _, r := range s.asked {
				if r.Header.Get("User-Agent") != "stubbled (ana@example.org)" || !strings.HasPrefix(r.Header.Get("Accept"), "application/geo+json") {
					t.Errorf("asked with %v", r.Header)
				}
			}
			must(t, f.Check(t.Context()))
		})
	}
}

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

func TestEveryFaultOfTheService(t *testing.T) {
	other := newStation(t)
	for _, c := range []struct {
		name  string
		fault func(s *station, w http.ResponseWriter, r *http.Request)
		says  string
	}{
		{"500 with a problem", func(s *station, w http.ResponseWriter, _ *http.Request) { s.problem(w, 500) }, "500: Internal Server Error: invented (correlation id 20ab1c)"},
		{"503 without one", func(_ *station, w http.ResponseWriter, _ *http.Request) { w.WriteHeader(503) }, "503: Service Unavailable"},
		{"503 with a page", func(_ *station, w http.ResponseWriter, _ *http.Request) {
			w.WriteHeader(503)
			fmt.Fprint(w, strings.Repeat("<html>\x1b[31m", 100_000))
		}, "503: Service Unavailable"},
		{"404", func(s *station, w http.ResponseWriter, _ *http.Request) { s.problem(w, 404) }, "check the station's identifier"},
		{"403", func(s *station, w http.ResponseWriter, _ *http.Request) { s.problem(w, 403) }, "contact"},
		{"a redirect to another host", func(_ *station, w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, other.URL+r.URL.Path, http.StatusMovedPermanently)
		}, "another host"},
		{"a redirect in circles", func(_ *station, w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, r.URL.Path+"x", http.StatusFound)
		}, "circles"},
		{"a body that never ends", func(_ *station, w http.ResponseWriter, _ *http.Request) {
			chunk := []byte(strings.Repeat(`{"features":[`, 5000))
			for range 1 << 20 {
				if _, err := w.Write(chunk); err != nil {
					return
				}
			}
		}, "more than 8 MiB"},
		{"a body that stalls", func(_ *station, w http.ResponseWriter, r *http.Request) {
			fmt.Fprint(w, `{"features":[`)
			w.(http.Flusher).Flush()
			<-r.Context().Done()
		}, "in time"},
		{"a body cut short", func(_ *station, w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Length", "1000")
			fmt.Fprint(w, `{"features":[`)
		}, "broke off"},
		{"no JSON", func(_ *station, w http.ResponseWriter, _ *http.Request) { fmt.Fprint(w, "<html>") }, "not what it documents"},
		{"JSON of another kind", func(_ *station, w http.ResponseWriter, _ *http.Request) {
			fmt.Fprint(w, `{"features":7,"properties":[]}`)
		}, "not what it documents"},
		{"null", func(_ *station, w http.ResponseWriter, _ *http.Request) { fmt.Fprint(w, `null`) }, ""},
		{"a connection that breaks", func(*station, http.ResponseWriter, *http.Request) { panic(http.ErrAbortHandler) }, "cannot be reached"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newStation(t)
			s.fault = func(_ string, w http.ResponseWriter, r *http.Request) bool { c.fault(s, w, r); return true }
			f := s.farm(t, nil)
			if c.says == "in time" {
				f.fetch.patience = 300 * time.Millisecond
			}
			for what, err := range map[string]error{"observations": f.observations(t.Context()), "forecast": f.forecast(t.Context())} {
				if err == nil || !strings.Contains(mended(err).Error(), c.says) {
					t.Errorf("%s: got %v, want %q", what, err, c.says)
				}
				if err != nil && strings.ContainsAny(err.Error(), "\x1b\r") {
					t.Errorf("%s: control characters in %q", what, err)
				}
			}
			if len(f.got) != 0 || len(other.paths()) != 0 {
				t.Errorf("got %+v, and the other host was asked %v", f.got, other.paths())
			}
		})
	}
}

func TestTheServiceIsAskedPolitely(t *testing.T) {
	s := newStation(t)
	s.etag, s.cache = `"a1"`, "public, max-age=1800"
	f := s.farm(t, nil)
	f.pass(4 * time.Hour)
	if n := count(s.paths(), "/stations/KQFK/observations"); n > 8 {
		t.Errorf("asked %d times in four hours for what stays good for half of one: %v", n, s.paths())
	}
	if last := s.asked[len(s.asked)-1]; last.Header.Get("If-None-Match") != `"a1"` {
		t.Errorf("asked without a condition: %v", last.Header)
	}
	// once handed on is handed on
	if len(f.got) != 3 {
		t.Errorf("got %+v", f.got)
	}
}

func TestAPauseThatTheServiceAsksForIsKept(t *testing.T) {
	for _, after := range []string{"7200", time.Date(2026, 10, 14, 13, 30, 0, 0, time.UTC).Format(http.TimeFormat)} {
		s := newStation(t)
		s.fault = func(_ string, w http.ResponseWriter, _ *http.Request) bool {
			w.Header().Set("Retry-After", after)
			s.problem(w, 429)
			return true
		}
		f := s.farm(t, nil)
		f.pass(2 * time.Hour)
		if n := len(s.paths()); n != 1 {
			t.Errorf("asked %d times", n)
		}
		s.fault = nil
		f.pass(time.Hour)
		if len(f.got) == 0 {
			t.Error("never came back")
		}
	}
}

func TestFailuresAreTriedAgainEverMoreSeldom(t *testing.T) {
	s := newStation(t)
	s.fault = func(_ string, w http.ResponseWriter, _ *http.Request) bool { s.problem(w, 500); return true }
	f := s.farm(t, nil)
	f.pass(24 * time.Hour)
	// Two questions every 15 minutes (half of 30): 192 a day, and a few more at
	// the beginning.
	if n := len(s.paths()); n < 100 || n > 210 {
		t.Errorf("asked %d times in a day", n)
	}
	if backOff(1, 0) != 15*time.Second || backOff(1000, 1) != 30*time.Minute {
		t.Errorf("%v to %v", backOff(1, 0), backOff(1000, 1))
	}
}

func TestDownForAWeekIsOneAlarmAndNeverAllClear(t *testing.T) {
	s := newStation(t)
	f := s.farm(t, nil)
	f.run(t.Context())
	got := len(f.got)
	s.fault = func(_ string, w http.ResponseWriter, _ *http.Request) bool { s.problem(w, 502); return true }
	f.pass(7 * 24 * time.Hour)
	if len(f.said) != 2 || f.said[0] != nil || f.said[1] == nil || len(f.got) != got {
		t.Fatalf("said %v", f.said)
	}
	for _, w := range []string{"since Oct 14 10:55", "does not mean no frost", "502"} {
		if !strings.Contains(f.said[1].Error(), w) {
			t.Errorf("%q does not say %q", f.said[1], w)
		}
	}
	s.fault, s.now = nil, f.now
	s.grid = fmt.Sprintf(`{"validTime":"%s/PT13H","value":1}`, f.now.Format(utc))
	f.pass(time.Hour)
	if len(f.said) != 3 || f.said[2] != nil {
		t.Errorf("said %v", f.said)
	}
}

func TestAnswersWithoutAValueAreSilenceToo(t *testing.T) {
	s := newStation(t)
	s.temps = `{"unitCode":"wmoUnit:degC","value":null,"qualityControl":"Z"}`
	f := s.farm(t, nil)
	f.pass(8 * time.Hour)
	if len(f.said) != 1 || f.said[0] == nil || !strings.Contains(f.said[0].Error(), "no value") {
		t.Errorf("said %v", f.said)
	}
}

func TestASquareCutAnewIsLookedUpAgain(t *testing.T) {
	s := newStation(t)
	f := s.farm(t, nil)
	gone := true
	s.fault = func(path string, w http.ResponseWriter, _ *http.Request) bool {
		if gone && strings.HasPrefix(path, "/gridpoints") {
			gone = false
			s.problem(w, 404)
			return true
		}
		return false
	}
	f.pass(10 * time.Minute)
	if n := count(s.paths(), "/points/39.1,-96.61"); n != 2 || len(f.got) != 3 {
		t.Errorf("looked up %d times, got %+v", n, f.got)
	}
}

func TestWhatTheStoreRefusedIsAskedForAgain(t *testing.T) {
	s := newStation(t)
	s.etag = `"a1"`
	f := s.farm(t, nil)
	f.full = errors.New("disk full")
	f.run(t.Context())
	f.full = nil
	f.pass(time.Hour)
	if len(f.got) != 3 {
		t.Errorf("got %+v", f.got)
	}
}

func TestAfterAGapMoreIsAskedFor(t *testing.T) {
	s := newStation(t)
	f := s.farm(t, nil)
	f.pass(time.Hour)
	s.fault = func(_ string, w http.ResponseWriter, _ *http.Request) bool { s.problem(w, 500); return true }
	f.pass(5 * time.Hour)
	s.fault = nil
	s.forget()
	f.pass(time.Hour)
	var limits []string
	for _, r := range s.asked {
		if l := r.URL.Query().Get("limit"); l != "" {
			limits = append(limits, l)
		}
	}
	if len(limits) < 2 || limits[0] != "500" || limits[1] != "40" {
		t.Errorf("asked for %v", limits)
	}
}

func TestSettingsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		name, says string
		f          Feed
	}{
		{"no contact", "asks for a contact", Feed{Station: "KMHK"}},
		{"neither station nor point", "a station or a point", Feed{Contact: "a@example.org"}},
		{"a station that is none", "such as KMHK", Feed{Contact: "a@example.org", Station: "../points"}},
		{"a point off the earth", "latitude,longitude", Feed{Contact: "a@example.org", Lat: -96.6, Lon: 390}},
		{"a base that is none", "want an address", Feed{Contact: "a@example.org", Station: "KMHK", Base: "ftp://x"}},
	} {
		if _, err := NewService(c.f, time.Now); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	f, err := newFetcher("https://x.example", "a@example.org\r\nX-Evil: 1", time.Now)
	must(t, err)
	if strings.ContainsAny(f.agent, "\r\n") {
		t.Errorf("agent %q", f.agent)
	}
}

func TestWhatCheckSays(t *testing.T) {
	s := newStation(t)
	s.Close()
	sv, err := NewService(Feed{Base: s.URL, Contact: "a@example.org", Station: "KQFK"}, time.Now)
	must(t, err)
	if err := sv.Check(t.Context()); err == nil || !strings.Contains(err.Error(), "machine is online") {
		t.Errorf("got %v", err)
	}
	s = newStation(t)
	f := s.farm(t, nil)
	f.now = f.now.Add(48 * time.Hour) // the station has stopped
	if err := f.Check(t.Context()); err == nil || !strings.Contains(err.Error(), "another station") {
		t.Errorf("got %v", err)
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
