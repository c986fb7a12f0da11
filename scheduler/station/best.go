package station

import (
	"cmp"
	"math"
	"slices"
)

// A Candidate is a station as seen from a place.
type Candidate struct {
	Station
	Miles float64 // away
	Feet  float64 // higher than the place, negative lower; 0 where either is not known
	Falls int     // whose frost counts; as long as its record was not read, the years it spans
}

// Hopkins' law, how far and how high is a day earlier or later: 4 days for 400 ft
// and for a degree of latitude, which is 69 miles (Hopkins, Monthly Weather
// Review Supplement 9, 1918; from memory).
const (
	feetADay  = 100
	milesADay = 69.0 / 4
)

// spreadOfFalls is the usual standard deviation of a station's first frosts, in
// days (derived, as in scheduler/frost): their mean over n falls is as sure as
// its share by the root of n.
const spreadOfFalls = 12

// daysAYear is how much a record that ended so many years ago is off, by a trend
// of two days a decade (assumption).
const daysAYear = 0.2

// The farthest station, the fewest falls that are of any use, and the longest
// that a record may be silent.
const (
	farthest    = 100 // miles
	fewestFalls = 10
	mostSilent  = 10 // years
)

// Off is how many days the station's average frost is likely to be off the
// place's own, in the given year: what its distance, its height, few falls and
// an old end make together.
func (c Candidate) Off(year int) float64 {
	return c.Miles/milesADay + math.Abs(c.Feet)/feetADay +
		spreadOfFalls/math.Sqrt(float64(max(c.Falls, 1))) + daysAYear*float64(max(0, year-1-c.To))
}

// Near are the stations that can be of use to a place, the best first.
func Near(p Place, all []Station, year int) []Candidate {
	if math.IsNaN(p.Metres) {
		p.Metres = height(p, all)
	}
	var near []Candidate
	for _, s := range all {
		c := Candidate{Station: s, Miles: miles(p, s), Falls: s.To - s.From + 1}
		if feet := (s.Metres - p.Metres) / metresAFoot; !math.IsNaN(feet) {
			c.Feet = feet
		}
		if c.Miles <= farthest && c.Falls >= fewestFalls && year-s.To <= mostSilent {
			near = append(near, c)
		}
	}
	Sort(near, year)
	return near
}

// Sort puts the best first; two that are as good by name.
func Sort(all []Candidate, year int) {
	slices.SortFunc(all, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(a.Off(year), b.Off(year)), cmp.Compare(a.ID, b.ID))
	})
}

const (
	metresAFoot  = 0.3048
	earthInMiles = 3958.8 // mean radius, 6,371.0 km (IUGG)
)

// miles is the way along the great circle (haversine).
func miles(p Place, s Station) float64 {
	rad := math.Pi / 180
	dLat, dLon := (s.Lat-p.Lat)*rad/2, (s.Lon-p.Lon)*rad/2
	h := math.Pow(math.Sin(dLat), 2) + math.Cos(p.Lat*rad)*math.Cos(s.Lat*rad)*math.Pow(math.Sin(dLon), 2)
	return 2 * earthInMiles * math.Asin(math.Min(1, math.Sqrt(h)))
}

// height is about how high a place lies: the middle of the five nearest stations.
// Not a number where none is near.
func height(p Place, all []Station) float64 {
	type way struct{ miles, metres float64 }
	var near []way
	for _, s := range all {
		if d := miles(p, s); d <= farthest && !math.IsNaN(s.Metres) {
			near = append(near, way{d, s.Metres})
		}
	}
	slices.SortFunc(near, func(a, b way) int { return cmp.Compare(a.miles, b.miles) })
	if near = near[:min(5, len(near))]; len(near) == 0 {
		return math.NaN()
	}
	slices.SortFunc(near, func(a, b way) int { return cmp.Compare(a.metres, b.metres) })
	return near[len(near)/2].metres
}
