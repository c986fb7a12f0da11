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
			if plants := p.atRisk(v); len(plants) > 0 && v.Herds.Occupancy != season.Empty {
				p.warn(v, night, plants)
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

func (p *plan) warn(v *season.View, night diary.Observation, plants []string) {
	minC := night.MinC
	grazed := v.Herds.Occupancy == season.Grazed
	f := FrostFacts{PaddockFacts: p.facts(v), Missing: p.missing(p.cutoffRoles()...)}
	f.FrostSeen = &Frost{Day: night.Day, MinC: &minC, Place: night.Place}
	f.Hold = &Hold{Plants: plants, Animals: grazed}
	f.MoveTo = p.MoveTo(v.Paddock.ID, true)
	k := Key{Of: v.Paddock.ID, Day: night.Day.String(), Cause: Cause{Kind: "forecast"}, Rung: "0", Repeat: "0"}
	for _, c := range p.hearers(FrostWarning) {
		p.tell(c, FrostWarning, k, &f, span{from: night.Issued, until: night.At, urgent: grazed})
	}
}

// atRisk names the plants of a paddock that a frost to come would turn. After
// the killing freeze they are dead, until somebody reports regrowth; a stand
// that counts only while short is judged by its latest reading.
func (p *plan) atRisk(v *season.View) []string {
	if v.Hold == nil && p.frozenDead(v) {
		return nil
	}
	height, age := 0.0, -1
	if v.Reading != nil {
		height, age = v.Reading.Sample.Mean, p.today.DaysSince(v.Reading.Day)
	}
	var names []string
	for _, h := range append(slices.Clone(v.Paddock.Hazards), v.Paddock.Grass.HazardsOf()...) {
		if h.HeldWhen(height, age) && !slices.Contains(names, h.Name) {
			names = append(names, h.Name)
		}
	}
	return names
}

// frozenDead reports whether a killing freeze has come since August and nothing
// has greened up since the last frost.
func (p *plan) frozenDead(v *season.View) bool {
	aug1 := civil.Date{Year: p.today.Year, Month: time.August, Day: 1}
	if p.today.Before(aug1) {
		aug1.Year-- // in the south the first killing freeze may come in January
	}
	killed, last := false, civil.Date{}
	for _, f := range p.Book.Frosts() {
		if f.Day.Before(aug1) || f.Day.After(p.today) {
			continue
		}
		last = f.Day
		killed = killed || f.TempC != nil && frost.KillingFreeze28F.Reached(frost.FromC(*f.TempC)) &&
			(!v.Paddock.Native() || v.Paddock.Rule.EndsAt.Reached(frost.FromC(*f.TempC)))
	}
	_, green := p.Book.Latest(diary.Regrowth, v.Paddock.ID, last, p.today)
	return killed && !green
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
