// Package dry is in charge of when rain is so short that head should move: rain since
// April against the station's own years on three dates of early summer, how much of the
// year's growth is still to come, how many head, and what two weeks of waiting cost; and
// of when a drought is asked about.
//
// It is pure and makes no words. Rain is in mm, a share from 0 to 1. A figure that
// nobody has measured or told is not known, and never reckoned.
package dry

import (
	"fmt"
	"maps"
	"math"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/figure"
	"stubbled/scheduler/frost"
)

// A date is one of the three on which it is told whether rain is short.
type date struct {
	month  time.Month
	day    int
	toCome figure.Figure // share of the year's growth of native grass after it
}

const (
	south  = "Noble Research Institute 2020 and AgProud 48777, southern Plains: half by the end of May, 70-80 % by August 1"
	plains = "Univ. of Nebraska, HPJ: half of it by June 15-30"
)

// dates are those of the southern and the central Plains. The sources do not agree with
// each other: range in the south, and sown stands farther north.
var dates = []date{
	{time.June, 1, figure.Of(0.7, 0.5, 0.8, figure.Read, "Mitchell & Anderson, NebGuide G1908, 2008: 70-80 % after June 1; "+south)},
	{time.June, 15, figure.Of(0.5, 0.45, 0.7, figure.SecondHand, plains+"; Missouri Dept. of Conservation: over 70 % after June 15; "+south)},
	{time.July, 1, figure.Of(0.5, 0.35, 0.5, figure.SecondHand, plains+"; "+south)},
}

// How short rain is, and what is advised then.
var (
	short     = figure.Of(0.75, 0.5, 0.75, figure.SecondHand, "Univ. of Nebraska, HPJ: at 50-75 % of normal rain stock 30-40 % fewer or more, May 20 to June 10")
	fewer     = figure.Of(0.3, 0.3, 0.4, figure.SecondHand, "Univ. of Nebraska, HPJ: at 50-75 % of normal rain stock 30-40 % fewer or more, May 20 to June 10")
	veryShort = short.Low
)

// Figures are those of the drought dates.
func Figures() (all figure.Names) {
	for _, d := range dates {
		all.Add("growth still to come", fmt.Sprintf("%s %d", d.month, d.day), "of the year's", d.toCome)
	}
	all.Add("drought", "rain that is short", "of the median", short)
	all.Add("drought", "head to move", "of all", fewer)
	return all
}

// Last is the latest of the dates up to a day of its year; zero before the first.
func Last(today civil.Date) (last civil.Date) {
	for _, d := range dates {
		if on := (civil.Date{Year: today.Year, Month: d.month, Day: d.day}); !on.After(today) {
			last = on
		}
	}
	return last
}

// Next is the first of the dates after a day of its year; zero after the last.
func Next(today civil.Date) civil.Date {
	for _, d := range dates {
		if on := (civil.Date{Year: today.Year, Month: d.month, Day: d.day}); on.After(today) {
			return on
		}
	}
	return civil.Date{}
}

// Rain is what fell since April 1, today left out.
type Rain struct {
	Since civil.Date
	frost.Rainfall
	Told bool // some of it is known by text alone
	// Little says that the last 60 days had less than four in five of the station's years.
	Little bool
}

// April is the day from which rain counts.
func April(today civil.Date) civil.Date {
	return civil.Date{Year: today.Year, Month: time.April, Day: 1}
}

// Told is the rain that was told of each day, mm, of the farm or of a paddock. Of what
// several people told of a day the most counts: it is the same rain.
func Told(facts []*diary.Fact, paddock string) map[civil.Date]float64 {
	told, each := map[civil.Date]float64{}, map[civil.Date]map[string]float64{}
	for _, f := range facts {
		if paddock != "" && !f.Concerns(paddock) {
			continue
		}
		if each[f.Day] == nil {
			each[f.Day] = map[string]float64{}
		}
		each[f.Day][f.By] += f.Amount * mmPerInch
		told[f.Day] = max(told[f.Day], each[f.Day][f.By])
	}
	return told
}

const mmPerInch = 25.4

// leastDays is how many days of rain may stand for those since April where a record
// begins later (assumption).
const leastDays = 30

