package station_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stubbled/scheduler/station"
)

// listed is a line of each list, by the columns of NOAA's readme (GHCN-Daily
// 3.26, sections IV and VII), for an invented station.
func listed(id string, lat, lon, metres float64, name string, from, to int) (list, inventory string) {
	list = fmt.Sprintf("%-11s %8.4f %9.4f %6.1f %2s %-30s %3s %3s %5s\n", id, lat, lon, metres, "KS", name, "", "HCN", "")
	for _, element := range []string{"TMAX", "TMIN", "PRCP"} {
		inventory += fmt.Sprintf("%-11s %8.4f %9.4f %4s %4d %4d\n", id, lat, lon, element, from, to)
	}
	return list, inventory
}

func TestNOAAsListsAreReadByTheirColumns(t *testing.T) {
	list, inventory := listed("XX000000001", 39.1, -96.6, 335.3, "OWL HILL 2 N", 1901, 2025)
	rain, only := listed("XX000000002", -39.1, 96.6, -999.9, "PLUM RUN", 1950, 2001)
	all, err := station.Read(strings.NewReader(list+rain), strings.NewReader(inventory+strings.Split(only, "\n")[2]+"\n"))
	want := station.Station{ID: "XX000000001", Name: "OWL HILL 2 N", Lat: 39.1, Lon: -96.6, Metres: 335.3, From: 1901, To: 2025}
	if err != nil || len(all) != 1 || all[0] != want {
		t.Errorf("%+v, %v", all, err)
	}
	all, err = station.Read(strings.NewReader(rain), strings.NewReader(only))
	if err != nil || len(all) != 1 || !math.IsNaN(all[0].Metres) || all[0].Lat != -39.1 {
		t.Errorf("a station whose height is not known: %+v, %v", all, err)
	}
}

