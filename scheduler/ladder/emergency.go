package ladder

import (
	"slices"
	"strings"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
)

// emergencyFor is how long an emergency is told to whoever has not heard of it.
const emergencyFor = 24 * time.Hour

// emergencies tell the managers and owners of an animal that is dead or in
// trouble, at once and by call where there is one, until somebody has cleared it,
// and of horses on ground that no height makes safe for them, by day. Who told of it
// was answered.
func (p *plan) emergencies() {
	for _, f := range p.Book.Every(diary.Emergency) {
		if shut := p.shutBy(f.ID); len(shut) > 0 || !p.settled(&f) {
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

func (p *plan) emergency(f diary.Fact, shut []*season.View) {
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

// shutBy are the paddocks that a fact shuts.
func (p *plan) shutBy(fact int64) (all []*season.View) {
	for i := range p.Views {
		v := &p.Views[i]
		if slices.ContainsFunc(v.Shut, func(c shut.Cause) bool { return c.First.ID == fact }) {
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
	out := slices.DeleteFunc(slices.Clone(contacts), func(c Contact) bool {
		return !slices.ContainsFunc(office, func(role string) bool { return strings.EqualFold(role, c.Role) })
	})
	if len(out) == 0 {
		return contacts
	}
	return out
}
