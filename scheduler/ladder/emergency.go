package ladder

import (
	"slices"
	"strings"
	"time"

	"stubbled/scheduler/diary"
)

// emergencyFor is how long an emergency is told to whoever has not heard of it.
const emergencyFor = 24 * time.Hour

// emergencies tell the managers and owners of an animal that is dead or in
// trouble, at once and by call where there is one, until somebody has cleared it.
// Who told of it was answered.
func (p *plan) emergencies() {
	for _, f := range p.Book.Every(diary.Emergency) {
		when := span{from: f.At, until: f.At.Add(emergencyFor), urgent: true}
		if !p.current(when) || p.cleared(f) {
			continue
		}
		told := &EmergencyFacts{PaddockFacts: PaddockFacts{Head: Head{Day: f.Day}}, Who: f.By, Words: f.Words}
		k := Key{Of: ofFarm, Day: f.Day.String(), Cause: Cause{"emergency", f.ID}, Rung: "0", Repeat: "0"}
		for i := range p.Views {
			v := &p.Views[i]
			for _, c := range v.Shut {
				if c.First.ID == f.ID {
					told.PaddockFacts, k.Of = p.facts(v), v.Paddock.ID
				}
			}
		}
		for _, c := range p.hearers(EmergencyTold) {
			if c.Name != f.By {
				p.tell(p.called(c), EmergencyTold, k, told, when)
			}
		}
	}
}

// cleared reports whether a manager checked the ground after an emergency.
func (p *plan) cleared(f diary.Fact) bool {
	for c := range p.Book.About(f.Paddock, diary.Clear, f.Day) {
		if f.Paddock != "" && c.At.After(f.At) {
			return true
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