func TestAListOfAnotherFormIsRefusedAtItsLine(t *testing.T) {
	list, inventory := listed("XX000000001", 39.1, -96.6, 335.3, "OWL HILL", 1901, 2025)
	for _, c := range []struct{ name, list, inventory, want string }{
		{"a list cut short", list[:50], inventory, "the list of stations is cut short in line 1"},
		{"an inventory cut short", list, inventory[:len(inventory)-20], "the inventory is cut short in line 3"},
		{"commas", "XX000000001,39.1,-96.6,335.3,KS,OWL HILL,,HCN,xxxxxxxxx\n", inventory, "the list of stations has another form than NOAA's readme says, from line 1 on"},
		{"a web page", "<html><body>moved, see the other page of this place</body></html>\n", inventory, "another form"},
		{"other years", list, strings.ReplaceAll(inventory, "1901 2025", "2025 1901"), "the inventory has another form than NOAA's readme says, from line 2 on"},
		{"nothing", "", "", "names none that keeps minima"},
		{"north of the pole", strings.Replace(list, " 39.1000", "939.1000", 1), inventory, "another form"},
	} {
		if _, err := station.Read(strings.NewReader(c.list), strings.NewReader(c.inventory)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// A degree of latitude is a 360th of the earth's way round: 69.09 miles at its
// mean radius of 6,371.0 km (IUGG).
func TestTheBestStationIsNearAsHighLongAndFresh(t *testing.T) {
	place := station.Place{Lat: 39, Lon: -96, Metres: 300}
	at := func(id string, lat, metres float64, from, to int) station.Station {
		return station.Station{ID: id, Lat: lat, Lon: -96, Metres: metres, From: from, To: to}
	}
	for _, c := range []struct {
		name          string
		better, worse station.Station
	}{
		{"the nearer one", at("b", 39.2, 300, 1950, 2025), at("a", 39.5, 300, 1950, 2025)},
		{"the one at its height", at("b", 39.2, 300, 1950, 2025), at("a", 39.2, 600, 1950, 2025)},
		{"a longer record", at("b", 39.2, 300, 1950, 2025), at("a", 39.2, 300, 2012, 2025)},
		{"a fresher record", at("b", 39.2, 300, 1950, 2025), at("a", 39.2, 300, 1942, 2017)},
		{"17 miles farther rather than 300 ft higher", at("b", 39.45, 300, 1950, 2025), at("a", 39.2, 391.4, 1950, 2025)},
		{"close by with 20 falls rather than far with 100", at("b", 39.05, 300, 2006, 2025), at("a", 40.2, 300, 1926, 2025)},
		{"the first by name of two that are alike", at("a", 39.2, 300, 1950, 2025), at("b", 39.2, 300, 1950, 2025)},
	} {
		if best := station.Near(place, []station.Station{c.worse, c.better}, 2026); len(best) != 2 || best[0].ID != c.better.ID {
			t.Errorf("%s is not the better one: %+v", c.name, best)
		}
	}
	best := station.Near(place, []station.Station{at("north", 40, 330.48, 1950, 2025)}, 2026)
	if len(best) != 1 || math.Abs(best[0].Miles-69.09) > 0.01 || math.Abs(best[0].Feet-100) > 0.1 || best[0].Falls != 76 {
		t.Errorf("a degree north and 100 ft up: %+v", best)
	}
	for name, s := range map[string]station.Station{
		"beyond reach": at("a", 41, 300, 1950, 2025), "of nine years": at("a", 39, 300, 2017, 2025), "silent for eleven years": at("a", 39, 300, 1950, 2015),
	} {
		if best := station.Near(place, []station.Station{s}, 2026); len(best) > 0 {
			t.Errorf("a station %s is offered: %+v", name, best)
		}
	}
}

func TestAPlaceOfUnknownHeightIsAsHighAsItsNeighbours(t *testing.T) {
	var all []station.Station
	for i, metres := range []float64{300, 310, 320, 330, 340, 1500, 1500, 1500} {
		all = append(all, station.Station{ID: fmt.Sprint(i), Lat: 39 + float64(i)/10, Lon: -96, Metres: metres, From: 1950, To: 2025})
	}
	for _, c := range station.Near(station.Place{Lat: 39, Lon: -96, Metres: math.NaN()}, all, 2026) {
		if c.ID == "2" && math.Abs(c.Feet) > 0.01 {
			t.Errorf("the middle one of the five nearest is %+.0f ft off", c.Feet)
		}
	}
}

// Degrees to within two hundredths (1.4 miles): the towns' own, as published by
// the Census Bureau's gazetteer of places (from memory).
func TestAPlaceIsFoundByTownByZIPAndByDegrees(t *testing.T) {
	for _, c := range []struct {
		text     string
		lat, lon float64
		off      float64
	}{
		{"39.10,-96.61", 39.10, -96.61, 0}, {" +39.1 , -96.61 , 335 m", 39.1, -96.61, 0}, {"39,-96,1100ft", 39, -96, 0},
		{"Manhattan, KS", 39.19, -96.60, 0.1}, {"manhattan,kansas", 39.19, -96.60, 0.1}, {"Manhattan KS", 39.19, -96.60, 0.1}, {"manhattan kansas", 39.19, -96.60, 0.1}, {"New York New York", 40.71, -74.01, 0.1},
		{"39.10 -96.61", 39.10, -96.61, 0}, {"St. Joseph MO", 39.77, -94.85, 0.15}, {"Mt Vernon, MO", 37.10, -93.82, 0.1}, {"New York, New York", 40.71, -74.01, 0.1}, {"66502", 39.19, -96.60, 0.1}, {"66502-1234", 39.19, -96.60, 0.1},
	} {
		p, err := station.FindPlace(c.text)
		if err != nil || math.Abs(p.Lat-c.lat) > c.off || math.Abs(p.Lon-c.lon) > c.off {
			t.Errorf("%q: %+v, %v", c.text, p, err)
		}
	}
	if p, _ := station.FindPlace("39,-96,1000ft"); math.Abs(p.Metres-304.8) > 1e-9 {
		t.Errorf("1000 ft are %g m", p.Metres)
	}
}

func TestAPlaceThatIsNotKnownIsAnsweredWithTheMend(t *testing.T) {
	for text, want := range map[string]string{
		"":                 "want a town with its state",
		"Manhattan":        `"Manhattan" names no state; write the town with it (Manhattan, KS)`,
		"Manhattn KS":      `did you mean "Manhattan, KS"?`,
		"Manhattn, KS":     `did you mean "Manhattan, KS"?`,
		"Manhattan, Texoz": `"Texoz" is no state; write its two letters`,
		"Owlburg Run, KS":  "no Owlburg Run in KS is known; take the town of the post office",
		"00000":            "no ZIP code 00000 is known",
		"96.61,-190":       "is nowhere on earth; write degrees north",
		"99,-96":           "is nowhere on earth",
	} {
		if p, err := station.FindPlace(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %+v, %v; want %q", text, p, err, want)
		}
	}
}
