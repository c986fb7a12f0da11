package wording

import (
	"strconv"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// A Page says single things in a person's language, for what is printed, drawn and shown:
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

// Day is a day without its year, DayOf with it; Short fits a column, as does a Month.
// What was not given is a dash.
func (p Page) Day(d civil.Date) string { return p.dash(d, p.v.brief().weekday) }

func (p Page) DayOf(d civil.Date) string {
	return p.dash(d, func(d civil.Date) string {
		return p.Say("date.year", "date", p.v.brief().date(d), "year", strconv.Itoa(d.Year))
	})
}

func (p Page) Short(d civil.Date) string { return p.dash(d, p.v.brief().date) }

func (p Page) Month(m time.Month) string { return p.v.say("mon." + strconv.Itoa(int(m))) }

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

// Plants are plants that may poison, each once; empty where none is named.
func (p Page) Plants(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return p.v.plants(names)
}

// Number is one with at most so many decimals.
func (p Page) Number(x float64, decimals int) string { return p.v.lang.Number(x, decimals) }

// Week is what is late and what is to be done, as the Monday mail has it, the most
// pressing first.
func (p Page) Week(f *ladder.FarmFacts) (late, todo []string) {
	for _, s := range byUrgency(f.Shuts) {
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

// Command is what to text of a paddock, Bare what to text of the whole farm, and
// Heights a reading near a height.
func (p Page) Command(k diary.Kind, at ladder.Place) string { return p.v.command(k, at) }

func (p Page) Bare(k diary.Kind) string { return p.v.say("command." + string(k)) }

func (p Page) Heights(at ladder.Place, near float64) string { return p.v.heights(at, near) }
