package config

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"stubbled/config/values"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
)

// plan reads the frost section: what the farm counts back from.
func (l *loader) plan(f *file) {
	e := l.root.get("frost")
	if e == nil {
		return
	}
	p := &l.farm.Plan
	p.Threshold = f.Frost.Threshold
	on, okOn := value[frost.PlanOn](l, e.get("plan_on"))
	p.Level = on.Percent()
	p.Place = cmp.Or(f.Frost.Place, l.farm.Name)
	hand, station := e.get("date"), e.get("station")
	switch {
	case hand != nil && station != nil:
		l.say(hand, "a station is named too (line %d); keep one: the station's record, or the date by hand", station.line)
	case e.written("date"):
		l.byHand(e, on, okOn)
	case e.written("station"):
		l.record(e, l.columns(e.get("columns"), f.Frost.Columns), on, okOn)
	default:
		l.problems = append(l.problems, Problem{File: l.file, Line: e.line, Key: "frost",
			Text: `says no frost date; want a station's record, such as station: quail-fork.csv, or a date by hand, such as {date: 10-18, spread: 10 days}`})
	}
	if spread := e.get("spread"); spread != nil && hand == nil && !e.written("date") {
		l.say(spread, "belongs to a date by hand; a station's record has its own spread")
	}
	if cols := e.get("columns"); cols != nil && station == nil && !e.written("station") {
		l.say(cols, "names the columns of a station file, and there is none; take it out")
	}
}

// byHand is a frost date without a record.
func (l *loader) byHand(e *entry, on frost.PlanOn, okOn bool) {
	day, ok := value[season.MonthDay](l, e.get("date"))
	spread, okSpread := value[float64](l, e.get("spread"))
	if !ok || !okSpread && e.get("spread") != nil || !okOn {
		return
	}
	l.farm.Plan.Hand = &season.Hand{Date: day, Spread: spread}
	dist, err := frost.HandDistribution(time.Month(day.Month), day.Day, spread)
	if err == nil {
		_, err = dist.PlanOffset(on)
	}
	if err != nil {
		l.say(e.get("date"), "%v", err)
	}
	if on.Percent() > 0 && spread == 0 {
		l.warn(e.get("date"), "has no spread, so planning on %s is planning on the date itself; add spread: 10 days", on)
	}
}

// record reads the station's file and asks whether it can be planned on.
func (l *loader) record(e *entry, cols frost.Columns, on frost.PlanOn, okOn bool) {
	station := e.get("station")
	if station == nil {
		return
	}
	path := l.beside(station.text)
	if isURL(station.text) {
		l.say(station, "%q is an address; download the file beside the farm file and name it", values.Clip(station.text))
		return
	}
	l.touch(path)
	in, err := l.opener(path)
	if err != nil {
		l.say(station, "station file %q %s", station.text, strings.Replace(fileTrouble(err), "no such file; write one with stubbled init, or name it with --farm",
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
		l.warnings = append(l.warnings, Problem{File: path, Line: p.Line, Text: p.Text})
	}
	if more := rec.Problems.Count() - len(rec.Problems.Named); more > 0 {
		l.warnings = append(l.warnings, Problem{File: path, Line: math.MaxInt32, Text: fmt.Sprintf("and %d more lines like these", more)})
	}
	if !okOn || l.farm.Plan.Threshold.IsZero() {
		return
	}
	if _, err := rec.Distribution(l.farm.Plan.Threshold, frost.Pick{}).PlanOffset(on); err != nil {
		where := e.get("plan_on")
		if where == nil || where.from == fromDefault {
			where = station
		}
		l.say(where, "cannot plan on %s with this record: %v", on, err)
	}
}

var fileAndLine = regexp.MustCompile(`:(\d+): `)

// sayRecord tells what was wrong in a station file at its own file and line,
// and names it in the farm file.
func (l *loader) sayRecord(station *entry, path string, err error) {
	text := err.Error()
	p := Problem{File: path, Text: strings.TrimPrefix(text, path+": ")}
	if rest, ok := strings.CutPrefix(text, path); ok {
		if m := fileAndLine.FindStringSubmatch(rest); m != nil && strings.HasPrefix(rest, m[0]) {
			p.Line, _ = strconv.Atoi(m[1])
			p.Text = strings.TrimPrefix(rest, m[0])
		}
	}
	l.problems = append(l.problems, p)
	l.say(station, "station file %q cannot be used: see %s", station.text, where(p))
}

func where(p Problem) string {
	if p.Line > 0 {
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return p.File
}

// columns reads what a station file's columns are called.
func (l *loader) columns(e *entry, names columnNames) frost.Columns {
	c := frost.Columns{Date: names.Date, Rain: names.Rain}
	unit := func(key, inC, inF string) string {
		if inC != "" && inF != "" {
			l.say(e.get(key+"_f"), "the file has %s_c too (line %d); keep one", key, e.get(key+"_c").line)
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
			l.say(e, "the minimum and the maximum must be in one unit")
		}
		c.Unit = as
		return inC + inF
	}
	c.Min, c.Max = unit("tmin", names.TMinC, names.TMinF), unit("tmax", names.TMaxC, names.TMaxF)
	return c
}

func isURL(text string) bool {
	return strings.HasPrefix(text, "http://") || strings.HasPrefix(text, "https://") || strings.HasPrefix(text, "ftp://")
}
