// Package station is in charge of which weather stations suit a farm: where a
// place is that people name, what NOAA's public list says of its stations, and
// which of them lie near, as high, with long and fresh records.
//
// It fetches nothing and reads no temperature.
package station

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A Station is one of NOAA's list that keeps minima.
type Station struct {
	ID, Name string
	Lat, Lon float64 // degrees, north and east positive
	Metres   float64 // above the sea; NaN where it is not known
	From, To int     // first and last year with minima
}

// The columns of NOAA's lists, from 0 (NOAA, readme of GHCN-Daily 3.26, sections
// IV and VII).
const (
	idEnd         = 11
	latAt, latEnd = 12, 20
	lonAt, lonEnd = 21, 30
	eleAt, eleEnd = 31, 37
	nameAt        = 41
	elementAt     = 31
	yearsAt       = 36
	inventoryLine = 45
)

// TMIN says whether a line of the inventory is of minima: nothing else of it is
// looked at, and need be kept.
func TMIN(line string) bool {
	return len(line) >= inventoryLine && line[elementAt:elementAt+4] == "TMIN"
}

// Read reads NOAA's list of stations and the inventory of what each of them
// keeps. The error says where either has another form than is known here, or is
// cut short.
func Read(stations, inventory io.Reader) ([]Station, error) {
	years := map[string][2]int{}
	err := lines("the inventory", inventory, func(line string) bool {
		if !TMIN(line) {
			return len(line) >= inventoryLine
		}
		from, errFrom := strconv.Atoi(line[yearsAt : yearsAt+4])
		to, errTo := strconv.Atoi(line[yearsAt+5 : yearsAt+9])
		years[line[:idEnd]] = [2]int{from, to}
		return errFrom == nil && errTo == nil && from <= to
	})
	if err != nil {
		return nil, err
	}
	var all []Station
	err = lines("the list of stations", stations, func(line string) bool {
		if len(line) <= nameAt {
			return false
		}
		span, kept := years[line[:idEnd]]
		lat, errLat := number(line[latAt:latEnd])
		lon, errLon := number(line[lonAt:lonEnd])
		metres, errEle := number(line[eleAt:eleEnd])
		if metres < -900 {
			metres = math.NaN() // -999.9
		}
		if kept {
			all = append(all, Station{line[:idEnd], strings.TrimSpace(line[nameAt:min(nameAt+30, len(line))]), lat, lon, metres, span[0], span[1]})
		}
		return errLat == nil && errLon == nil && errEle == nil && math.Abs(lat) <= 90 && math.Abs(lon) <= 180
	})
	if err == nil && len(all) == 0 {
		err = fmt.Errorf("the list of stations names none that keeps minima; has it another form now?")
	}
	return all, err
}

func number(text string) (float64, error) { return strconv.ParseFloat(strings.TrimSpace(text), 64) }

// lines takes a list line by line.
func lines(what string, from io.Reader, take func(string) bool) error {
	in := bufio.NewReader(from)
	for n := 1; ; n++ {
		line, err := in.ReadString('\n')
		if err == io.EOF && line == "" {
			return nil
		}
		if err == io.EOF {
			return fmt.Errorf("%s is cut short in line %d; fetch it again", what, n)
		}
		if err != nil {
			return fmt.Errorf("%s: line %d: %w", what, n, err)
		}
		if !take(strings.TrimRight(line, "\r\n")) {
			return fmt.Errorf("%s has another form than NOAA's readme says, from line %d on: %.60q", what, n, line)
		}
	}
}
