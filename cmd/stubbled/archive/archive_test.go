package archive

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/station"
)

var (
	place = station.Place{Lat: 39, Lon: -96, Metres: 304.8}
	today = time.Date(2026, 8, 22, 12, 0, 0, 0, time.UTC)
)

// archive is that archive as a farm's machine sees it, and what it was told.
func archiveOf(t *testing.T, n *farmtest.NOAA) (Archive, *strings.Builder) {
	var said strings.Builder
	return Archive{Base: n.URL, Dir: t.TempDir(), Now: today, Say: func(s string) { said.WriteString(s + "\n") }}, &said
}

func names(best []Choice) string {
	var all []string
	for _, c := range best {
		all = append(all, c.Name)
	}
	return strings.Join(all, ", ")
}

func TestTheBestStationsAreShownSideBySide(t *testing.T) {
	n := farmtest.NewNOAA(t)
	a, _ := archiveOf(t, n)
	best, err := a.Choose(t.Context(), place)
	if err != nil || names(best) != "OWL HILL, PLUM RUN 6 SSW, ELK BEND" {
		t.Fatalf("%s, %v", names(best), err)
	}
	if best[0].Falls != 36 || best[1].Falls != 76 || best[0].To != 2025 || best[0].From != n.URL+"/all/XX000000001.dly" {
		t.Errorf("%+v", best[0].Candidate)
	}
	var out bytes.Buffer
	if err := Print(&out, best); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"OWL HILL (XX000000001)", "Oct 12", "Oct 7", "Oct 20", "+100 ft", "-100 ft", "76", "hollow"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("nothing says %q:\n%s", want, out.String())
		}
	}
}

func TestARecordThatCannotBeHadIsPassedOverAndSaid(t *testing.T) {
	for name, c := range map[string]struct {
		fault func(http.ResponseWriter)
		want  string
	}{
		"not there":       {func(w http.ResponseWriter) { w.WriteHeader(http.StatusNotFound) }, "the server answers 404"},
		"the server sick": {func(w http.ResponseWriter) { w.WriteHeader(http.StatusBadGateway) }, "the server answers 502"},
		"half a file": {func(w http.ResponseWriter) {
			text := farmtest.Dly("XX000000001", 1990, 2025, 12)
			w.Header().Set("Content-Length", fmt.Sprint(len(text)))
			fmt.Fprint(w, text[:len(text)/2])
		}, "only part of it came"},
		"half a file without a word": {func(w http.ResponseWriter) {
			fmt.Fprint(w, farmtest.Dly("XX000000001", 1990, 2025, 12)[:20_000])
		}, "its last line has no end"},
		"another form":      {func(w http.ResponseWriter) { fmt.Fprint(w, "{\"moved\": \"to the new service\"}\n") }, "no daily record known here"},
		"too few falls":     {func(w http.ResponseWriter) { fmt.Fprint(w, farmtest.Dly("XX000000001", 2023, 2025, 12)) }, "an average needs 5 falls"},
		"nothing but a 200": {func(w http.ResponseWriter) {}, "it is empty"},
	} {
		t.Run(name, func(t *testing.T) {
			n := farmtest.NewNOAA(t)
			n.Broken["/all/XX000000001.dly"] = c.fault
			a, said := archiveOf(t, n)
			best, err := a.Choose(t.Context(), place)
			if err != nil || names(best) != "PLUM RUN 6 SSW, ELK BEND, FAR OFF" {
				t.Errorf("%s, %v", names(best), err)
			}
			if !strings.Contains(said.String(), "passed over: ") || !strings.Contains(said.String(), c.want) {
				t.Errorf("it said\n%s\nwant %q", said, c.want)
			}
		})
	}
}

func TestTheListsOfLastMonthServeADayWithoutANetwork(t *testing.T) {
	n := farmtest.NewNOAA(t)
	a, said := archiveOf(t, n)
	if _, err := a.Stations(t.Context()); err != nil {
		t.Fatal(err)
	}
	if kept, err := os.ReadFile(filepath.Join(a.Dir, inventoryList)); err != nil || strings.Contains(string(kept), "TMAX") {
		t.Errorf("kept of the inventory: %s, %v", kept, err)
	}
	said.Reset()
	if all, err := a.Stations(t.Context()); err != nil || len(all) != 4 || said.Len() > 0 {
		t.Errorf("a fresh list was fetched again: %s, %v", said, err)
	}
	for name, fault := range map[string]func(http.ResponseWriter){
		"gone":            func(w http.ResponseWriter) { w.WriteHeader(http.StatusNotFound) },
		"another form":    func(w http.ResponseWriter) { fmt.Fprint(w, "id;latitude;longitude;and so on and so on\n") },
		"half of it":      func(w http.ResponseWriter) { fmt.Fprint(w, n.Files["/"+stationList][:100]) },
		"half the places": func(w http.ResponseWriter) { fmt.Fprint(w, n.Files["/"+stationList][:2*86]) },
	} {
		n.Broken["/"+stationList] = fault
		later := a
		later.Now = time.Now().AddDate(0, 2, 0) // against the file's own time
		said.Reset()
		if all, err := later.Stations(t.Context()); err != nil || len(all) != 4 || !strings.Contains(said.String(), "is used") {
			t.Errorf("%s: %d stations, %v, said %s", name, len(all), err, said)
		}
	}
	n.Close()
	later := a
	later.Now = time.Now().AddDate(0, 2, 0)
	if all, err := later.Stations(t.Context()); err != nil || len(all) != 4 {
		t.Errorf("without a network: %d stations, %v", len(all), err)
	}
	later.Dir = t.TempDir()
	if _, err := later.Choose(t.Context(), place); !errors.Is(err, ErrNoNetwork) {
		t.Errorf("without a network and a list: %v", err)
	}
}

