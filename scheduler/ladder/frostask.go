package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// How often frost is asked about where nothing measures it. Ours.
const (
	askAgain  = 7 // days
	wordLasts = 6 // days after a person's word that it is asked again, a day before it no longer holds
)

// frostAsk asks the manager what nobody measures: whether it has frozen, weekly
// from the early side of 36 F on and on the planned date itself; from that date on
// whether the tops are brown as well. A killing freeze that came too soon is asked
// about the same way, from its morning on.
func (p *plan) frostAsk() {
	f, days := &FrostFacts{}, []civil.Date(nil)
	var first, planned civil.Date
	for i := range p.Views {
		v := &p.Views[i]
		if !p.asksFrost(v) {
			continue
		}
		first = soonest(first, v.Dates.Cold)
		s := Line(v, p.today)
		if v.Paddock.Native() {
			planned = soonest(planned, v.Dates.Frost)
			if s.Wants = ""; s.Resting && !p.today.Before(v.Dates.Frost) {
				s.Wants = "brown"
			}
		}
		f.Shuts = append(f.Shuts, s)
	}
	if len(f.Shuts) > 0 {
		days = p.frostAskDays(first, planned)
	}
	doubted := p.doubted(f)
	if !doubted.IsZero() {
		days = append(days, weekly(doubted.AddDays(1), p.today)...)
	}
	p.askOn(days, f)
}

// asksFrost reports whether anything on a paddock waits for word of a frost that
// nothing measures.
func (p *plan) asksFrost(v *season.View) bool {
	if !v.Unwatched || v.Dates.Cold.IsZero() || p.today.Before(v.Dates.Cold) {
		return false
	}
	rests := v.Paddock.Native() && !v.FallUse && v.Phase != season.Dormant && v.Dates.Ended.IsZero()
	return rests || len(v.AtRisk) > 0
}

// frostAskDays are the days up to today on which it is asked: weekly, from the
// sixth day after the last word of it, and the planned date.
func (p *plan) frostAskDays(first, planned civil.Date) []civil.Date {
	word := p.lastWord(first)
	if next := word.AddDays(wordLasts); !word.IsZero() && next.After(first) {
		first = next
	}
	days := weekly(first, p.today)
	if !planned.IsZero() && planned.After(first) && !planned.After(p.today) {
		days = append(days, planned)
	}
	return days
}

// lastWord is the latest day of which a person said whether it froze.
func (p *plan) lastWord(since civil.Date) (last civil.Date) {
	for _, f := range p.words(since, diary.Frost, diary.NoFrost) {
		if f.Day.After(last) {
			last = f.Day
		}
	}
	return last
}

// doubted adds the paddocks whose rest a killing freeze came too soon to end, and
// gives the day of the latest such freeze; zero where there is none.
func (p *plan) doubted(f *FrostFacts) (day civil.Date) {
	for i := range p.Views {
		v := &p.Views[i]
		d := v.Dates
		if d.Doubted.IsZero() || !d.Ended.IsZero() || v.FallUse || !v.Paddock.Native() {
			continue
		}
		if d.Doubted.After(day) {
			day = d.Doubted
		}
		s := Line(v, p.today)
		s.Wants = "brown"
		f.Shuts = append(f.Shuts, s)
	}
	for _, n := range p.frosts() {
		if n.Day == day && (f.FrostSeen == nil || n.TempC != nil) && !p.unwatched() {
			f.FrostSeen = frostOf(n)
		}
	}
	return day
}

func (p *plan) unwatched() bool { return len(p.Views) > 0 && p.Views[0].Unwatched }

// weekly are the days from one on, every seven, up to today.
func weekly(first, today civil.Date) (days []civil.Date) {
	for d := first; !d.After(today); d = d.AddDays(askAgain) {
		days = append(days, d)
	}
	return days
}

// askOn asks on the latest of some days, until a week later.
func (p *plan) askOn(days []civil.Date, f *FrostFacts) {
	var day civil.Date
	for _, d := range days {
		if d.After(day) {
			day = d
		}
	}
	if day.IsZero() || day.AddDays(askAgain).Before(p.today) {
		return
	}
	f.Day = day
	k := Key{Of: ofFarm, Day: day.String(), Cause: Cause{Kind: string(FrostAsk)}}
	for _, c := range p.hearers(FrostAsk) {
		p.tell(c, FrostAsk, k, f, span{from: p.morning(c.Contact, day), until: p.morning(c.Contact, day.AddDays(askAgain))})
	}
}

func soonest(a, b civil.Date) civil.Date {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}
