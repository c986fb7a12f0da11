package ladder

import (
	"strconv"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// hold tells that a hold began, once more on the last day that was told where
// later frosts have made it longer, and that one is over by the calendar.
func (p *plan) hold(v *season.View) {
	switch {
	case v.Hold != nil:
		step, day := v.Hold.Step(p.today)
		p.held(v, v.Hold, HoldBegins, step, day)
	case v.WasHeld != nil:
		p.held(v, v.WasHeld, HoldOver, 0, v.WasHeld.Until.AddDays(1))
	}
}

func (p *plan) held(v *season.View, h *season.Hold, kind Kind, step int, day civil.Date) {
	first := kind == HoldBegins && step == 0
	f := p.facts(v)
	f.Hold = describeHold(&season.View{Paddock: v.Paddock, Hold: h, Herds: v.Herds})
	if kind == HoldBegins && f.Hold.Animals {
		f.MoveTo = p.MoveTo(v.Paddock.ID, true)
	}
	k := Key{Of: v.Paddock.ID, Day: day.String(), Cause: Cause{"hold", p.begun(v, h)}, Rung: string(kind), Repeat: strconv.Itoa(step)}
	for _, c := range p.hearers(kind) {
		when := p.mornings(c, day, h.Until.AddDays(1))
		switch {
		case kind == HoldOver:
			when = p.mornings(c, day, day.AddDays(coldFor))
		case first && f.Hold.Animals:
			when.from, when.urgent = h.Since(), true
		case first:
			when.from = p.decent(c.Contact, h.Since())
		default:
			when.from = latest(when.from, p.decent(c.Contact, h.Latest()))
		}
		p.tell(c, kind, k, &f, when)
	}
}

// begun is the fact that a hold goes by: of several sources that tell of its
// first night the one that told first, unless the ground was cleared between.
func (p *plan) begun(v *season.View, h *season.Hold) int64 {
	id, cleared := h.Cause(), int64(0)
	for f := range p.Book.About(v.Paddock.ID, diary.Clear, civil.Date{}) {
		if f.ID < id {
			cleared = max(cleared, f.ID)
		}
	}
	for _, f := range p.Book.FrostsEver() {
		if f.Day == h.Began && f.ID < id && f.ID > cleared {
			id = f.ID
		}
	}
	return id
}
