// Package demo_test is in charge of one thing: inventing the temperature record
// of Quail Fork, a place that doesn't exist, so that the demo farm has a climate
// to plan on. The same seed gives the same file to the byte; go test -update
// writes it anew.
//
// It is no climate model and nothing at run time uses it: its output is kept
// beside it as quail-fork.csv and read like any station's record.
package demo_test

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"time"
)

// The record's span, whole years.
const (
	firstYear = 1996
	lastYear  = 2025
)

// climate is what the invented days are drawn around: monthly normals shaped
// like those of eastern Kansas (from memory, rounded), in degrees C and mm.
var climate = struct {
	minMean, minSwing float64 // yearly mean and half-swing of the daily minimum
	maxMean, maxSwing float64
	spreadWinter      float64 // standard deviation of a day's departure, mid-January
	spreadSummer      float64 // the same, mid-July
	keep              float64 // how much of a departure is left the next day
	yearSpread        float64 // of a whole season's departure
	rainMM            [12]float64
	rainDays          [12]float64
}{
	minMean: 4.6, minSwing: 15.0, maxMean: 19.2, maxSwing: 14.0,
	spreadWinter: 4.4, spreadSummer: 2.5, keep: 0.58, yearSpread: 1.0,
	rainMM:   [12]float64{18, 27, 58, 85, 128, 135, 108, 102, 84, 72, 42, 28},
	rainDays: [12]float64{5, 5, 8, 10, 11, 10, 9, 9, 7, 7, 6, 5},
}

// seed is fixed so that the record never changes under the demo's feet.
const seed = 20

// hottest is the day of the year around which the warmth swings.
const hottest = 197

// write writes the record as a plain CSV: date, minimum and maximum in degrees
// C, rain in mm.
func write(to io.Writer) error {
	w := bufio.NewWriter(to)
	fmt.Fprintf(w, "# INVENTED temperatures of an invented place, Quail Fork. Made by a seeded generator (seed %d)\n", seed)
	fmt.Fprintf(w, "# in the likeness of eastern Kansas. Nobody measured any of this: plan no real farm on it.\n")
	fmt.Fprintln(w, "date,tmin_c,tmax_c,rain_mm")
	r := rand.New(rand.NewPCG(seed, seed))
	s := sky{rand: r}
	for d := time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() <= lastYear; d = d.AddDate(0, 0, 1) {
		lo, hi, rain := s.next(d)
		fmt.Fprintf(w, "%s,%.1f,%.1f,%.1f\n", d.Format(time.DateOnly), lo, hi, rain)
	}
	return w.Flush()
}

// sky is the weather from day to day.
type sky struct {
	rand      *rand.Rand
	departure float64 // of the air mass, in standard deviations
	season    float64 // of the whole season, degrees C
	wet       bool
}

func (s *sky) next(d time.Time) (lo, hi, rain float64) {
	c := &climate
	if d.Month() == time.June && d.Day() == 1 || d.Year() == firstYear && d.YearDay() == 1 {
		s.season = s.rand.NormFloat64() * c.yearSpread
	}
	swing := math.Cos(2 * math.Pi * float64(d.YearDay()-hottest) / 365.25)
	spread := c.spreadWinter + (c.spreadSummer-c.spreadWinter)*(swing+1)/2
	s.departure = c.keep*s.departure + math.Sqrt(1-c.keep*c.keep)*s.rand.NormFloat64()
	rain = s.rain(d.Month())
	lo = c.minMean + c.minSwing*swing + s.season + spread*s.departure + 1.1*s.rand.NormFloat64()
	hi = c.maxMean + c.maxSwing*swing + s.season + 1.1*spread*s.departure + 1.6*s.rand.NormFloat64()
	if rain > 0 { // clouds: a warmer night and a cooler day
		lo, hi = lo+0.9, hi-2.4
	} else {
		lo, hi = lo-0.4, hi+0.8
	}
	hi = math.Max(hi, lo+1.5+s.rand.Float64())
	return lo, hi, rain
}

// rain draws a day's rain: wet days come in spells, and their amounts are
// mostly small with a few downpours.
func (s *sky) rain(m time.Month) float64 {
	c := &climate
	chance := c.rainDays[m-1] / 30.4
	if s.wet {
		chance += 0.18
	} else {
		chance -= 0.06
	}
	s.wet = s.rand.Float64() < chance
	if !s.wet {
		return 0
	}
	mean := c.rainMM[m-1] / c.rainDays[m-1]
	amount := mean * math.Pow(s.rand.ExpFloat64(), 1.4) / math.Gamma(2.4)
	return math.Max(math.Round(amount*10)/10, 0.1)
}