func TestWhereNoStationIsNearADateByHandIsAdvised(t *testing.T) {
	a, _ := archiveOf(t, farmtest.NewNOAA(t))
	if _, err := a.Choose(t.Context(), station.Place{Lat: -39, Lon: 140, Metres: math.NaN()}); err == nil || !strings.Contains(err.Error(), "give the date by hand") {
		t.Error(err)
	}
}

// refresher keeps the first station's record, as it was until a year.
func refresherOf(t *testing.T, n *farmtest.NOAA, until int) (*Refresher, *bytes.Buffer) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "XX000000001.dly")
	if err := Keep(path, []byte(farmtest.Dly("XX000000001", 1990, until, 12))); err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	return &Refresher{URL: n.URL + "/all/XX000000001.dly", Path: path, Threshold: frost.Freeze32F, Now: time.Now, Log: slog.New(slog.NewTextHandler(&log, nil))}, &log
}

func TestAFreshRecordTakesTheOldOnesPlaceAndAWorseOneDoesNot(t *testing.T) {
	n := farmtest.NewNOAA(t)
	r, _ := refresherOf(t, n, 2020)
	if err := r.Once(t.Context()); err != nil {
		t.Fatal(err)
	}
	if got, err := frost.ReadFile(r.Path, frost.Options{}); err != nil || got.Last().Year != 2025 {
		t.Errorf("after the night it ends on %v, %v", got.Last(), err)
	}
	for name, worse := range map[string]string{
		"ends earlier":    farmtest.Dly("XX000000001", 1990, 2024, 12),
		"begins later":    farmtest.Dly("XX000000001", 2000, 2025, 12),
		"lacks a fall":    farmtest.Dly("XX000000001", 1990, 2000, 12) + farmtest.Dly("XX000000001", 2002, 2025, 12),
		"another station": farmtest.Dly("XX000000009", 1990, 2025, 12),
	} {
		n.Files["/all/XX000000001.dly"] = worse
		r, log := refresherOf(t, n, 2025)
		was, err := os.ReadFile(r.Path)
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Once(t.Context()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if now, err := os.ReadFile(r.Path); err != nil || !bytes.Equal(was, now) || !strings.Contains(log.String(), "is worse") {
			t.Errorf("%s: the old one did not stay (%v), or it was not said: %s", name, err, log)
		}
	}
}

func TestAFileThatIsNoRecordNeverTakesTheOldOnesPlace(t *testing.T) {
	n := farmtest.NewNOAA(t)
	for name, fault := range map[string]func(http.ResponseWriter){
		"gone":         func(w http.ResponseWriter) { w.WriteHeader(http.StatusNotFound) },
		"half of it":   func(w http.ResponseWriter) { fmt.Fprint(w, n.Files["/all/XX000000001.dly"][:30_000]) },
		"another form": func(w http.ResponseWriter) { fmt.Fprint(w, "<html>we moved</html>\n") },
	} {
		n.Broken["/all/XX000000001.dly"] = fault
		r, _ := refresherOf(t, n, 2025)
		if err := r.Once(t.Context()); err == nil {
			t.Errorf("%s was taken", name)
		}
		if got, err := frost.ReadFile(r.Path, frost.Options{}); err != nil || got.Last().Year != 2025 {
			t.Errorf("%s: the old one is %v", name, err)
		}
	}
}

// A night is over when its file is fresh; a network that is away for a day is
// told to nobody, and one away for more than a week is.
func TestADayWithoutANetworkIsNoFaultAndAWeekIs(t *testing.T) {
	n := farmtest.NewNOAA(t)
	n.Close()
	for name, c := range map[string]struct {
		age  time.Duration
		told bool
	}{"a day": {30 * time.Hour, false}, "eight days": {8 * 24 * time.Hour, true}} {
		t.Run(name, func(t *testing.T) {
			r, _ := refresherOf(t, n, 2025)
			r.Now = func() time.Time { return time.Now().Add(c.age) }
			ctx, stop := context.WithCancel(t.Context())
			told, tried := make(chan error, 1), make(chan bool, 1)
			r.Log = slog.New(slog.NewTextHandler(write(func() { tried <- true }), nil))
			go func() { _ = r.Run(ctx, nil, func(err error) { told <- err }) }()
			select {
			case err := <-told:
				if !c.told || !errors.Is(err, ErrNoNetwork) {
					t.Errorf("told %v", err)
				}
			case <-tried:
				if c.told {
					t.Error("it was not told")
				}
			}
			stop()
		})
	}
}

// write is a writer that tells when it is written to.
type write func()

func (w write) Write(b []byte) (int, error) { w(); return len(b), nil }
