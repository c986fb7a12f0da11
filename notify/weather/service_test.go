package weather

import (
	"errors"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"stubbled/notify/terms"
	"stubbled/scheduler/diary"
)

func TestObservationsAndForecasts(t *testing.T) {
	s := newStation(t)
	for _, c := range []struct {
		name  string
		tweak func(*terms.Feed)
	}{
		{"of a station", nil},
		{"of a point", func(f *terms.Feed) { f.Station, f.Point = "", &terms.Point{Lat: 39.10001, Lon: -96.60999} }},
		{"of a station and a point", func(f *terms.Feed) { f.Point = &terms.Point{Lat: 39.1, Lon: -96.61} }},
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

func TestAContactSmugglesNoHeaderIn(t *testing.T) {
	f := newFetcher(nil, "a@example.org\r\nX-Evil: 1", time.Now)
	if strings.ContainsAny(f.agent, "\r\n") {
		t.Errorf("agent %q", f.agent)
	}
}

func TestWhatCheckSays(t *testing.T) {
	s := newStation(t)
	s.Close()
	sv, err := NewService(terms.Feed{URL: s.URL, Contact: "a@example.org", Station: "KQFK"}, time.Now)
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
