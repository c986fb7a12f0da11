package ladder

import (
	"maps"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
)

// warnAhead is how long before the end of a night its frost is warned of: the
// afternoon before, in time to move.
const warnAhead = 36 * time.Hour

// hazardAhead is how many days before the early side of 36 F cattle on ground that
// a frost will poison are spoken of: time to plan where they go (assumption).
const hazardAhead = 14

// beforeFrost tells the manager once a fall of cattle on ground that the first frost
// will poison. Ground in rest is not spoken of: they are to be off it already.
func (p *plan) beforeFrost(v *season.View) {
	cold := v.Dates.Cold
	if cold.IsZero() || len(v.AtRisk) == 0 || len(v.Shut) > 0 || v.Herds.Occupancy != season.Grazed {
		return
	}
	if v.Paddock.Native() && v.Phase == season.Rest && !v.FallUse {
		return
	}
	day := cold.AddDays(-hazardAhead)
	if in := v.Herds.Entered; in != nil && in.Day.After(day) {
		day = in.Day.AddDays(1) // they came in since
	}
	f := FrostFacts{PaddockFacts: p.facts(v), Frosted: Frosted{&Frost{Day: cold}}}
	f.Hold = &Hold{Plants: v.AtRisk} // what a frost to come would make of them
	k := Key{Of: v.Paddock.ID, Day: cold.String(), Cause: Cause{Kind: "hazard"}, Rung: "0", Repeat: "0"}
	for _, c := range p.hearers(HazardAhead) {
		p.tell(c, HazardAhead, k, &f, p.mornings(c, day, cold))
	}
}

// warnings tell of a forecast of 36 F or below while animals stand, or may
// stand, on hazard plants, at once, quiet hours or not.
func (p *plan) warnings() {
	for _, night := range p.coldNights() {
		p.seen(night.At.Add(-warnAhead))
		if night.At.Before(p.Now) || night.At.After(p.Now.Add(warnAhead)) {
			continue
		}
		for i := range p.Views {
			if v := &p.Views[i]; len(v.AtRisk) > 0 && v.Herds.Occupancy != season.Empty {
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
		if old, ok := best[o.Day]; !ok || o.Issued.After(old.Issued) || o.Issued.Equal(old.Issued) && o.MinC < old.MinC {
			best[o.Day] = o
		}
	}
	cold := slices.DeleteFunc(slices.Collect(maps.Values(best)), func(o diary.Observation) bool { return !frost.Frost36F.Reached(frost.FromC(o.MinC)) })
	slices.SortFunc(cold, func(a, b diary.Observation) int { return a.At.Compare(b.At) })
	return cold
}

func (p *plan) warn(v *season.View, night diary.Observation) {
	minC := night.MinC
	grazed := v.Herds.Occupancy == season.Grazed
	f := FrostFacts{PaddockFacts: p.facts(v), Missing: p.missing(p.cutoffRoles()...)}
	f.FrostSeen = &Frost{Day: night.Day, MinC: &minC, Place: night.Place}
	f.Hold = &Hold{Plants: v.AtRisk} // what a frost to come would make of them
	f.Sends = p.MoveTo(v.Paddock.ID, true)
	k := Key{Of: v.Paddock.ID, Day: night.Day.String(), Cause: Cause{Kind: "forecast"}, Rung: "0", Repeat: "0"}
	for _, c := range p.hearers(FrostWarning) {
		p.tell(c, FrostWarning, k, &f, span{from: night.Issued, until: night.At, urgent: grazed})
	}
}

// emergencyFor is how long an emergency is told to whoever has not heard of it.
const emergencyFor = 24 * time.Hour

// emergencies tell the managers and owners of an animal that is dead or in
// trouble, at once and by call where there is one, until somebody has cleared it,
// and of horses on ground that no height makes safe for them, by day. Who told of it
// was answered.
func (p *plan) emergencies() {
	for _, f := range p.Book.Every(diary.Emergency) {
		if shut := p.shutBy(f.ID); len(shut) > 0 || !p.settled(f) {
			p.emergency(f, shut)
		}
	}
	for _, f := range slices.Concat(p.Book.Every(diary.Horses), p.Book.Asked()) {
		if f.Kind != diary.Horses && f.Kind != diary.Horses.Asked() {
			continue
		}
		if shut := p.shutBy(f.ID); len(shut) > 0 {
			p.emergency(f, shut)
		}
	}
}

func (p *plan) emergency(f *diary.Fact, shut []*season.View) {
	when := span{from: f.At, until: f.At.Add(emergencyFor), urgent: f.Kind == diary.Emergency}
	if !p.current(when) {
		return
	}
	told := &EmergencyFacts{PaddockFacts: PaddockFacts{Head: Head{Day: f.Day}}, Who: f.By, Words: f.Words, Horses: f.Kind != diary.Emergency}
	k := Key{Of: ofFarm, Day: f.Day.String(), Cause: Cause{string(f.Kind), f.ID}, Rung: "0", Repeat: "0"}
	for _, v := range shut {
		if f.Paddock != "" {
			told.PaddockFacts, k.Of = p.facts(v), f.Paddock
		} else {
			told.Shuts = append(told.Shuts, Line(v, p.today))
		}
	}
	for _, c := range p.hearers(EmergencyTold) {
		if c.Name == f.By {
			continue
		}
		if when.urgent {
			c = p.called(c)
		}
		p.tell(c, EmergencyTold, k, told, when)
	}
}

func (p *plan) shutBy(fact int64) (all []*season.View) {
	for i := range p.Views {
		if v := &p.Views[i]; slices.ContainsFunc(v.Shut, func(c shut.Cause) bool { return c.First.ID == fact }) {
			all = append(all, v)
		}
	}
	return all
}

// settled reports whether an emergency that shuts nothing any more was cleared, or told
// of again with its place; one that never shut any ground is told all the same.
func (p *plan) settled(f *diary.Fact) bool {
	for i := range p.Views {
		for _, kind := range []diary.Kind{diary.Clear, diary.Emergency} {
			for o := range p.Book.About(p.Views[i].Paddock.ID, kind, f.Day) {
				if o.Paddock != "" && shut.Later(o, f) {
					return true
				}
			}
		}
	}
	return false
}

// InCharge are the contacts who hear of an emergency: managers and owners, and
// where there is none everybody.
func InCharge(contacts []Contact) []Contact {
	out := slices.DeleteFunc(slices.Clone(contacts), func(c Contact) bool { return !c.is(office...) })
	if len(out) == 0 {
		return contacts
	}
	return out
}
