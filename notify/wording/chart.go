package wording

import (
	"strconv"
	"time"

	"github.com/golang-sql/civil"
)

// ChartWords are the few words on the season's picture.
type ChartWords struct {
	v                                                  voice
	Title, Open, Rest, Spread, Today, Reading, FallUse string
}

// Chart gives the words of the season's picture of a farm.
func Chart(o Options, farm string) ChartWords {
	v := newVoice(o)
	return ChartWords{
		v:     v,
		Title: v.say("chart.title", "farm", farm), Open: v.say("chart.open"), Rest: v.say("chart.rest"),
		Spread: v.say("chart.spread"), Today: v.say("chart.today"), Reading: v.say("chart.reading"), FallUse: v.say("chart.fall-use"),
	}
}

// Month is a month's short name.
func (c ChartWords) Month(m time.Month) string { return c.v.say("mon." + strconv.Itoa(int(m))) }

// Day is a date as people say it.
func (c ChartWords) Day(d civil.Date) string { return c.v.date(d) }

// Rule is what to leave and what is wanted, in inches.
func (c ChartWords) Rule(leave, target float64) string {
	return c.v.say("chart.rule", "height", c.v.length(leave), "wanted", c.v.length(target))
}

// LessonWords are the few words on the picture of a paddock's finished falls.
type LessonWords struct {
	v                         voice
	Title, Note, Wanted, Left string
}

// LessonChart gives the words of the picture of a paddock's falls.
func LessonChart(o Options, name string) LessonWords {
	v := newVoice(o)
	return LessonWords{
		v: v, Title: v.say("chart.falls", "paddock", name), Note: v.say("chart.falls.note"),
		Wanted: v.say("chart.wanted"), Left: v.say("chart.left"),
	}
}

// Length is a height as the farm says it.
func (l LessonWords) Length(inches float64) string { return l.v.length(inches) }

// CalendarEntry is the title and the note of a cutoff in a calendar.
func CalendarEntry(o Options, name string, leave, target float64, frost civil.Date) (title, note string) {
	v := newVoice(o)
	if frost.IsZero() {
		return v.say("calendar.back", "paddock", name), ""
	}
	return v.say("calendar.cutoff", "paddock", name, "height", v.length(leave)), v.say("calendar.note", "height", v.length(target), "day", v.date(frost))
}
