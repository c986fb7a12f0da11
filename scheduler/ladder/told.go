package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// newsFor is how long it is worth telling that somebody opted out or took
// something back.
const newsFor = 7 * 24 * time.Hour

// optOuts tells those who run the farm, or whoever is left, who opted out.
func (p *plan) optOuts() {
	for _, o := range p.OptOuts {
		f := &PersonFacts{Head: Head{Day: civil.DateOf(o.At.In(p.Zone))}, Who: o.Contact}
		for _, c := range p.hearers(StopTold) {
			if c.Name != o.Contact {
				p.tell(c, StopTold, Key{Of: ofOptOut, What: o.Contact, Day: num(o.At.Unix())}, f, p.news(c, o.At))
			}
		}
	}
}

// takenBack tells exactly those who were told something that rested on a fact
// since taken back.
func (p *plan) takenBack() {
	facts, voids := p.Book.TakenBack(p.Now.Add(-newsFor))
	if len(facts) == 0 {
		return
	}
	held := p.lines(func(v *season.View) bool { return v.Hold != nil })
	for i, f := range facts {
		var still []Shut
		if f.Kind == diary.Frost {
			still = held // a hold already begun is not argued away
		}
		said := &TakenBackFacts{
			Head:   Head{Place: Place{Paddock: f.Paddock}, Day: p.today},
			Undone: []diary.Fact{f}, Who: voids[i].By, Names: p.name(f.Paddock), Listed: Listed{still},
		}
		for _, c := range p.hearers(TakenBack) {
			if c.Name != voids[i].By && p.heardOf(c.Name, f, voids[i].At) {
				p.tell(c, TakenBack, Key{Of: ofTakenBack, Cause: Cause{Fact: f.ID}}, said, p.news(c, voids[i].At))
			}
		}
	}
}

// news is when a person hears what happened at an instant.
func (p *plan) news(c person, at time.Time) span {
	return span{from: p.decent(c.Contact, at), until: at.Add(newsFor)}
}

// heardOf reports whether a contact was told something because of a fact.
func (p *plan) heardOf(to string, f diary.Fact, before time.Time) bool {
	return slices.ContainsFunc(p.Said.rows, func(r *SaidRow) bool {
		if r.To != to || r.At.After(before) {
			return false
		}
		return r.Key.restsOn(f.ID) || f.Kind == diary.Off && r.Kind == KeepShut && r.Paddock == f.Paddock && !r.At.Before(f.At)
	})
}

// restsOn reports whether a key names a fact as its cause.
func (k Key) restsOn(fact int64) bool {
	if k.Cause.Fact != fact {
		return false
	}
	switch k.Cause.Kind {
	case "on", "hold", "emergency", "disputed", string(season.ByBrown), string(season.ByFreeze):
		return true
	}
	return k.Of == ofFarm && k.Cause.Kind == ""
}

// name is a paddock as people say it.
func (p *plan) name(paddock string) map[string]string {
	for i := range p.Views {
		if of := p.Views[i].Paddock; of.ID == paddock {
			return map[string]string{paddock: of.Name}
		}
	}
	return nil
}
