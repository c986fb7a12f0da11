package ladder

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
)

// coldFor is how many days a frost, or the end of a hold, stays news.
const coldFor = 7

// cold tells the season's first frost, freeze and killing freeze, each once,
// and only as the coldest that it was; and warns of a cold night where animals
// stand on hazard plants.
func (p *plan) cold() {
	if len(p.Views) == 0 {
		return
	}
	firsts := p.firstOfEach(p.today)
	for i, f := range firsts {
		if f.ID == 0 || i+1 < len(firsts) && colderTold(firsts[i+1:], f) {
			continue
		}
		p.coldNotice([]Kind{FrostSeen, FreezeSeen, KillingFreeze}[i], f)
	}
	p.warnings()
}

// firstOfEach is the season's first frost at 36, 32 and 28 F; a zero fact
// where it has not come. What a person saw is a frost and no more.
func (p *plan) firstOfEach(today civil.Date) [3]diary.Fact {
	var firsts [3]diary.Fact
	year := season.YearOf(today, p.Views[0].Paddock.Rule.Spring)
	for _, f := range p.Book.Frosts() {
		if f.Day.Year != year || f.Day.Month < time.August || f.Day.After(today) {
			continue
		}
		for i, th := range [3]frost.Threshold{frost.Frost36F, frost.Freeze32F, frost.KillingFreeze28F} {
			reached := i == 0
			if f.TempC != nil {
				reached = th.Reached(frost.FromC(*f.TempC))
			}
			if reached && firsts[i].ID == 0 {
				firsts[i] = f
			}
		}
	}
	return firsts
}

// colderTold reports whether the same frost, or an earlier one, is told as a
// colder one.
func colderTold(colder []diary.Fact, f diary.Fact) bool {
	for _, c := range colder {
		if c.ID != 0 && !c.Day.After(f.Day) {
			return true
		}
	}
	return false
}

func (p *plan) coldNotice(kind Kind, f diary.Fact) {
	cold := &Cold{Day: f.Day, MinC: f.TempC}
	if f.Measured() {
		cold.Place = f.By
	} else {
		cold.ByWho = f.By
	}
	resting := Facts{Cold36: cold, Day: f.Day}
	early := false
	for i := range p.Views {
		v := &p.Views[i]
		if !v.Paddock.Native() || v.FallUse {
			continue
		}
		switch {
		case v.Dates.Ended == f.Day && f.Day.Before(v.Dates.Cutoff):
			early = true
		case v.Dates.Ended == f.Day:
			cold.RestOver = true
		case v.Phase == season.Rest:
			resting.Shuts = append(resting.Shuts, Line(v, p.today))
		}
		if resting.Say == "" && v.Phase != season.Open {
			resting.Say, resting.Name, resting.Paddock = v.Paddock.Say(), v.Paddock.Name, v.Paddock.ID
		}
	}
	cold.BeforeCutoff = early
	for _, c := range p.withRole("manager", "owner") {
		if len(c.media) == 0 || c.Name == f.By {
			continue
		}
		p.want(Notice{
			Key:       key("farm", string(kind), num(f.ID), "0", "0", c.Name, string(c.media[0])),
			To:        c.Name,
			Medium:    c.media[0],
			Kind:      kind,
			Facts:     resting,
			NotBefore: p.decent(c.Contact, f.At),
			GoodUntil: f.At.AddDate(0, 0, coldFor),
		})
	}
}

// warnings tell of a forecast of 36 F or below while animals stand on hazard
// plants, at once, quiet hours or not.
func (p *plan) warnings() {
	for _, night := range p.Nights {
		if !frost.Frost36F.Reached(frost.FromC(night.MinC)) || night.At.Before(p.Now) || night.At.After(p.Now.Add(36*time.Hour)) {
			continue
		}
		minC := night.MinC
		for i := range p.Views {
			v := &p.Views[i]
			plants := v.Hazards()
			if len(plants) == 0 || v.Herds.Occupancy != season.Grazed {
				continue
			}
			for _, c := range p.withRole(p.cutoffRoles()...) {
				if len(c.media) == 0 {
					continue
				}
				f := p.facts(v)
				f.Cold36 = &Cold{Day: night.Day, MinC: &minC, Place: night.Place}
				f.Hold = &Hold{Plants: plants, Animals: true}
				f.MoveTo = p.moveTo(v)
				p.want(Notice{
					Key:       key(v.Paddock.ID, night.Day.String(), "forecast", "0", "0", c.Name, string(c.media[0])),
					To:        c.Name,
					Medium:    c.media[0],
					Kind:      FrostWarning,
					Facts:     f,
					NotBefore: night.Issued,
					GoodUntil: night.At,
					Urgent:    true,
				})
			}
		}
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
	for _, c := range p.withRole(p.cutoffRoles()...) {
		if len(c.media) == 0 {
			continue
		}
		f := p.facts(v)
		f.Hold = describeHold(&season.View{Paddock: v.Paddock, Hold: h, Herds: v.Herds})
		n := Notice{
			Key:       key(v.Paddock.ID, day.String(), "hold"+num(h.Cause()), string(kind), num(int64(step)), c.Name, string(c.media[0])),
			To:        c.Name,
			Medium:    c.media[0],
			Kind:      kind,
			Facts:     f,
			NotBefore: p.morning(c.Contact, day),
			GoodUntil: p.morning(c.Contact, day.AddDays(coldFor)),
		}
		switch {
		case first && f.Hold.Animals:
			n.NotBefore, n.Urgent = h.Since(), true
		case first:
			n.NotBefore = p.decent(c.Contact, h.Since())
		case kind == HoldBegins:
			n.NotBefore = latest(n.NotBefore, p.decent(c.Contact, h.Latest()))
		}
		p.want(n)
	}
}

func latest(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
