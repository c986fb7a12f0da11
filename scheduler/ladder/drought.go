package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/dry"
	"stubbled/scheduler/season"
)

// Ours.
const (
	droughtFor   = 13 // days that a drought date is caught up with, until the next
	droughtEvery = 30 // days between two questions whether it is a drought
	droughtFrom  = time.May
)

// DroughtFacts are what is to be decided in a dry early summer, or the question whether
// it is a drought.
type DroughtFacts struct {
	Head
	dry.Call
	Question *diary.Question `json:"question,omitempty"` // to those who may say so
}

// drought tells on three dates of early summer that rain is short, with the head to
// move; and in the growing season asks whether it is a drought.
func (p *plan) drought() {
	if !p.Tell.Drought || len(p.Views) == 0 || p.Rain == nil {
		return
	}
	if next := dry.Next(p.today); !next.IsZero() && next.DaysSince(p.today) < 7 {
		if _, due := p.droughtOn(next); due {
			for _, c := range p.hearers(Drought) {
				p.comes(c, Drought, p.morning(c.Contact, next))
			}
			return // it will be asked then
		}
	}
	if on := dry.Last(p.today); !on.IsZero() && p.today.DaysSince(on) <= droughtFor {
		p.droughtDate(on)
	}
	p.droughtAsk()
}

// droughtOn is what is to be decided on a date, with the rain up to today; nothing where
// rain was not short yet on the date itself.
func (p *plan) droughtOn(on civil.Date) (call dry.Call, due bool) {
	for _, until := range []civil.Date{on, p.today} {
		if until.After(p.today) {
			continue
		}
		if call, due = dry.On(on, p.Rain(until), p.Head(p.today), p.Head(dry.April(p.today))); !due {
			break
		}
	}
	return call, due
}

// droughtDate tells of one of the dates, by text and by mail.
func (p *plan) droughtDate(on civil.Date) {
	for _, c := range p.hearers(Drought) {
		when := p.mornings(c, on, on.AddDays(droughtFor))
		if !p.current(when) {
			continue
		}
		call, due := p.droughtOn(on)
		if !due || !call.Tells() && (!c.Manager() || p.isDry()) {
			continue
		}
		f := &DroughtFacts{Head: Head{Day: on}, Call: call}
		if c.Manager() && !p.isDry() && !p.askedDrought(c.Name, on) {
			f.Question = p.isItDry()
		}
		for _, m := range c.media {
			p.tell(person{c.Contact, []Medium{m}}, Drought, Key{Of: ofFarm, Day: on.String(), Cause: Cause{Kind: "drought"}, Rung: "0", Repeat: "0"}, f, when)
		}
	}
}

// droughtAsk asks those who may say so whether it is a drought, while grass may grow and
// the last weeks had little rain.
func (p *plan) droughtAsk() {
	if p.today.Month < droughtFrom || !p.grows() || p.isDry() || p.droughtWord() || !p.Rain(p.today).Little {
		return
	}
	for _, c := range p.hearers(Drought) {
		if c.Manager() && !p.askedDrought(c.Name, p.today) {
			p.tell(c, Drought, Key{Of: ofFarm, Day: p.today.String(), Cause: Cause{Kind: "dry"}}, &DroughtFacts{Head: Head{Day: p.today}, Question: p.isItDry()}, p.mornings(c, p.today, p.today.AddDays(1)))
		}
	}
}

// isItDry is the question; its letter calls the drought.
func (p *plan) isItDry() *diary.Question {
	return &diary.Question{Why: diary.Likely, Choices: []diary.Choice{{Facts: []diary.Fact{{Kind: diary.Dry, Day: p.today}}}}}
}

func (p *plan) isDry() bool {
	for i := range p.Views { // a view is large: none is copied
		if p.Views[i].Drought {
			return true
		}
	}
	return false
}

// grows reports whether any native ground still grows towards its frost.
func (p *plan) grows() bool {
	return slices.ContainsFunc(p.Views, func(v season.View) bool {
		return v.Paddock.Native() && v.Dates.Ended.IsZero() && p.today.Before(v.Dates.Frost)
	})
}

// droughtWord reports whether a manager said of late that it is one, or over.
func (p *plan) droughtWord() bool {
	said := slices.Concat(p.Book.Every(diary.Dry), p.Book.Every(diary.DryOver))
	return slices.ContainsFunc(said, func(f *diary.Fact) bool { return p.today.DaysSince(f.Day) < droughtEvery })
}

// askedDrought reports whether a contact was asked within the last 30 days, before a day
// of which the question is.
func (p *plan) askedDrought(to string, of civil.Date) bool {
	return told(p.Said.byContact[to], to, Drought, func(r *SaidRow) bool {
		return r.Key.Day != of.String() && p.today.DaysSince(civil.DateOf(r.At.In(p.Zone))) < droughtEvery
	})
}
