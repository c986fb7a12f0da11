package farmtest

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// Dly is an invented record by the form of NOAA's readme (GHCN-Daily 3.26,
// section III): minima from August to December, at 5.0 C but for a frost on a day
// of October.
func Dly(id string, from, to, frostOn int) string {
	var b strings.Builder
	for year := from; year <= to; year++ {
		for month := 8; month <= 12; month++ {
			fmt.Fprintf(&b, "%s%d%02dTMIN", id, year, month)
			for day := 1; day <= 31; day++ {
				value := 50
				switch {
				case day == 31 && (month == 9 || month == 11):
					value = -9999
				case month == 10 && day == frostOn:
					value = -10
				}
				fmt.Fprintf(&b, "%5d   ", value)
			}
			b.WriteString("\n")
		}
	}
	return b.String()
}

// NOAA is a local archive of invented stations, and every fault one can have.
type NOAA struct {
	*httptest.Server
	Files  map[string]string
	Broken map[string]func(http.ResponseWriter) // by path
}

// NewNOAA starts one.
func NewNOAA(t testing.TB) *NOAA {
	t.Helper()
	n := &NOAA{Files: map[string]string{}, Broken: map[string]func(http.ResponseWriter){}}
	var list, inventory strings.Builder
	for i, s := range []struct {
		name      string
		lat, feet float64
		from, on  int
	}{
		{"OWL HILL", 39.05, 1000, 1990, 12}, {"PLUM RUN 6 SSW", 39.2, 1100, 1950, 7}, {"ELK BEND", 39.4, 900, 1990, 20}, {"FAR OFF", 40.2, 1000, 1990, 25},
	} {
		id := fmt.Sprintf("XX00000000%d", i+1)
		fmt.Fprintf(&list, "%-11s %8.4f %9.4f %6.1f %2s %-30s %3s %3s %5s\n", id, s.lat, -96.0, s.feet*0.3048, "KS", s.name, "", "", "")
		for _, element := range []string{"TMAX", "TMIN"} {
			fmt.Fprintf(&inventory, "%-11s %8.4f %9.4f %4s %4d %4d\n", id, s.lat, -96.0, element, s.from, 2025)
		}
		n.Files["/all/"+id+".dly"] = Dly(id, s.from, 2025, s.on)
	}
	n.Files["/ghcnd-stations.txt"], n.Files["/ghcnd-inventory.txt"] = list.String(), inventory.String()
	n.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if fault := n.Broken[r.URL.Path]; fault != nil {
			fault(w)
			return
		}
		text, ok := n.Files[r.URL.Path]
		if !ok {
			http.NotFound(w, r)
			return
		}
		fmt.Fprint(w, text)
	}))
	t.Cleanup(n.Close)
	return n
}
