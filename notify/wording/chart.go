package wording

import (
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
		Title: v.say("chart.title", farm), Open: v.say("chart.open"), Rest: v.say("chart.rest"),
		Spread: v.say("chart.spread"), Today: v.say("chart.today"), Reading: v.say("chart.reading"), FallUse: v.say("chart.fall-use"),
	}
}

// Month is a month's short name.
func (c ChartWords) Month(m time.Month) string { return c.v.say("mon." + digits[m]) }

// Day is a date as people say it.
func (c ChartWords) Day(d civil.Date) string { return c.v.date(d) }

// Rule is what to leave and what is wanted, in inches.
func (c ChartWords) Rule(leave, target float64) string {
	return c.v.say("chart.rule", c.v.length(leave), c.v.length(target))
}

var englishChart = phrases{
	"chart.title":      "%[1]s: when each paddock rests",
	"chart.open":       "may be grazed",
	"chart.rest":       "rests, keep shut",
	"chart.spread":     "frost planned on, and its dates in 8 of 10 falls",
	"chart.today":      "today",
	"chart.reading":    "height read",
	"chart.fall-use":   "grazed on purpose",
	"chart.falls":      "%[1]s: from cutoff to the end of rest",
	"chart.falls.note": "ring: when rest began; dot: when it ended; dashed: that fall teaches nothing",
	"calendar.cutoff":  "%[1]s: rest starts, must be empty. Leave %[2]s",
	"calendar.back":    "%[1]s goes back: must be empty",
	"calendar.note":    "Wanted at frost: %[1]s. Frost planned on %[2]s.",
	"chart.wanted":     "wanted",
	"chart.left":       "to leave",
	"chart.rule":       "leave %[1]s, want %[2]s",
}

var spanishChart = phrases{
	"chart.title":      "%[1]s: cuándo descansa cada potrero",
	"chart.open":       "se puede pastorear",
	"chart.rest":       "descansa, cerrado",
	"chart.spread":     "helada prevista, y sus fechas en 8 de 10 otoños",
	"chart.today":      "hoy",
	"chart.reading":    "altura medida",
	"chart.fall-use":   "pastoreo a propósito",
	"chart.falls":      "%[1]s: del cierre al fin del descanso",
	"chart.falls.note": "aro: al empezar el descanso; punto: al terminar; a rayas: ese otoño no enseña",
	"calendar.cutoff":  "%[1]s: empieza el descanso, debe estar vacío. Dejar %[2]s",
	"calendar.back":    "%[1]s se entrega: debe estar vacío",
	"calendar.note":    "Se busca a la helada: %[1]s. Helada prevista el %[2]s.",
	"chart.wanted":     "se busca",
	"chart.left":       "dejar",
	"chart.rule":       "dejar %[1]s, se busca %[2]s",
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
		v: v, Title: v.say("chart.falls", name), Note: v.say("chart.falls.note"),
		Wanted: v.say("chart.wanted"), Left: v.say("chart.left"),
	}
}

// Length is a height as the farm says it.
func (l LessonWords) Length(inches float64) string { return l.v.length(inches) }

// CalendarEntry is the title and the note of a cutoff in a calendar.
func CalendarEntry(o Options, name string, leave, target float64, frost civil.Date) (title, note string) {
	v := newVoice(o)
	if frost.IsZero() {
		return v.say("calendar.back", name), ""
	}
	return v.say("calendar.cutoff", name, v.length(leave)), v.say("calendar.note", v.length(target), v.date(frost))
}
