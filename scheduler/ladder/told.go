package ladder

import (
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// newsFor is how long it is worth telling that somebody opted out or took
// something back.
const newsFor = 7 * 24 * time.Hour

// optOuts tells the managers that are left who opted out.
func (p *plan) optOuts() {
	for _, o := range p.OptOuts {
		for _, c := range p.withRole("manager", "owner") {
			if len(c.media) == 0 || c.Name == o.Contact {
				continue
			}
			p.want(Notice{
				Key: key("opted-out", o.Contact, num(o.At.Unix()), c.Name), To: c.Name, Medium: c.media[0], Kind: StopTold,
				Facts:     Facts{Who: o.Contact, Day: civil.DateOf(o.At.In(p.Zone))},
				NotBefore: p.decent(c.Contact, o.At),
				GoodUntil: o.At.Add(newsFor),
			})
		}
	}
}

// takenBack tells exactly those who were told something that rested on a fact
// since taken back.
func (p *plan) takenBack() {
	facts, voids := p.Book.TakenBack(p.Now.Add(-newsFor))
	for i, f := range facts {
		for _, c := range p.people {
			if len(c.media) == 0 || c.Name == voids[i].By || !p.heardOf(c.Name, f, voids[i].At) {
				continue
			}
			p.want(Notice{
				Key: key("taken-back", num(f.ID), c.Name), To: c.Name, Medium: c.media[0], Kind: TakenBack,
				Facts:     Facts{Undone: []diary.Fact{f}, Who: voids[i].By, Paddock: f.Paddock, Names: p.names(), Day: p.today},
				NotBefore: p.decent(c.Contact, voids[i].At),
				GoodUntil: voids[i].At.Add(newsFor),
			})
		}
	}
}

// heardOf reports whether a contact was told something because of a fact.
func (p *plan) heardOf(to string, f diary.Fact, before time.Time) bool {
	id := num(f.ID)
	for _, r := range p.Said.byPaddock[f.Paddock] {
		if r.To == to && r.At.Before(before) && restsOn(r.Key, id) {
			return true
		}
	}
	if f.Kind != diary.Frost {
		return false
	}
	for _, r := range p.Said.rows { // a frost holds paddocks that it does not name
		if r.To == to && r.At.Before(before) && restsOn(r.Key, id) {
			return true
		}
	}
	return false
}

// restsOn reports whether a key names a fact as its cause.
func restsOn(k, id string) bool {
	parts := strings.Split(k, "/")
	if len(parts) < 3 {
		return false
	}
	return parts[2] == "on"+id || parts[2] == "hold"+id || parts[0] == "farm" && parts[2] == id
}

// names are the paddocks as people say them.
func (p *plan) names() map[string]string {
	names := make(map[string]string, len(p.Views))
	for i := range p.Views {
		names[p.Views[i].Paddock.ID] = p.Views[i].Paddock.Name
	}
	return names
}
