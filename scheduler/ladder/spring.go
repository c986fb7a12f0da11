package ladder

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/quiet"
	"stubbled/scheduler/season"
	"stubbled/scheduler/spring"
)

// greenUpFor is how many days the height of a spring is worth asking for.
const greenUpFor = 21

// spring asks for the height of a paddock that may soon be begun, and tells of one
// that was begun too early. What shuts the ground wins.
func (p *plan) spring(v *season.View) {
	if !p.Tell.Spring || !spring.Begins(v) {
		return
	}
	turn, early := p.turnIn(v)
	if early != nil {
		p.tooEarly(v, early)
	}
	if turn == nil || turn.Ready && !turn.Stale || v.Reading != nil && p.today.DaysSince(v.Reading.Day) < greenUpFor {
		return
	}
	from := quiet.Monday(diary.LaterDay(turn.Early, turn.About.AddDays(-spring.Near)))
	k := Key{Of: v.Paddock.ID, Day: v.Dates.Turn.String(), Cause: Cause{Kind: string(GreenUp)}}
	for _, c := range p.hearers(GreenUp) {
		p.tell(c, GreenUp, k, &SpringFacts{PaddockFacts: p.facts(v), Turn: turn}, p.mornings(c, from, from.AddDays(greenUpFor)))
	}
}

// turnIn is when a paddock may be begun this spring, or that it was too early.
func (p *plan) turnIn(v *season.View) (*spring.TurnIn, *spring.Early) {
	if !spring.Begins(v) {
		return nil, nil
	}
	springs := p.Springs(v.Paddock)
	return spring.Turn(v, springs), spring.TooEarly(v, springs)
}

// tooEarly tells of it the morning after, but to who turned them in and has heard it, and
// on each Monday as long as they stay.
func (p *plan) tooEarly(v *season.View, early *spring.Early) {
	f := &SpringFacts{PaddockFacts: p.facts(v), Early: early}
	f.Sends = p.MoveTo(v.Paddock.ID, false)
	for _, c := range p.hearers(TooEarly) {
		days := []civil.Date{}
		if by := v.Herds.Entered; by == nil || by.By != c.Name {
			days = append(days, early.Since.AddDays(1))
		}
		for d := quiet.Monday(early.Since).AddDays(7); d.DaysSince(early.Since) <= spring.EarlyFor; d = d.AddDays(7) {
			days = append(days, d)
		}
		for i, d := range days {
			if r := v.Reading; r != nil && r.By == c.Name && !d.After(r.Day) {
				continue // the answer to their own height has said it
			}
			until := d.AddDays(7)
			if i+1 < len(days) {
				until = days[i+1]
			}
			p.tell(c, TooEarly, Key{Of: v.Paddock.ID, Day: d.String(), Cause: Cause{Kind: string(TooEarly)}}, f, p.mornings(c, d, until))
		}
	}
}

// When the scorecard goes out: most natives stand at the height to begin at by then.
const (
	scoreMonth = time.June
	scoreDay   = 15
	scoreFor   = 15 // days
)

// scorecard mails in June what last fall's rest was worth, where two paddocks or more can
// be held side by side.
func (p *plan) scorecard() {
	day := civil.Date{Year: p.today.Year, Month: scoreMonth, Day: scoreDay}
	if !p.Tell.Scorecard {
		return
	}
	k := Key{Of: ofFarm, Day: day.String(), Cause: Cause{Kind: string(Scorecard)}}
	var f *ScorecardFacts
	for _, c := range p.hearers(Scorecard) {
		when := p.mornings(c, day, day.AddDays(scoreFor))
		if !p.open(c, Scorecard, k, when) {
			continue
		}
		if f == nil {
			f = &ScorecardFacts{Head: Head{Day: p.today}, Card: spring.Card(p.Views, p.Springs), Names: map[string]string{}}
			for i := range p.Views {
				f.Names[p.Views[i].Paddock.ID] = p.Views[i].Paddock.Name
			}
		}
		if spring.Worth(f.Card, p.today.Year) {
			p.tell(c, Scorecard, k, f, when)
		}
	}
}
