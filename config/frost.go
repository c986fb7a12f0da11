package config

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
)

// plan reads the frost section: what the farm counts back from.
func (l *loader) plan(f *file) {
	e := l.Root.Get("frost")
	if e == nil {
		return
	}
	p := &l.farm.Plan
	p.Threshold = f.Frost.Threshold
	on, okOn := settings.Value[frost.PlanOn](l.Reading, e.Get("plan_on"))
	p.Level = on.Percent()
	l.farm.From = f.Frost.From
	p.Place, p.Years = cmp.Or(f.Frost.Place, l.farm.Name), f.Frost.Years
	hand, station := e.Get("date"), e.Get("station")
	switch {
	case hand != nil && station != nil:
		l.Say(hand, "a station is named too (line %d); keep one: the station's record, or the date by hand", station.Line)
	case e.Written("date"):
		l.byHand(e, on, okOn)
	case e.Written("station"):
		l.record(e, l.columns(e, f.Frost.Columns, f.Frost.Units), on, okOn)
	default:
		l.Say(e, `says no frost date; want a station's record, such as station: quail-fork.csv, or a date by hand, such as {date: 10-18, spread: 10 days}`)
	}
	if spread := e.Get("spread"); spread != nil && hand == nil && !e.Written("date") {
		l.Say(spread, "belongs to a date by hand; a station's record has its own spread")
	}
	if from, cols := e.Get("from"), e.Get("columns"); from != nil && cols != nil {
		l.Say(cols, "names the columns of a file of your own, and it is fetched anew (line %d); keep one", from.Line)
	}
	for _, key := range []string{"from", "columns", "units", "years"} {
		if at := e.Get(key); at != nil && station == nil && !e.Written("station") {
			l.Say(at, "is said of a station file, and there is none; take it out")
		}
	}
}

// byHand is a frost date without a record.
func (l *loader) byHand(e *settings.Entry, on frost.PlanOn, okOn bool) {
	day, ok := settings.Value[season.MonthDay](l.Reading, e.Get("date"))
	spread, okSpread := settings.Value[float64](l.Reading, e.Get("spread"))
	if !ok || !okSpread && e.Get("spread") != nil || !okOn {
		return
	}
	l.farm.Plan.Hand = &season.Hand{Date: day, Spread: spread}
	dist, err := frost.HandDistribution(time.Month(day.Month), day.Day, spread)
	if err == nil {
		err = l.planOn(dist, on)
	}
	if err != nil {
		l.Say(e.Get("date"), "%v", err)
	}
	if on.Percent() > 0 && spread == 0 {
		l.Warn(e.Get("date"), "has no spread, so planning on %s is planning on the date itself; add spread: 10 days", on)
	}
}

// record reads the station's file and asks whether it can be planned on.
func (l *loader) record(e *settings.Entry, cols frost.Columns, on frost.PlanOn, okOn bool) {
	station := e.Get("station")
	if station == nil {
		return
	}
	path := l.Source.Beside(station.Text)
	if strings.Contains(station.Text, "://") {
		l.Say(station, "%q is an address; download the file beside the farm file and name it", values.Clip(station.Text))
		return
	}
	l.from.touch(path)
	in, err := l.from.open(path)
	if err != nil {
		l.Say(station, "station file %q %s", station.Text, strings.Replace(fileTrouble(err), "no such file; write one with stubbled init, or name it with --farm",
			"is not there; put it beside the farm file, or give a date by hand: {date: 10-18, spread: 10 days}", 1))
		return
	}
	defer in.Close()
	rec, err := frost.Read(path, in, frost.Options{Columns: cols})
	if err != nil {
		l.sayRecord(station, path, err)
		return
	}
	l.farm.Plan.Record, l.farm.Station = rec, path
	for _, p := range rec.Problems.Named {
		l.Warnings = append(l.Warnings, settings.Problem{File: path, Line: p.Line, Text: p.Text})
	}
	if more := rec.Problems.Count() - len(rec.Problems.Named); more > 0 {
		l.Warnings = append(l.Warnings, settings.Problem{File: path, Line: math.MaxInt32, Text: fmt.Sprintf("and %d more lines like these", more)})
	}
	if !okOn || l.farm.Plan.Threshold.IsZero() {
		return
	}
	if err := l.planOn(rec.Distribution(l.farm.Plan.Threshold, frost.Pick{Last: l.farm.Plan.Years}), on); err != nil {
		where := e.Get("plan_on")
		if !where.Said() {
			where = station
		}
		l.Say(where, "cannot plan on %s with this record: %v", on, err)
	}
}

// planOn notes what is counted back from.
func (l *loader) planOn(d frost.Distribution, on frost.PlanOn) error {
	offset, err := d.PlanOffset(on)
	if err == nil {
		l.planned = &offset
	}
	return err
}

// beforeItsYear refuses a cutoff that would come before the grass's year begins.
func (l *loader) beforeItsYear(e *settings.Entry, p *season.Paddock) {
	if l.planned == nil || p.Rule.Spring.IsZero() {
		return
	}
	first := frost.DateIn(2001, *l.planned).AddDays(p.FrostOffset)
	cutoff := first.AddDays(-p.Rule.RestDays)
	if turn := p.Rule.Spring; cutoff.Year < 2001 || cutoff.Before(civil.Date{Year: 2001, Month: time.Month(turn.Month), Day: turn.Day}) {
		l.Say(e, "would shut on %s, %d days before frost on %s, and the grass's year begins only on %02d-%02d (spring); rest it for fewer days",
			cutoff.In(time.UTC).Format("Jan 2"), p.Rule.RestDays, first.In(time.UTC).Format("Jan 2"), turn.Month, turn.Day)
	}
}

var fileAndLine = regexp.MustCompile(`:(\d+): `)

// sayRecord tells what was wrong in a station file at its own file and line,
// and names it in the farm file.
func (l *loader) sayRecord(station *settings.Entry, path string, err error) {
	text := err.Error()
	p := settings.Problem{File: path, Text: strings.TrimPrefix(text, path+": ")}
	if rest, ok := strings.CutPrefix(text, path); ok {
		if m := fileAndLine.FindStringSubmatch(rest); m != nil && strings.HasPrefix(rest, m[0]) {
			p.Line, _ = strconv.Atoi(m[1])
			p.Text = strings.TrimPrefix(rest, m[0])
		}
	}
	l.Problems = append(l.Problems, p)
	l.Say(station, "station file %q cannot be used: see %s", station.Text, p.Where())
}

// columns reads what a station file's columns are called, and what they are in.
func (l *loader) columns(e *settings.Entry, names columnNames, said frost.Unit) frost.Columns {
	cols := e.Get("columns")
	c := frost.Columns{Date: names.Date, Rain: names.Rain, Unit: said}
	unit := func(key, inC, inF string) string {
		if inC != "" && inF != "" {
			l.Say(cols.Get(key+"_f"), "the file has %s_c too (line %d); keep one", key, cols.Get(key+"_c").Line)
			return ""
		}
		as := frost.Celsius
		switch {
		case inF != "":
			as = frost.Fahrenheit
		case inC == "":
			return ""
		}
		if c.Unit != frost.UnitUnknown && c.Unit != as {
			l.Say(cols, "the minimum and the maximum must be in one unit, and in that of units: where it is written")
		}
		c.Unit = as
		return inC + inF
	}
	c.Min, c.Max = unit("tmin", names.TMinC, names.TMinF), unit("tmax", names.TMaxC, names.TMaxF)
	return c
}
