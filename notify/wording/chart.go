package wording

import (
	"slices"
	"strconv"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// ChartWords are the few words on the season's picture; Rule is what to leave and
// what is wanted, in inches.
type ChartWords struct {
	Title, Open, Rest, Spread, Today, Reading, FallUse string
	Month                                              func(time.Month) string
	Day                                                func(civil.Date) string
	Rule                                               func(leave, target float64) string
}

// Chart gives the words of the season's picture of a farm.
func Chart(o Options, farm string) ChartWords {
	v := newVoice(o)
	return ChartWords{
		Title: v.say("chart.title", "farm", farm), Open: v.say("chart.open"), Rest: v.say("chart.rest"),
		Spread: v.say("chart.spread"), Today: v.say("chart.today"), Reading: v.say("chart.reading"), FallUse: v.say("chart.fall-use"),
		Month: func(m time.Month) string { return v.say("mon." + strconv.Itoa(int(m))) }, Day: v.date,
		Rule: func(leave, target float64) string {
			if target == 0 {
				return v.lang.Write("chart.leave", "height", v.length(leave))
			}
			return v.say("chart.rule", "height", v.length(leave), "wanted", v.length(target))
		},
	}
}

// FeedChart gives the words of the picture of where the herds eat; ranged where ground
// was not read.
func FeedChart(o Options, farm string, ranged bool) (title, note, hay string, day func(civil.Date) string) {
	v := newVoice(o)
	note = v.lang.Write("chart.feed.note")
	if ranged {
		note = v.lang.Write("chart.feed.range")
	}
	return v.lang.Write("chart.feed", "farm", farm), note, v.lang.Write("chart.hay"), v.date
}

// LessonWords are the few words on the picture of a paddock's finished falls;
// Length is a height as the farm says it.
type LessonWords struct {
	Title, Note, Wanted, Left string
	Length                    func(inches float64) string
}

// LessonChart gives the words of the picture of a paddock's falls.
func LessonChart(o Options, name string) LessonWords {
	v := newVoice(o)
	return LessonWords{v.say("chart.falls", "paddock", name), v.say("chart.falls.note"), v.say("chart.wanted"), v.say("chart.left"), v.length}
}

// CalendarEntry is the title and the note of a cutoff in a calendar.
func CalendarEntry(o Options, name string, leave, target float64, frost civil.Date) (title, note string) {
	v := newVoice(o)
	if frost.IsZero() {
		return v.say("calendar.back", "paddock", name), ""
	}
	return v.say("calendar.cutoff", "paddock", name, "height", v.length(leave)), v.say("calendar.note", "height", v.length(target), "day", v.date(frost))
}

// A Page says single things in a person's language, for what is printed and shown:
// its phrases stand in page.txt.
type Page struct{ v voice }

// OnPage speaks to whom the options say.
func OnPage(o Options) Page {
	v := newVoice(o)
	v.roomy = true
	return Page{v}
}

// Lang is the language's tag, as a page names it.
func (p Page) Lang() string { return p.v.lang.Tag }

// Say is one phrase of page.txt.
func (p Page) Say(key string, fields ...any) string { return p.v.lang.Write(key, fields...) }

// Day is a day without its year, DayOf with it; Short fits a column. What was not
// given is a dash.
func (p Page) Day(d civil.Date) string { return p.dash(d, p.v.brief().weekday) }

// DayOf is a day with its year.
func (p Page) DayOf(d civil.Date) string {
	return p.dash(d, func(d civil.Date) string {
		return p.Say("date.year", "date", p.v.brief().date(d), "year", strconv.Itoa(d.Year))
	})
}

// Short is a day that fits a column.
func (p Page) Short(d civil.Date) string { return p.dash(d, p.v.brief().date) }

func (p Page) dash(d civil.Date, say func(civil.Date) string) string {
	if !d.IsValid() {
		return p.Say("gap")
	}
	return say(d)
}

// Length is a height with its unit; a dash where it is not above 0.
func (p Page) Length(inches float64) string {
	if inches <= 0 {
		return p.Say("gap")
	}
	return p.v.length(inches)
}

// Number is one with at most so many decimals.
func (p Page) Number(x float64, decimals int) string { return p.v.lang.Number(x, decimals) }

// Week is what is late and what is to be done, as the Monday mail has it, the most
// pressing first.
func (p Page) Week(f *ladder.FarmFacts) (late, todo []string) {
	shuts := slices.Clone(f.Shuts)
	slices.SortStableFunc(shuts, func(a, b ladder.Shut) int { return urgency(a) - urgency(b) })
	for _, s := range shuts {
		switch line := p.v.need(paddockOf(f.Head, s), s); {
		case s.Late > 0:
			late = append(late, line)
		case line != "":
			todo = append(todo, line)
		}
	}
	return late, todo
}

// Feed is what is short in one sentence; empty where nothing is.
func (p Page) Feed(f *ladder.Feed) string {
	if f == nil || max(f.ShortDays, f.ShortHigh) == 0 {
		return ""
	}
	return full(p.v.feed(f))
}

// LastPass is where the herds go before rest, a line a stop.
func (p Page) LastPass(stops []ladder.Stop) []string { return p.v.passLines(stops) }

// Machine is how the machine is.
func (p Page) Machine(h *ladder.Health) []string { return p.v.machine(h) }

// State is a paddock's phase and whether it is grazed.
func (p Page) State(s ladder.Shut) string { return p.v.state(s) }

// Verdict is what a paddock is to be done with, and why.
func (p Page) Verdict(f *ladder.VerdictFacts) string { return full(p.v.verdict(f)) }

// Hold says that a paddock is held, until when and why; empty where it is not.
func (p Page) Hold(f *ladder.PaddockFacts) string {
	if f.Hold == nil {
		return ""
	}
	return full(p.v.holdBegins([]*ladder.PaddockFacts{f}))
}

// Kind is what a message is about.
func (p Page) Kind(k ladder.Kind) string { return p.v.kindName(k) }

// Command is what to text of a paddock, Bare what to text of the whole farm, and
// Heights a reading near a height.
func (p Page) Command(k diary.Kind, at ladder.Place) string { return p.v.command(k, at) }

func (p Page) Bare(k diary.Kind) string { return p.v.say("command." + string(k)) }

func (p Page) Heights(at ladder.Place, near float64) string { return p.v.heights(at, near) }