// RainOf is the rain of a record since April, or since it has any; and on days of which
// it has none what was told. Where it has none of these days at all what was told is all
// that is known: a day nobody told of counts as dry.
func RainOf(r *frost.Record, told map[civil.Date]float64, today civil.Date) Rain {
	rain := Rain{Since: April(today)}
	days := today.DaysSince(rain.Since)
	if days <= 0 {
		return rain
	}
	if r == nil {
		r = &frost.Record{}
	}
	told = maps.Clone(told)
	maps.DeleteFunc(told, func(day civil.Date, _ float64) bool {
		return day.Before(rain.Since) || !day.Before(today) || r.Day(day).Rain.Known()
	})
	if len(told) == 0 && days > leastDays {
		known := r.RainKnown(today, leastDays, days)
		rain.Since, days = rain.Since.AddDays(days-known), known
	}
	rain.Rainfall = r.Rainfall(today, days)
	for _, mm := range told {
		rain.MM, rain.Told, rain.Known = rain.MM+mm, true, true
	}
	if !rain.Known {
		rain.Since = April(today)
	}
	late := r.Rainfall(today, frost.RainDays)
	rain.Little = late.Known && late.MedianKnown && late.MM < late.Fifth
	return rain
}

// A Call is what is to be decided on a date.
type Call struct {
	Date     civil.Date `json:"date,omitzero"`
	Since    civil.Date `json:"since,omitzero"`
	RainMM   float64    `json:"rain_mm"`
	Median   float64    `json:"median_mm,omitempty"` // 0 where no years are known
	Years    int        `json:"years,omitempty"`
	Known    bool       `json:"known,omitempty"` // of the rain since
	Told     bool       `json:"told,omitempty"`
	ComeLow  float64    `json:"come_low,omitempty"` // share of the growth still to come
	ComeHigh float64    `json:"come_high,omitempty"`
	Of       int        `json:"of,omitempty"`       // head that are here
	MoveLow  int        `json:"move_low,omitempty"` // head
	MoveHigh int        `json:"move_high,omitempty"`
	OrMore   bool       `json:"or_more,omitempty"`   // under half of the median
	WaitDays int        `json:"wait_days,omitempty"` // days of grass of those that stay, by waiting
}

// Tells reports whether it says that rain is short; else nobody knows.
func (c Call) Tells() bool { return c.Median > 0 }

// waiting is for how long it is said what waiting costs, in days.
const waiting = 14

// On is what is to be decided on one of the dates, with so many head now and then, in
// April; false where nothing is: rain is not clearly short, or as many have gone. Where
// nobody knows the rain, or what is usual, it is to be asked, on the first date alone.
func On(date civil.Date, rain Rain, now, then int) (c Call, due bool) {
	c = Call{Date: date, Since: rain.Since, RainMM: rain.MM, Known: rain.Known, Told: rain.Told, Years: rain.Years, Of: now}
	if !rain.Known || !rain.MedianKnown {
		return c, date.Month == dates[0].month && date.Day == dates[0].day
	}
	c.Median = rain.Median
	if rain.Median <= 0 || rain.MM > short.Value*rain.Median {
		return c, false
	}
	for _, d := range dates {
		if d.month == date.Month && d.day == date.Day {
			c.ComeLow, c.ComeHigh = d.toCome.Low, d.toCome.High
		}
	}
	gone := max(0, then-now)
	c.MoveLow, c.MoveHigh = share(then, fewer.Low)-gone, share(then, fewer.High)-gone
	c.OrMore = rain.MM < veryShort*rain.Median
	if c.OrMore {
		c.MoveLow = c.MoveHigh
	}
	if then > 0 && c.MoveHigh <= 0 || now == 0 && then > 0 {
		return c, false
	}
	c.MoveLow = max(0, c.MoveLow)
	if stay := now - c.MoveHigh; stay > 0 {
		c.WaitDays = int(math.Round(float64(waiting*c.MoveHigh) / float64(stay)))
	}
	return c, true
}

// share is a part of a herd in whole head, upwards.
func share(head int, part float64) int { return int(math.Ceil(float64(head)*part - 1e-9)) }
