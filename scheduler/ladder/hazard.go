package ladder

import (
	"slices"
	"strconv"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
)

// warnAhead is how long before the end of a night its frost is warned of: the
// afternoon before, in time to move.
const warnAhead = 36 * time.Hour

// warnings tell of a forecast of 36 F or below while animals stand, or may
// stand, on hazard plants, at once, quiet hours or not.
func (p *plan) warnings() {
	for _, night := range p.coldNights() {
		p.seen(night.At.Add(-warnAhead))
		if night.At.Before(p.Now) || night.At.After(p.Now.Add(warnAhead)) {
			continue
		}
		for i := range p.Views {
			v := &p.Views[i]
			if len(v.AtRisk) > 0 && v.Herds.Occupancy != season.Empty {
				p.warn(v, night)
			}
		}
	}
}

// coldNights are the nights ahead with frost by the newest forecast of each, the
// coldest where several are as new.
func (p *plan) coldNights() []diary.Observation {
	best := map[civil.Date]diary.Observation{}
	for _, o := range p.Nights {
		old, ok := best[o.Day]
		if !ok || o.Issued.After(old.Issued) || o.Issued.Equal(old.Issued) && o.MinC < old.MinC {
			best[o.Day] = o
		}
	}
	var cold []diary.Observation
	for _, o := range best {
		if frost.Frost36F.Reached(frost.FromC(o.MinC)) {
			cold = append(cold, o)
		}
	}
	slices.SortFunc(cold, func(a, b diary.Observation) int { return a.At.Compare(b.At) })
	return cold
}

func (p *plan) warn(v *season.View, night diary.Observation) {
	minC := night.MinC
	grazed := v.Herds.Occupancy == season.Grazed
	f := FrostFacts{PaddockFacts: p.facts(v), Missing: p.missing(p.cutoffRoles()...)}
	f.FrostSeen = &Frost{Day: night.Day, MinC: &minC, Place: night.Place}
	f.Hold = &Hold{Plants: v.AtRisk, Animals: grazed}
	f.MoveTo = p.MoveTo(v.Paddock.ID, true)
	k := Key{Of: v.Paddock.ID, Day: night.Day.String(), Cause: Cause{Kind: "forecast"}, Rung: "0", Repeat: "0"}
	for _, c := range p.hearers(FrostWarning) {
		p.tell(c, FrostWarning, k, &f, span{from: night.Issued, until: night.At, urgent: grazed})
	}
}

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
	k := Key{Of: v.Paddock.ID, Day: day.String(), Cause: Cause{"hold", h.Cause()}, Rung: string(kind), Repeat: strconv.Itoa(step)}
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
